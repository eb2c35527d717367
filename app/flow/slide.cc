#include "app/flow/slide.h"

#include <algorithm>
#include <array>
#include <utility>

#include "app/flow/progress.h"
#include "app/flow/turn.h"
#include "storage/trial/details.h"

namespace ligule::flow {
namespace {

constexpr std::string_view kSlid = "slid";  // reason; written to disk: never change

bool is_bag_value(const Model& model, std::string_view measure) {
  const Measure* const known = model.setup.definitions.measure(measure);
  return known != nullptr && known->subject == Subject::kBag;
}

const HeldKey& bag_key() {
  static const HeldKey key{std::string(measure::kBagNumber), 1};
  return key;
}

// Which bag a claim numbers, as HeldKey::bag has it: 0 the sample bag, else a part's; nothing: it
// numbers none.
std::optional<int> bag_numbered(const HeldKey& key) {
  if (key == bag_key()) return 0;
  return key.measure == measure::kPartBag ? std::optional(key.part) : std::nullopt;
}

// Whether it belongs to a sample that is sorted by hand: that moves whole, or not at all.
bool of_sorted_sample(const HeldKey& key) {
  return key.measure == measure::kSeparatedFresh || key.measure == measure::kPartBag || key.bag > 0;
}

// Everything of one subject that stands, by measure and part.
void take_subject(const Model& model, const Book& book, Uuid subject, Holding& holding,
                  int bag = 0) {
  const auto take = [&](const Slot& slot) {
    if (slot.subject != subject) return;
    const Cell cell = cell_at(model, book, slot);
    if (cell.claim) holding.insert_or_assign(HeldKey{slot.measure, slot.part, bag}, *cell.claim);
  };
  for (auto at = book.kept.lower_bound({subject, "", 0});
       at != book.kept.end() && at->first.subject == subject; ++at) {
    take(at->first);
  }
  const auto take_all = [&](const std::vector<Act>& acts) {
    for (const Act& act : acts) {
      if (act.occasion != book.id) continue;
      for (const Record& record : act.records) {
        if (record.subject) take(slot_of(record));
      }
    }
  };
  take_all(model.pending);
  if (model.unsaved) take_all(model.unsaved->acts);
}

struct Places {
  std::size_t first = 0;
  std::size_t last = 0;
};

std::optional<Places> places_of(const Book& book, const SlideRun& run) {
  const auto from = place_of(book, run.from);
  const auto to = place_of(book, run.to);
  if (!from || !to) return std::nullopt;
  return Places{std::min(*from, *to), std::max(*from, *to)};
}

bool within(const Places& run, std::size_t place) {
  return place >= run.first && place <= run.last;
}

// Where a place's values go; empty: the path ends before.
std::optional<std::size_t> moved_to(const Book& book, std::size_t place, int by) {
  const auto to = static_cast<std::ptrdiff_t>(place) + by;
  if (to < 0 || to >= static_cast<std::ptrdiff_t>(book.plots.size())) return std::nullopt;
  return static_cast<std::size_t>(to);
}

// Whether a plot can have what another one holds: the same scale, so that the number means the
// same.
bool can_have(const Model& model, const Book& book, const PlanPlot& from, const PlanPlot& to,
              const std::string& measure) {
  const KnownTrial& trial = trial_of(model, book);
  const Scale* const here = scale_of(model, trial, from, measure);
  const Scale* const there = scale_of(model, trial, to, measure);
  if (here == nullptr || there == nullptr) return here == there;
  return here->code == there->code;
}

int free_part(const Holding& holding, const std::string& measure) {
  int part = 0;
  for (const auto& [key, claim] : holding) {
    if (key.measure == measure) part = std::max(part, key.part);
  }
  return part + 1;
}

class Planner {
 public:
  Planner(const Model& model, const Book& book, const Places& run, int by)
      : model_(model), book_(book), run_(run), by_(by) {}

  SlidePlan plan() {
    take_holdings();
    for (std::size_t place = run_.first; place <= run_.last; ++place) move(place);
    for (auto& [place, holding] : after_) {
      const std::string& number = book_.plots.at(place).number;
      plan_.before.push_back({number, before_.at(place)});
      plan_.after.push_back({number, std::move(holding)});
    }
    if (plan_.moved == 0 && plan_.lost.empty() && !plan_.problem) refuse(SlideRefusal::kNothing);
    return std::move(plan_);
  }

 private:
  void refuse(SlideRefusal why, const std::string& plot = {}, const std::string& measure = {}) {
    if (!plan_.problem) plan_.problem = SlideProblem{why, plot, measure};
  }

