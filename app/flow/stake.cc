#include "app/flow/stake.h"

#include <algorithm>
#include <ranges>

#include "app/flow/named_plot.h"
#include "app/flow/turn.h"

namespace ligule::flow {
namespace {

bool of_this_sitting(const Model& model, const Book& book, const StakeAnswer& answer) {
  return model.person && answer.person == model.person->id && answer.occasion == book.id &&
         answer.at.local_date == model.now.local_date;
}

bool was_asked(const Model& model, const Book& book, const std::string& plot) {
  return std::ranges::any_of(model.stakes, [&](const StakeAnswer& answer) {
    return of_this_sitting(model, book, answer) && (answer.asked == plot || answer.named == plot);
  });
}

const StakeAnswer* last_agreed(const Model& model, const Book& book) {
  const auto at = std::ranges::find_if(
      model.stakes.rbegin(), model.stakes.rend(), [&](const StakeAnswer& answer) {
        return answer.answered && of_this_sitting(model, book, answer);
      });
  return at == model.stakes.rend() ? nullptr : &*at;
}

// Whether this person gave the plot something since they last agreed about a stake.
bool given_since(const Model& model, const Book& book, const PlanPlot& plot,
                 const StakeAnswer* agreed) {
  const auto counts = [&](const Record& record) {
    if (record.purpose == Purpose::kRepeat) return false;
    if (!record.is_claim() || !model.person || record.person != model.person->id) return false;
    // A value that was moved here, or restored, was given before.
    if (record.reason == "slid" || record.reason == "taken_back") return false;
    return agreed == nullptr ? record.at.local_date == model.now.local_date
                             : record.at.utc >= agreed->at.utc;
  };
  const Uuid subject = plot_subject(model, book, plot);
  for (auto at = book.kept.lower_bound({subject, "", 0});
       at != book.kept.end() && at->first.subject == subject; ++at) {
    if (counts(at->second.record)) return true;
  }
  return std::ranges::any_of(model.pending, [&](const Act& act) {
    return act.occasion == book.id && act.plot == plot.number &&
           std::ranges::any_of(act.records, counts);
  });
}

template <class ScreenType>
auto* entering(ScreenType& screen) {
  using BookType = std::conditional_t<std::is_const_v<ScreenType>, const Book, Book>;
  BookType* book = nullptr;
  if (auto* const rating = std::get_if<Rating>(&screen)) {
    if (!std::holds_alternative<PadNote>(rating->pad)) book = &rating->book;
  } else if (auto* const harvest = std::get_if<Harvest>(&screen)) {
    if (std::holds_alternative<Weighing>(harvest->step)) book = &harvest->book;
  }
  return book == nullptr || book->plots.empty() ? nullptr : book;
}

void note_stake(const Turn& turn, const Book& book, const std::string& named, bool answered) {
  if (!turn.model.person) return;
  turn.model.stakes.push_back({turn.model.person->id, book.id, turn.at,
                               answered ? book.plots.at(book.present).number : std::string(), named,
                               answered});
}

}  // namespace

std::vector<std::size_t> stake_places(std::span<const PlanPlot> along_path, PathAlong along) {
  std::vector<std::size_t> places;
  for (std::size_t at = 0; at < along_path.size(); ++at) {
    const bool turn = at == 0 || !in_one_lane(along_path[at - 1], along_path[at], along) ||
                      along_path[at].block != along_path[at - 1].block;
    if (turn || at + 1 == along_path.size()) places.push_back(at);
  }
  return places;
}

Book* entry_book(Screen& screen) {
  return entering(screen);
}
const Book* entry_book(const Screen& screen) {
  return entering(screen);
}

bool stake_asked(const Model& model, const Book& book) {
  if (!model.person || book.plots.empty()) return false;
  if (book.looks.stake == book.present) return true;
  if (book.looks.look) return false;  // it was named: the path waits elsewhere
  const PlanPlot& plot = book.plots.at(book.present);
  const auto places = stake_places(book.plots, book.along);
  return std::ranges::find(places, book.present) != places.end() &&
         plot_state(model, book, plot) != PlotState::kDone && !was_asked(model, book, plot.number);
}

bool stake_in_the_way(const Model& model) {
  const Book* const book = entry_book(model.screen);
  return book != nullptr && (book->slipped || stake_asked(model, *book));
}

std::optional<Slipped> slipped(const Model& model, const Book& book, std::size_t named) {
  const int by = static_cast<int>(named) - static_cast<int>(book.present);
  if (by == 0 || by > kMostSlipped || by < -kMostSlipped) return std::nullopt;
  const StakeAnswer* const agreed = last_agreed(model, book);
  std::optional<Slipped> run;
  for (const PlanPlot& plot : book.plots) {
    if (!given_since(model, book, plot, agreed)) continue;
    if (!run) run = Slipped{plot.number, plot.number, by, book.plots.at(book.present).number};
    run->to = plot.number;
  }
  return run;
}

void went_to_stake(const Turn& turn, const Book& book, const std::string& plot) {
  note_stake(turn, book, plot, false);
}

void name_stake(Turn& turn, Book& book, const std::string& plot) {
  if (!stake_asked(turn.model, book)) return;
  const NamedPlot said = named_plot(turn.model, book, plot);
  const auto named = place_of(turn.model, book, said);
  if (!named) {
    book.stake.keypad.focus(Field::kPlot);  // the next digit begins another number
    tell_no_place(turn, book, said);
    return turn.run(Cue{CueKind::kRefused});
  }
  // Where the way led off the path, the stake says nothing of the values that were given on it.
  const bool on_path = !book.looks.look;
  // What a second person gave is not slid: a slide moves first values.
  if (!book.looks.rater && on_path) book.slipped = slipped(turn.model, book, *named);
  note_stake(turn, book, said.number, on_path);
  book.stake = {};
  book.looks.stake.reset();
  go_to(turn, book, *named);
}

void other_stake(const Turn& turn, Book& book, bool open) {
  if (!stake_asked(turn.model, book)) return;
  book.stake = {};
  book.stake.other = open;
}

}  // namespace ligule::flow
