// Where letters and digits go, from a pad, a keyboard or a scanner.
#include <chrono>
#include <cstdint>
#include <string>
#include <variant>

#include "app/flow/named_plot.h"
#include "app/flow/stake.h"
#include "app/flow/turn.h"
#include "app/flow/weighing.h"

namespace ligule::flow {
namespace {

// Whether a page of the plot being weighed has fields of its own.
bool types_aside(PlotPage page) {
  return page == PlotPage::kSwath || page == PlotPage::kWeeds;
}

// The texts that keys go to now; null where nothing is typed.
Keypad* active_keypad(Turn& turn) {
  return std::visit(
      Overloaded{
          [](SignIn& screen) { return &screen.keypad; },
          [](Rating& screen) {
            auto* const note = std::get_if<PadNote>(&screen.pad);
            return note == nullptr ? &screen.amount : &note->keypad;
          },
          [](Harvest& screen) {
            auto* const weighing = std::get_if<Weighing>(&screen.step);
            if (weighing != nullptr && weighing->checking) return &weighing->checking->keypad;
            if (weighing != nullptr && types_aside(weighing->page)) return &weighing->swath;
            return std::visit([](auto& step) { return &step.keypad; }, screen.step);
          },
          [](DryWeights& screen) { return screen.oven ? &screen.oven->keypad : &screen.keypad; },
          [](Sorting& screen) { return &screen.keypad; },
          [](Review& screen) {
            auto* const history = std::get_if<PlotHistory>(&screen.page);
            const bool open = history != nullptr && history->mending;
            return open ? &history->mending->keypad : nullptr;
          },
          [](auto&) { return static_cast<Keypad*>(nullptr); },
      },
      turn.model.screen);
}

// A scanner sends a stake within this time a letter; nobody types so fast.
constexpr std::chrono::milliseconds kScannedLetter{40};

bool was_scanned(const Turn& turn, const Rating& rating, const std::string& text) {
  const auto taken = turn.at.utc - rating.typed_from;
  return text.size() > 1 && taken <= kScannedLetter * static_cast<std::int64_t>(text.size());
}

bool is_value(const Turn& turn, const Rating& rating, const std::string& text) {
  const Book& book = rating.book;
  if (rating.focus.empty()) return false;
  const Scale* const scale =
      scale_of(turn.model, trial_of(turn.model, book), book.plots.at(book.present), rating.focus);
  return scale != nullptr && read_entered(*scale, text, "").has_value();
}

// Typed on the card and ended with Enter: a stake that was scanned, else a value of the open
// measure, else a stake. Plots may be numbered like percents, so how fast it came decides what a
// number is.
void card_done(Turn& turn, Rating& rating) {
  const std::string text = rating.amount.text(Field::kAmount);
  if (text.empty() || rating.book.plots.empty()) return;
  const NamedPlot named = named_plot(turn.model, rating.book, text);
  const auto place = place_of(turn.model, rating.book, named);
  if (place && (was_scanned(turn, rating, text) || !is_value(turn, rating, text))) {
    rating.amount.clear(Field::kAmount);
    return go_to(turn, rating.book, *place);
  }
  if (rating.focus.empty() || !named.trial.empty()) {
    rating.amount.clear(Field::kAmount);
    tell_no_place(turn, rating.book, named);
    return turn.run(Cue{CueKind::kRefused});
  }
  keep_amount(turn, rating);
}

bool on_card(const Rating* rating) {
  return rating != nullptr && !std::holds_alternative<PadNote>(rating->pad);
}

// The book whose stake question, or what came of it, stands where values are entered.
Book* asking_book(Turn& turn) {
  return stake_in_the_way(turn.model) ? entry_book(turn.model.screen) : nullptr;
}

// A phrase of a note goes in as one piece and is taken out as one: where "[code] " ends the text.
bool erase_phrase(Keypad& keypad) {
  const std::string& text = keypad.text(Field::kNote);
  const std::size_t open = text.rfind('[');
  if (open == std::string::npos) return false;
  const std::size_t close = text.find(']', open);
  if (close == std::string::npos || text.size() - close > 2) return false;
  if (close + 1 < text.size() && text.back() != ' ') return false;
  const std::string before = text.substr(0, open);
  keypad.set(Field::kNote, before);
  keypad.go_on();
  return true;
}

// What stands in a field of the form when nobody types there.
std::string standing_in(const Turn& turn, const Harvest& harvest, const Weighing& weighing,
                        Field field) {
  const PlanPlot& plot = present_plot(harvest);
  for (const FormLine& line : kForm) {
    if (line.field != field) continue;
    const Cell cell = line_cell(turn.model, harvest.book, plot, line, weighing.bag);
    if (cell.claim && !cell.open()) return cell.claim->record.entered;
  }
  if (field == Field::kTare) return harvest.tare;
  return field == Field::kBag ? weighing.offered_bag : std::string();
}

// A stake that is scanned while the field of a weight or a bag is open: no weight has letters, no
// bag a stroke. What came into the field of it is taken out again. False: it is no stake.
bool stake_instead(Turn& turn, const std::string& piece) {
  auto* const harvest = on<Harvest>(turn);
  Weighing* const weighing = harvest == nullptr ? nullptr : weighing_on(turn);
  if (weighing == nullptr || weighing->checking || types_aside(weighing->page)) return false;
  Keypad& keypad = weighing->keypad;
  const Field field = keypad.active();
  if (field == Field::kPlot) return false;
  const std::string whole = keypad.begins() ? piece : keypad.text(field) + piece;
  const bool all = begins_stake(turn.model, whole);
  if (!all && !begins_stake(turn.model, piece)) return false;
  if (all) keypad.set(field, standing_in(turn, *harvest, *weighing, field));
  keypad.clear(Field::kPlot);
  keypad.focus(Field::kPlot);
  return keypad.type(all ? whole : piece);
}

bool belongs(const Turn& turn, Field field) {
  if (const auto* const harvest = std::get_if<Harvest>(&turn.model.screen)) {
    const bool head =
        field == Field::kMachine || field == Field::kCutWidth || field == Field::kStubble;
    const auto* const weighing = std::get_if<Weighing>(&harvest->step);
    if (weighing != nullptr && weighing->checking)
      return field == Field::kCheckMass || field == Field::kCheckAllowance ||
             field == Field::kGross;
    if (weighing != nullptr && weighing->page == PlotPage::kSwath)
      return field == Field::kSwathLength || field == Field::kSwathWidth;
    if (weighing != nullptr && weighing->page == PlotPage::kWeeds)
      return field == Field::kWeedsByEye;
    const bool form = field == Field::kPlot || field == Field::kGross || field == Field::kTare ||
                      field == Field::kBag || field == Field::kSampleFresh;
    return std::holds_alternative<RunHead>(harvest->step) ? head : form;
  }
  if (const auto* const sorting = std::get_if<Sorting>(&turn.model.screen)) {
    if (sorting->plot.empty()) return field == Field::kSortPlot;
    if (!sorting->part) return false;
    if (*sorting->part == 0) return field == Field::kSortWhole;
    return field == Field::kSortBag || field == Field::kSortFresh;
  }
  const auto* const dry = std::get_if<DryWeights>(&turn.model.screen);
  if (dry == nullptr) return false;
  if (dry->oven) return field == Field::kOvenCelsius || field == Field::kOvenHours;
  return field == Field::kDryBag || field == Field::kDryFresh || field == Field::kDryWeight;
}

}  // namespace

void key_text(Turn& turn, const KeyText& intent) {
  if (Book* const book = asking_book(turn)) {
    if (book->slipped) return;
    if (book->stake.keypad.type(intent.text)) book->stake.other = true;
    return;
  }
  Keypad* const keypad = active_keypad(turn);
  if (keypad == nullptr || intent.text.empty()) return;
  if (auto* const rating = on<Rating>(turn); on_card(rating) && keypad->begins()) {
    rating->typed_from = turn.at.utc;
  }
  // A phrase stands apart from the word before it.
  const std::string& note = keypad->text(Field::kNote);
  const bool sticks = keypad->active() == Field::kNote && intent.text.starts_with('[') &&
                      !note.empty() && note.back() != ' ';
  if (!keypad->type(sticks ? " " + intent.text : intent.text)) {
    if (stake_instead(turn, intent.text)) return;
    // Whoever types or scans without looking must not believe that it stands there.
    turn.notice("notice.not_taken", {intent.text});
    return turn.run(Cue{CueKind::kRefused});
  }
  if (auto* const harvest = on<Harvest>(turn); harvest != nullptr) {
    auto* const weighing = std::get_if<Weighing>(&harvest->step);
    if (weighing != nullptr && keypad->active() == Field::kGross) weighing->by_hand = true;
  }
  auto* const dry = on<DryWeights>(turn);
  // Another number is another bag: the weight being typed belongs to neither.
  if (dry != nullptr && keypad->active() == Field::kDryBag) dry->chosen.reset();
}

void key_erase(Turn& turn) {
  if (Book* const book = asking_book(turn)) {
    book->stake.keypad.erase();
    return;
  }
  auto* const rating = on<Rating>(turn);
  if (on_card(rating)) return erase_amount(turn, *rating);
  Keypad* const keypad = active_keypad(turn);
  if (keypad == nullptr) return;
  if (keypad->active() == Field::kNote && erase_phrase(*keypad)) return;
  keypad->erase();
  auto* const dry = on<DryWeights>(turn);
  if (dry != nullptr && keypad->active() == Field::kDryBag) dry->chosen.reset();
}

void key_done(Turn& turn) {
  if (Book* const book = asking_book(turn)) {
    // Without a number Enter says nothing: the stake is to be looked at.
    const std::string typed = book->stake.keypad.text(Field::kPlot);
    if (!typed.empty()) name_stake(turn, *book, typed);
    return;
  }
  if (const auto* const screen = on<SignIn>(turn)) {
    const std::string typed = screen->keypad.text(Field::kInitials);
    return sign_in(turn, typed);
  }
  if (auto* const rating = on<Rating>(turn)) {
    if (std::holds_alternative<PadNote>(rating->pad)) return keep_note(turn, *rating);
    return card_done(turn, *rating);
  }
  if (auto* const harvest = on<Harvest>(turn)) return harvest_done(turn, *harvest);
  if (auto* const dry = on<DryWeights>(turn)) return dry_done(turn, *dry);
  if (auto* const sorting = on<Sorting>(turn)) return sort_done(turn, *sorting);
}

void focus_field(Turn& turn, Field field) {
  if (Book* const book = asking_book(turn)) {
    if (field == Field::kPlot) other_stake(turn, *book, true);
    return;
  }
  if (!belongs(turn, field)) return;
  active_keypad(turn)->focus(field);
  auto* const dry = on<DryWeights>(turn);
  if (dry != nullptr && (field == Field::kDryFresh || field == Field::kDryWeight))
    dry->weighing = field;
}

}  // namespace ligule::flow