  // Plots of the run are emptied first; those it comes to keep what they have until it is replaced.
  void take_holdings() {
    for (std::size_t place = run_.first; place <= run_.last; ++place) {
      before_[place] = holding_of(model_, book_, book_.plots.at(place));
      after_[place];
    }
    for (std::size_t place = run_.first; place <= run_.last; ++place) {
      const auto to = moved_to(book_, place, by_);
      if (!to || within(run_, *to)) continue;
      before_[*to] = holding_of(model_, book_, book_.plots.at(*to));
      after_[*to] = before_[*to];
    }
  }

  void move(std::size_t place) {
    const Holding& holding = before_.at(place);
    const PlanPlot& plot = book_.plots.at(place);
    for (const auto& [key, claim] : holding) {
      if (claim.others > 0) refuse(SlideRefusal::kConflict, plot.number);
    }
    if (book_.occasion.sample_of != SampleOf::kPlot && holding.contains(bag_key()))
      refuse(SlideRefusal::kComposite, plot.number);
    const auto to = moved_to(book_, place, by_);
    if (!to) {
      for (const auto& [key, claim] : holding) {
        plan_.lost.push_back({plot.number, key, claim, true});
      }
      return;
    }
    // Another plot's bag that is taken over goes whole: its weights belong to it.
    if (!within(run_, *to) && holding.contains(bag_key()))
      drop(*to, [this](const HeldKey& key) {
        return key == bag_key() || (key.bag == 0 && is_bag_value(model_, key.measure));
      });
    const bool sorted =
        std::ranges::any_of(holding, [](const auto& each) { return of_sorted_sample(each.first); });
    if (!within(run_, *to) && sorted) drop(*to, of_sorted_sample);
    if (!within(run_, *to)) drop_parts(*to, holding);
    for (const auto& [key, claim] : holding) put(plot, *to, key, claim);
  }

  // Parts of a measure belong together: visits of two plots would make a date that is neither's.
  void drop_parts(std::size_t place, const Holding& comes) {
    std::vector<HeldKey> gone;
    for (const auto& [key, claim] : after_.at(place)) {
      const bool replaced = std::ranges::any_of(comes, [&](const auto& each) {
        return each.first.measure == key.measure && each.first.bag == key.bag;
      });
      if (replaced && key.measure != measure::kNote) gone.push_back(key);
    }
    for (const HeldKey& key : gone) lose(place, key);
  }

  template <class Belongs>
  void drop(std::size_t place, const Belongs& belongs) {
    std::vector<HeldKey> gone;
    for (const auto& [key, claim] : after_.at(place)) {
      if (belongs(key)) gone.push_back(key);
    }
    for (const HeldKey& key : gone) lose(place, key);
  }

  // What stands on a plot outside the run and is replaced.
  void lose(std::size_t place, const HeldKey& key) {
    const std::string& plot = book_.plots.at(place).number;
    const auto at = after_.at(place).find(key);
    if (at == after_.at(place).end()) return;
    if (at->second.others > 0) refuse(SlideRefusal::kConflict, plot);
    // Nothing is lost with a mark that only says there is no value.
    if (at->second.record.state != ValueState::kLater) {
      plan_.lost.push_back({plot, key, at->second, false});
    }
    after_.at(place).erase(at);
  }

  void put(const PlanPlot& from, std::size_t place, HeldKey key, const KnownClaim& claim) {
    const PlanPlot& to = book_.plots.at(place);
    if (!can_have(model_, book_, from, to, key.measure)) {
      refuse(SlideRefusal::kNotMeasured, to.number, key.measure);
    }
    if (!within(run_, place)) {
      if (key.measure == measure::kNote)
        key.part = free_part(after_.at(place), key.measure);  // a note stands beside others
      else
        lose(place, key);
    }
    after_.at(place).insert_or_assign(key, claim);
    ++plan_.moved;
  }

  const Model& model_;
  const Book& book_;
  Places run_;
  int by_;
  std::map<std::size_t, Holding> before_;
  std::map<std::size_t, Holding> after_;
  SlidePlan plan_;
};

// --- records

// Another plot's value restated here by this person now. Whether it was given blind, how it came in
// and what was answered stay with it: nobody judged anew.
Record moved_record(const Turn& turn, const KnownClaim& claim, const Slot& slot,
                    const std::optional<KnownClaim>& standing, std::string_view reason) {
  Record record = restated(turn, claim.record, standing ? kind::kCorrection : kind::kReading);
  record.subject = slot.subject;
  record.part = slot.part;
  record.targets.clear();
  if (standing) record.targets = {standing->record.id};
  record.reason = reason;
  // Cells of a frame and how a scale was read go with the value; what it was moved from before does
  // not.
  Details details{{"moved_from", claim.record.id.text()}};
  if (const auto known = parse_details(claim.record.details))
    details.insert(known->begin(), known->end());
  record.details = details_text(details);
  return record;
}

// Makes a plot hold what is wanted instead of what stands on it.
class Writer {
 public:
  Writer(Turn& turn, const Book& book, std::string_view reason, Act& act)
      : turn_(turn), book_(book), reason_(reason), act_(act) {}

