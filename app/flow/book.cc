#include "app/flow/book.h"

#include <algorithm>
#include <set>
#include <utility>

#include "app/flow/progress.h"
#include "app/flow/turn.h"
#include "storage/trial/details.h"
#include "storage/trial/first_said.h"
#include "storage/trial/said.h"
#include "storage/trial/sample_bag.h"

namespace ligule::flow {
namespace {

// When a weight hung on the scale that a record only restates: as long as the claim it replaces
// did, or the one before that where it brings that one back.
std::optional<Stamp> weighed_before(const Record& record, const KnownClaim& claim) {
  if (record.measure != measure::kGrossWeight || !only_restates(record)) return std::nullopt;
  const bool back = record.reason == "taken_back" && !says_the_same(record, claim.record);
  if (back) return claim.before ? std::optional(claim.before->at) : std::nullopt;
  return claim.weighed.value_or(claim.record.at);
}

// The claim of a slot after one more record about it.
void lay_over(std::optional<KnownClaim>& claim, const Record& record) {
  if (record.kind == kind::kWithdrawal) {
    claim.reset();
    return;
  }
  if (!record.is_claim()) return;
  KnownClaim next{record, std::nullopt, record.id, 0};
  if (record.replaces() && claim) {
    next.weighed = weighed_before(record, *claim);
    // Put off is not given.
    if (claim->record.state != ValueState::kLater)
      next.given = claim->given.value_or(claim->record.at);
    next.before = std::move(claim->record);
    next.first = claim->first;
  }
  claim = std::move(next);
}

// An act may speak of several cuttings, of which one plot has a weight each.
bool is_of(const Record& record, const Act& act, const Book& book) {
  return record.subject && (record.occasion ? record.occasion : act.occasion) == book.id;
}

// Whether the book holds it among what stands of that purpose. Of a second person only their own.
bool is_as(const Record& record, const Book& book, Purpose purpose) {
  return record.purpose.value_or(Purpose::kSurvey) == purpose &&
         (purpose != Purpose::kSecond || record.person == book.looks.rater);
}

const std::map<Slot, KnownClaim>& kept_as(const Book& book, Purpose purpose) {
  return purpose == Purpose::kRepeat ? book.looks.repeats : book.kept;
}

// Acts that the ledger does not hold yet, oldest first.
template <class See>
void each_act(const Model& model, const See& see) {
  for (const Act& act : model.pending) see(act, Durability::kSaving);
  if (!model.unsaved) return;
  for (const Act& act : model.unsaved->acts) see(act, Durability::kNotSaved);
}

template <class ScreenType>
auto* find_book(ScreenType& screen) {
  using BookType = std::conditional_t<std::is_const_v<ScreenType>, const Book, Book>;
  if (auto* rating = std::get_if<Rating>(&screen)) return static_cast<BookType*>(&rating->book);
  if (auto* harvest = std::get_if<Harvest>(&screen)) return static_cast<BookType*>(&harvest->book);
  if (auto* sorting = std::get_if<Sorting>(&screen)) return static_cast<BookType*>(&sorting->book);
  if (auto* review = std::get_if<Review>(&screen)) return static_cast<BookType*>(&review->book);
  return static_cast<BookType*>(nullptr);
}

Cell visit_cell(const Model& model, const Book& book, const Uuid& subject,
                std::string_view measure) {
  Cell last;
  for (const int part : parts_of(model, book, subject, measure)) {
    last = cell_at(model, book, {subject, std::string(measure), part});
    if (!last.open()) return last;
  }
  return last;
}

}  // namespace

Slot slot_of(const Record& record) {
  return {record.subject.value_or(Uuid{}), record.measure, record.part};
}

const KnownTrial& trial_of(const Model& model, const Book& book) {
  return model.trials.at(book.trial);
}

Uuid plot_subject(const Model& model, const Book& book, const PlanPlot& plot) {
  return plot_id_in(trial_of(model, book), plot).uuid;
}

Purpose purpose_at(const Book& book, const Uuid& subject) {
  if (book.looks.look && book.looks.look->subject == subject) return Purpose::kRepeat;
  return book.looks.rater ? Purpose::kSecond : Purpose::kSurvey;
}

Cell cell_at(const Model& model, const Book& book, const Slot& slot) {
  return cell_as(model, book, slot, purpose_at(book, slot.subject));
}

Cell cell_as(const Model& model, const Book& book, const Slot& slot, Purpose purpose) {
  Cell cell;
  const std::map<Slot, KnownClaim>& kept = kept_as(book, purpose);
  if (const auto at = kept.find(slot); at != kept.end()) cell.claim = at->second;
  each_act(model, [&](const Act& act, Durability durability) {
    for (const Record& record : act.records) {
      if (!is_of(record, act, book) || slot_of(record) != slot) continue;
      if (!is_as(record, book, purpose)) continue;
      lay_over(cell.claim, record);
      cell.durability = durability;
    }
  });
  return cell;
}

const KnownClaim* claim_at(const Model& model, const Book& book, const Slot& slot,
                           std::optional<KnownClaim>& under_way) {
  bool spoken_of = false;
  each_act(model, [&](const Act& act, Durability) {
    spoken_of = spoken_of || std::ranges::any_of(act.records, [&](const Record& record) {
                  return record.subject == slot.subject && record.measure == slot.measure;
                });
  });
  if (spoken_of) {
    under_way = cell_at(model, book, slot).claim;
    return under_way ? &*under_way : nullptr;
  }
  const std::map<Slot, KnownClaim>& kept = kept_as(book, purpose_at(book, slot.subject));
  const auto at = kept.find(slot);
  return at == kept.end() ? nullptr : &at->second;
}

std::optional<Kilograms> mass_at(const Model& model, const Book& book, const Slot& slot) {
  std::optional<KnownClaim> under_way;
  const KnownClaim* const claim = claim_at(model, book, slot, under_way);
  return claim != nullptr && claim->record.state == ValueState::kValue
             ? said::mass_of(claim->record)
             : std::nullopt;
}

Cell cell_of(const Model& model, const Book& book, const PlanPlot& plot, std::string_view measure) {
  const Scale* const scale = scale_of(model, trial_of(model, book), plot, measure);
  if (scale != nullptr && scale->kind == ScaleKind::kReached)
    return visit_cell(model, book, plot_subject(model, book, plot), measure);
  const Uuid subject = plot_subject(model, book, plot);
  Cell cell = cell_at(model, book, {subject, std::string(measure), 1});
  if (cell.claim || measure != measure::kGrossWeight) return cell;
  // Of several bags the first may have been taken back.
  const std::vector<int> parts = parts_of(model, book, subject, measure);
  return parts.empty() ? cell
                       : cell_at(model, book, {subject, std::string(measure), parts.front()});
}

const Scale* scale_of(const Model& model, const KnownTrial& trial, const PlanPlot& plot,
                      std::string_view measure) {
  const PlanEntry* entry = entry_of(trial, plot);
  if (entry == nullptr) entry = trial.plan.find_entry(plot.entry);
  return scale_in(trial, model.setup.definitions, measure, entry == nullptr ? "" : entry->species);
}

const Limit* limit_of(const Model& model, const KnownTrial& trial, const PlanPlot& plot,
                      std::string_view measure) {
  const PlanEntry* entry = entry_of(trial, plot);
  if (entry == nullptr) entry = trial.plan.find_entry(plot.entry);
  return model.setup.definitions.limit_for(measure, entry == nullptr ? "" : entry->species);
}

std::string unit_of(const Setup& setup, std::string_view measure, const Scale& scale) {
  const auto chosen = setup.units.find(std::string(measure));
  if (chosen != setup.units.end() &&
      std::ranges::find(scale.units, chosen->second) != scale.units.end()) {
    return chosen->second;
  }
  return scale.units.empty() ? std::string() : scale.units.front();
}

std::string unit_for(const Setup& setup, std::string_view measure, const Scale& scale,
                     const Cell& cell) {
  if (cell.claim && !cell.open()) {
    const std::string& unit = cell.claim->record.unit;
    if (std::ranges::find(scale.units, unit) != scale.units.end()) return unit;
  }
  return unit_of(setup, measure, scale);
}

bool bag_is_due(const Model& model, const Book& book, const PlanPlot& plot) {
  if (book.occasion.job != Job::kHarvest) return false;
  const Cell gross = cell_of(model, book, plot, measure::kGrossWeight);
  const Cell bag = cell_of(model, book, plot, measure::kBagNumber);
  return wants_bag(trial_of(model, book), book.occasion, plot, model.setup.definitions,
                   gross.claim ? &gross.claim->record : nullptr) &&
         !bag.claim;
}

RecordId bag_subject(const KnownClaim& number) {
  const auto same = parse_uuid(detail(number.record.details, std::string(sample_bag::kSameBag)));
  return same ? RecordId{*same} : number.first;
}

PlotState plot_state(const Model& model, const Book& book, const PlanPlot& plot) {
  bool put_off = false;
  for (const std::string& measure :
       needed_of(trial_of(model, book), book.occasion, plot, model.setup.definitions)) {
    const Cell cell = cell_of(model, book, plot, measure);
    if (!cell.claim) return PlotState::kOpen;
    put_off = put_off || cell.open();
  }
  if (bag_is_due(model, book, plot)) return PlotState::kOpen;
  return put_off ? PlotState::kLater : PlotState::kDone;
}

std::string next_measure(const Model& model, const Book& book, const PlanPlot& plot) {
  std::string put_off;
  for (std::string& measure :
       needed_of(trial_of(model, book), book.occasion, plot, model.setup.definitions)) {
    const Cell cell = cell_of(model, book, plot, measure);
    if (!cell.claim) return std::move(measure);
    if (cell.open() && put_off.empty()) put_off = std::move(measure);
  }
  return put_off;
}

std::optional<std::size_t> next_open(const Model& model, const Book& book, std::size_t from) {
  std::optional<std::size_t> put_off;
  for (std::size_t step = 1; step <= book.plots.size(); ++step) {
    const std::size_t at = (from + step) % book.plots.size();
    const PlotState state = plot_state(model, book, book.plots[at]);
    if (state == PlotState::kOpen) return at;
    if (state == PlotState::kLater && !put_off) put_off = at;
  }
  return put_off;
}

std::optional<std::size_t> place_of(const Book& book, std::string_view plot) {
  const auto at = std::ranges::find(book.plots, plot, &PlanPlot::number);
  if (at == book.plots.end()) return std::nullopt;
  return static_cast<std::size_t>(at - book.plots.begin());
}

std::optional<Slot> slot_on(const Model& model, const Book& book, const PlanPlot& plot,
                            std::string_view measure) {
  const Measure* const known = model.setup.definitions.measure(measure);
  if (known == nullptr || known->subject == Subject::kPlot) {
    return Slot{plot_subject(model, book, plot), std::string(measure), 1};
  }
  const Cell bag = cell_of(model, book, plot, measure::kBagNumber);
  if (!bag.claim || bag.open()) return std::nullopt;
  return Slot{bag_subject(*bag.claim).uuid, std::string(measure), 1};
}

std::vector<int> parts_of(const Model& model, const Book& book, const Uuid& subject,
                          std::string_view measure) {
  std::vector<int> parts;
  const Slot first{subject, std::string(measure), 0};
  const Purpose purpose = purpose_at(book, subject);
  const std::map<Slot, KnownClaim>& kept = kept_as(book, purpose);
  for (auto at = kept.lower_bound(first);
       at != kept.end() && at->first.subject == subject && at->first.measure == measure; ++at)
    parts.push_back(at->first.part);
  std::set<int> spoken_of;
  each_act(model, [&](const Act& act, Durability) {
    for (const Record& record : act.records)
      if (record.subject == subject && record.measure == measure && is_of(record, act, book) &&
          is_as(record, book, purpose))
        spoken_of.insert(record.part);
  });
  for (const int part : spoken_of) {
    std::erase(parts, part);
    if (cell_at(model, book, {subject, first.measure, part}).claim)
      parts.insert(std::ranges::upper_bound(parts, part), part);
  }
  return parts;
}

std::vector<int> note_parts(const Model& model, const Book& book, const PlanPlot& plot) {
  return parts_of(model, book, plot_subject(model, book, plot), measure::kNote);
}

bool can_enter(const Model& model) {
  return model.person && !model.unsaved && !model.asking && model.pending.size() < kMostPending;
}

bool names_shown(const Model& model, OccasionId occasion) {
  return model.person && model.names_shown.contains({model.person->id, occasion});
}

Book* book_of(Screen& screen) {
  return find_book(screen);
}
const Book* book_of(const Screen& screen) {
  return find_book(screen);
}

const KnownTrial* trial_with(const Model& model, TrialId id) {
  const auto at = std::ranges::find_if(
      model.trials, [&](const KnownTrial& trial) { return trial.plan.id() == id; });
  return at == model.trials.end() ? nullptr : &*at;
}

std::vector<PlanPlot> walked(const Model& model, const Book& book) {
  const KnownTrial& trial = trial_of(model, book);
  std::vector<PlanPlot> plots = plots_on(trial, model.now.local_date);
  std::set<Uuid> spoken_of;
  for (const auto& [slot, claim] : book.kept) spoken_of.insert(slot.subject);
  // A plot without any measure of this occasion (another species in a mixed trial, an entry that is
  // not cut this time) is walked past, unless something was recorded on it all the same.
  std::erase_if(plots, [&](const PlanPlot& plot) {
    return needed_of(trial, book.occasion, plot, model.setup.definitions).empty() &&
           !spoken_of.contains(plot_id_in(trial, plot).uuid);
  });
  return plots;
}

std::optional<Book> open_book(const Model& model, const OccasionLoaded& loaded) {
  const auto at = std::ranges::find_if(
      model.trials, [&](const KnownTrial& trial) { return trial.plan.id() == loaded.trial; });
  if (at == model.trials.end()) return std::nullopt;
  const PlanOccasion* const occasion = at->plan.find_occasion(loaded.occasion);
  if (occasion == nullptr) return std::nullopt;
  Book book;
  book.trial = static_cast<std::size_t>(at - model.trials.begin());
  book.occasion = *occasion;
  book.id = loaded.occasion;
  for (const KnownClaim& claim : loaded.claims) {
    if (claim.record.subject) book.kept.emplace(slot_of(claim.record), claim);
  }
  for (const KnownClaim& claim : loaded.again) {
    if (claim.record.subject && claim.record.purpose == Purpose::kRepeat)
      book.looks.repeats.emplace(slot_of(claim.record), claim);
  }
  book.past = {loaded.before, loaded.last_cut, loaded.earlier};
  book.along = path_along(at->plan.along_path());
  book.plots = walked(model, book);
  return book;
}

std::vector<Elsewhere> open_elsewhere(const Model& model, std::vector<CuttingWeighed> loaded) {
  std::vector<Elsewhere> elsewhere;
  for (CuttingWeighed& cutting : loaded) {
    OccasionLoaded weights;
    weights.trial = cutting.trial;
    weights.occasion = cutting.occasion;
    weights.claims = std::move(cutting.claims);
    if (auto book = open_book(model, weights))
      elsewhere.push_back({*std::move(book), std::move(cutting.runs)});
  }
  return elsewhere;
}

const Book* book_with(const Screen& screen, OccasionId occasion) {
  const Book* const book = book_of(screen);
  if (book != nullptr && book->id == occasion) return book;
  const auto* const harvest = std::get_if<Harvest>(&screen);
  if (harvest == nullptr) return nullptr;
  const auto other = std::ranges::find_if(
      harvest->elsewhere, [&](const Elsewhere& each) { return each.book.id == occasion; });
  return other == harvest->elsewhere.end() ? nullptr : &other->book;
}

void fold(Book& book, std::span<const Record> records) {
  for (const Record& record : records) {
    if (!record.subject || record.occasion.value_or(book.id) != book.id) continue;
    const bool repeat = record.purpose == Purpose::kRepeat;
    const Purpose own = book.looks.rater ? Purpose::kSecond : Purpose::kSurvey;
    if (!repeat && !is_as(record, book, own)) continue;
    std::map<Slot, KnownClaim>& kept = repeat ? book.looks.repeats : book.kept;
    const Slot slot = slot_of(record);
    std::optional<KnownClaim> claim;
    if (const auto at = kept.find(slot); at != kept.end()) claim = std::move(at->second);
    lay_over(claim, record);
    if (claim) {
      kept.insert_or_assign(slot, std::move(*claim));
    } else {
      kept.erase(slot);
    }
  }
}

std::vector<Cell> bag_numbers(const Model& model, const Book& book, const PlanPlot& plot) {
  const Uuid subject = plot_subject(model, book, plot);
  std::vector<Cell> numbers{cell_at(model, book, {subject, std::string(measure::kBagNumber), 1})};
  for (const int part : parts_of(model, book, subject, measure::kPartBag))
    numbers.push_back(cell_at(model, book, {subject, std::string(measure::kPartBag), part}));
  return numbers;
}

std::vector<FilledBag> bags_filled(const Model& model, const Book& book,
                                   const std::vector<OpenBag>& open_bags) {
  std::vector<FilledBag> bags;
  for (const OpenBag& bag : open_bags) {
    if (bag.occasion == book.id) continue;  // as they stand now: below
    bags.push_back({bag.bag, plot_id(bag.trial, bag.plot), bag.number});
  }
  const auto add = [&](const PlotId& plot, const Slot& slot) {
    std::optional<KnownClaim> under_way;
    const KnownClaim* const number = claim_at(model, book, slot, under_way);
    // Put off, or nothing to put into it.
    if (number == nullptr || is_to_come(number->record) || number->record.entered.empty()) return;
    const RecordId bag = bag_subject(*number);
    const Cell dried = cell_at(model, book, {bag.uuid, std::string(measure::kSampleDry), 1});
    // Done, or gone for good: its number is free.
    const BagState state = bag_state(dried);
    if (state != BagState::kDone && state != BagState::kGone)
      bags.push_back({bag, plot, number->record.entered});
  };
  for (const PlanPlot& plot : trial_of(model, book).plan.plots) {
    const PlotId id = plot_id_in(trial_of(model, book), plot);
    add(id, {id.uuid, std::string(measure::kBagNumber), 1});
    for (const int part : parts_of(model, book, id.uuid, measure::kPartBag))
      add(id, {id.uuid, std::string(measure::kPartBag), part});
  }
  return bags;
}

bool is_closed(const Model& model, OccasionId occasion) {
  const auto says_so = [&](const Act& act) {
    return act.kind == ActKind::kClosed && act.occasion == occasion &&
           !said::closes_second(act.records.front());
  };
  return std::ranges::any_of(model.pending, says_so) ||
         std::ranges::any_of(model.today.progress, [&](const OccasionProgress& progress) {
           return progress.occasion == occasion && progress.closed;
         });
}

}  // namespace ligule::flow