  void write(const PlanPlot& plot, const Holding& now, const Holding& wanted) {
    const Uuid plot_uuid = plot_subject(turn_.model, book_, plot);
    // Bags first: their weights name the readings that began them.
    std::map<int, Uuid> bags;
    const std::vector<HeldKey> keys = keys_of(now, wanted);
    for (const HeldKey& key : keys) {
      const auto which = bag_numbered(key);
      if (!which) continue;
      const auto stands = now.find(key);
      if (stands != now.end()) bags.emplace(*which, stands->second.first.uuid);
      if (const auto made = write_slot(now, wanted, key, plot_uuid))
        bags.emplace(*which, made->uuid);
    }
    for (const HeldKey& key : keys) {
      if (bag_numbered(key)) continue;
      const auto bag = bags.find(key.bag);
      if (!is_bag_value(turn_.model, key.measure))
        write_slot(now, wanted, key, plot_uuid);
      else if (bag != bags.end())
        write_slot(now, wanted, key, bag->second);
    }
  }

 private:
  static std::vector<HeldKey> keys_of(const Holding& now, const Holding& wanted) {
    std::vector<HeldKey> keys;
    for (const auto& [key, claim] : now) keys.push_back(key);
    for (const auto& [key, claim] : wanted) {
      if (!now.contains(key)) keys.push_back(key);
    }
    return keys;
  }

  std::optional<RecordId> write_slot(const Holding& now, const Holding& wanted, const HeldKey& key,
                                     Uuid subject) {
    const auto stands = now.find(key);
    const auto comes = wanted.find(key);
    std::optional<KnownClaim> standing;
    if (stands != now.end()) standing = stands->second;
    Record record;
    if (comes != wanted.end()) {
      if (standing && standing->record.id == comes->second.record.id) return std::nullopt;
      record =
          moved_record(turn_, comes->second, {subject, key.measure, key.part}, standing, reason_);
    } else {
      record = take_back_record(turn_, stands->second, std::nullopt);
      record.reason = reason_;
      record.details.clear();
    }
    const RecordId id = record.id;
    act_.records.push_back(std::move(record));
    act_.before.push_back(std::move(standing));
    return id;
  }

  Turn& turn_;
  const Book& book_;
  std::string_view reason_;
  Act& act_;
};

Act act_about(const Model& model, const Book& book, ActKind kind, const std::string& plot) {
  Act act;
  act.kind = kind;
  act.trial = trial_of(model, book).plan.id();
  act.occasion = book.id;
  act.plot = plot;
  return act;
}

}  // namespace

Holding holding_of(const Model& model, const Book& book, const PlanPlot& plot) {
  Holding holding;
  take_subject(model, book, plot_subject(model, book, plot), holding);
  std::map<int, Uuid> bags;
  for (const auto& [key, claim] : holding) {
    const auto which = bag_numbered(key);
    if (which && claim.record.state != ValueState::kLater) bags.emplace(*which, claim.first.uuid);
  }
  for (const auto& [which, subject] : bags) take_subject(model, book, subject, holding, which);
  return holding;
}

SlidePlan plan_slide(const Model& model, const Book& book, const SlideRun& run) {
  const auto places = places_of(book, run);
  if (!places || run.by == 0) return {};
  return Planner(model, book, *places, run.by).plan();
}

Act slide_act(Turn& turn, const Book& book, const SlideRun& run) {
  SlidePlan plan = plan_slide(turn.model, book, run);
  Act act = act_about(turn.model, book, ActKind::kSlide, run.from);
  if (plan.problem) return act;
  Writer writer(turn, book, kSlid, act);
  for (std::size_t n = 0; n < plan.before.size(); ++n) {
    const auto place = place_of(book, plan.before[n].plot);
    if (place) writer.write(book.plots.at(*place), plan.before[n].held, plan.after[n].held);
  }
  act.slide = run;
  act.restores = std::move(plan.before);
  return act;
}

Act unslide_act(Turn& turn, const Book& book, const Act& slide) {
  Act act = act_about(turn.model, book, ActKind::kTakeBack, slide.plot);
  Writer writer(turn, book, "taken_back", act);
  for (const PlotHolding& was : slide.restores) {
    const auto place = place_of(book, was.plot);
    if (!place) continue;
    const PlanPlot& plot = book.plots.at(*place);
    writer.write(plot, holding_of(turn.model, book, plot), was.held);
  }
  return act;
}

}  // namespace ligule::flow
