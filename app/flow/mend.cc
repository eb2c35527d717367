// Putting a standing value right: correct it, take it back, settle it.
#include <algorithm>
#include <array>
#include <tuple>
#include <variant>

#include "app/flow/composite_bag.h"
#include "app/flow/gauge.h"
#include "app/flow/review.h"
#include "app/flow/season.h"
#include "app/flow/sorted_sample.h"
#include "app/flow/turn.h"
#include "storage/checks/open_questions.h"
#include "storage/checks/season_rules.h"
#include "storage/trial/composite.h"
#include "storage/trial/details.h"
#include "storage/trial/reached.h"
#include "storage/trial/record_line.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

// Codes, written into records: never change a text.
constexpr std::array<std::string_view, 4> kCorrectFor{"mistap", "misread", "wrong_plot",
                                                      "looked_again"};
constexpr std::array<std::string_view, 3> kTakeBackFor{"wrong_plot", "mistap", "not_valid"};
constexpr std::array<std::string_view, 3> kSettleFor{"looked_again", "agreed", "on_paper"};
constexpr std::string_view kZeroConfirmed = "zero_confirmed";

PlotHistory* history_on(Review& review) {
  return std::get_if<PlotHistory>(&review.page);
}

bool same_slot(const Record& a, const Record& b) {
  return std::tie(a.subject, a.measure, a.occasion, a.part, a.purpose) ==
         std::tie(b.subject, b.measure, b.occasion, b.part, b.purpose);
}

bool replaced(const PlotHistory& history, RecordId id) {
  return std::ranges::any_of(history.records, [&](const Record& record) {
    return std::ranges::find(record.targets, id) != record.targets.end();
  });
}

std::optional<Kilograms> mass_of(const Cell& cell) {
  return cell.claim ? said::mass_of(cell.claim->record) : std::nullopt;
}

// The part of a sorted sample that a value is about, and its bag; 0 and none: it is about the plot,
// its sample bag, or the whole of the sample.
int part_about(const Model& model, const Book& book, const PlanPlot& plot, const Record& record,
               std::optional<Uuid>& bag) {
  if (!record.subject) return 0;
  const bool number = record.measure == measure::kPartBag;
  const Cell cell = number ? cell_at(model, book, slot_of(record)) : Cell{};
  const Uuid about = cell.claim ? cell.claim->first.uuid : *record.subject;
  const int part = part_with_bag(model, book, plot, about);
  if (part > 0) bag = about;
  return part;
}

// What the rules look at beside the new value: the plot's other weights, and bags in use elsewhere.
checks::History facts(const Turn& turn, const Review& review, const PlanPlot& plot,
                      const Record& record) {
  const Book& book = review.book;
  checks::History history = history_of(turn, book, plot, record.measure);
  if (record.measure == measure::kGrossWeight || record.measure == measure::kTareWeight) {
    add_season(turn, book, plot, record.part, history);
    history.expected = expected_of(turn.model, book, plot);
  }
  // The bag of a part of a sorted sample, and not the plot's sample bag.
  std::optional<Uuid> bag;
  const int part = part_about(turn.model, book, plot, record, bag);
  const auto mass = [&](std::string_view measure) {
    const Measure* const known = turn.model.setup.definitions.measure(measure);
    const bool of_bag = known != nullptr && known->subject == Subject::kBag;
    if (bag && of_bag) return mass_of(cell_at(turn.model, book, {*bag, std::string(measure), 1}));
    const auto slot = slot_on(turn.model, book, plot, measure);
    return slot ? mass_of(cell_at(turn.model, book, *slot)) : std::nullopt;
  };
  // Each bag of a plot has a gross weight and a tare of its own.
  const auto in_bag = [&](std::string_view measure) {
    return cell_at(turn.model, book,
                   {plot_subject(turn.model, book, plot), std::string(measure), record.part});
  };
  const Cell weight = in_bag(measure::kGrossWeight);
  history.gross = mass_of(weight);
  history.tare = mass_of(in_bag(measure::kTareWeight));
  if (record.measure == measure::kTareWeight && weight.claim)
    checks::without_what_was_asked(weight.claim->record.answers, history);
  // What was answered about its tare holds for the weight put right too.
  const auto bin = std::ranges::find(record.answers, said::kTareMissing, &Answer::rule);
  if (bin != record.answers.end() && !history.tare) {
    history.answered.push_back(*bin);
    history.tare_to_come = true;
  }
  history.sample_fresh = mass(measure::kSampleFresh);
  history.sample_dry = mass(measure::kSampleDry);
  history.bag_tare = mass(measure::kBagTare);
  const Plan& plan = trial_of(turn.model, book).plan;
  if (!history.bag_tare) {
    if (const auto planned = plan.bag_tare.kilograms()) history.bag_tare = *planned;
  }
  // Not of a part of a sorted sample, nor of what is still losing water.
  const auto dried = slot_on(turn.model, book, plot, measure::kSampleDry);
  const bool drying = dried && bag_state(cell_at(turn.model, book, *dried)) == BagState::kDrying;
  if (!bag && !drying)
    history.dry_matter = limit_of(turn.model, trial_of(turn.model, book), plot, kDryMatterPercent);
  if (bag || record.measure == measure::kSeparatedFresh)
    add_sorted(turn.model, book, plot, part, history);
  const auto shared = shared_bags(turn.model, book, plot);
  for (const OpenBag& open : review.open_bags) {
    const PlotId where = plot_id(open.trial, open.plot);
    const bool own = where == plan.plot(plot) && open.part == part;
    if (!own && !shared.contains(open.bag)) history.open_bags.push_back({open.number, where});
  }
  return history;
}

// The record judged anew by this person now, in the place of what it replaces.
Record judged_anew(const Turn& turn, const Record& claim, std::string_view kind) {
  Record record = restated(turn, claim, kind);
  if (record.occasion) record.blind = !names_shown(turn.model, *record.occasion);
  return record;
}

Act act_on(const Review& review, const PlotHistory& history, const Record& record, ActKind kind) {
  Act act;
  act.kind = kind;
  act.trial = record.trial;
  act.occasion = review.book.id;
  act.plot = history.plot;
  return act;
}

void correct(Turn& turn, Review& review, const PlotHistory& history, const Record& record,
             const std::string& reason) {
  if (!history.mending) return;
  const Mending& mending = *history.mending;
  const Scale* const scale = scale_of(turn.model, review, record);
  const KnownTrial& trial = trial_of(turn.model, review.book);
  const PlanPlot* const plot = trial.plan.find_plot(history.plot);
  if (scale == nullptr || plot == nullptr) return;
  // The steps of a label say what its parts are; it is typed.
  const bool tapped = !scale->steps.empty() && scale->kind != ScaleKind::kLabel;
  const std::string text =
      tapped ? mending.chosen : cleaned(mending.keypad.text(mending.keypad.active()));
  if (text.empty()) return;
  const Cell cell = cell_at(turn.model, review.book, slot_of(record));
  if (!cell.claim || cell.claim->record.id != record.id) return;  // another act came between
  const std::string unit = unit_for(turn.model.setup, record.measure, *scale, cell);
  checks::Verdict verdict = checks::judge({record.measure, scale, text, unit, std::nullopt},
                                          trial.plan, facts(turn, review, *plot, record));
  if (verdict.outcome == checks::Outcome::kRefuse) {
    return refuse(turn, verdict.findings.front());
  }
  const bool same = record.entered == verdict.value.entered && record.unit == verdict.value.unit;
  if (same && record.state == ValueState::kValue) return turn.notice("notice.same_value");
  const About about{&trial, review.book.id, slot_of(record), record.run, scale};
  Draft draft = value_draft(turn, about, verdict.value, ValueState::kValue,
                            tapped ? Source::kTapped : Source::kTyped, cell.claim, reason);
  draft.record.details = said::still_said(record.details);
  if (record.measure == measure::kBagNumber) {
    (void)name_bag(turn.model, review.book, *plot, cell.claim, draft.record);
    if (leaves_shared_bag(record, draft.record))
      turn.notice("notice.bag_of_its_own", {draft.record.entered, history.plot});
  }
  draft.record.answers = std::move(verdict.answered);
  draft.open = std::move(verdict.findings);
  std::vector<Draft> drafts;
  drafts.push_back(std::move(draft));
  keep_or_ask(turn, ActKind::kValues, history.plot, std::move(drafts));
}

void withdraw(Turn& turn, const Review& review, const PlotHistory& history, const Record& record,
              const std::string& reason) {
  const Cell cell = cell_at(turn.model, review.book, slot_of(record));
  if (!cell.claim || cell.claim->record.id != record.id) return;
  const KnownClaim standing = *cell.claim;
  Act act = act_on(review, history, record, ActKind::kTakeBack);
  Record taken = take_back_record(
      turn, standing, standing.record.replaces() ? standing.before : std::optional<Record>());
  taken.reason = reason;
  act.records.push_back(std::move(taken));
  act.before.emplace_back(standing);
  commit(turn, std::move(act));
}

// Whether a plot counts as zero by this weight, and nobody looked again yet.
bool to_be_confirmed(const Record& record) {
  if (record.measure != measure::kGrossWeight || said::zero_confirmed(record.details)) return false;
  const bool weeds = record.state == ValueState::kValue && said::weeds_only(record.details);
  return record.state == ValueState::kZero || weeds;
}

// The same once more, with that nothing grew there. Why there is none stays its reason.
void confirm(Turn& turn, const Review& review, const PlotHistory& history, const Record& record,
             const std::string& reason) {
  Record confirmed = judged_anew(turn, record, kind::kCorrection);
  confirmed.targets = {record.id};
  if (record.state != ValueState::kZero || record.reason.empty()) confirmed.reason = reason;
  Details details = parse_details(record.details).value_or(Details{});
  details[std::string(said::kZero)] = said::kConfirmed;
  confirmed.details = details_text(details);
  // A weight of weeds stays what the scale or a person made of it.
  if (record.state == ValueState::kZero) confirmed.source = Source::kTapped;
  Act act = act_on(review, history, record, ActKind::kValues);
  act.records.push_back(std::move(confirmed));
  const Cell cell = cell_at(turn.model, review.book, slot_of(record));
  act.before.push_back(cell.claim);
  commit(turn, std::move(act));
}

void settle(Turn& turn, const Review& review, const PlotHistory& history, const Record& record,
            const std::string& reason) {
  std::vector<RecordId> claims;
  for (const Record& claim : standing_beside(history, record)) claims.push_back(claim.id);
  Act act = act_on(review, history, record, ActKind::kSettle);
  act.records.push_back(settlement_of(turn, record, std::move(claims), reason));
  commit(turn, std::move(act));
}

}  // namespace

Record settlement_of(const Turn& turn, const Record& winner, std::vector<RecordId> claims,
                     const std::string& reason) {
  Record settled = judged_anew(turn, winner, kind::kSettlement);
  std::ranges::sort(claims);
  settled.targets = std::move(claims);
  settled.reason = reason;
  settled.source = Source::kTapped;
  settled.raw.clear();
  if (settled.state == ValueState::kOnHold) settled.state = ValueState::kValue;
  return settled;
}

std::vector<Record> standing_beside(const PlotHistory& history, const Record& of) {
  std::vector<Record> standing;
  for (const Record& record : history.records) {
    if (record.is_claim() && same_slot(record, of) && !replaced(history, record.id)) {
      standing.push_back(record);
    }
  }
  return standing;
}

const Scale* scale_of(const Model& model, const Review& review, const Record& record) {
  const KnownTrial& trial = trial_of(model, review.book);
  const auto* const history = std::get_if<PlotHistory>(&review.page);
  const PlanPlot* const plot = history == nullptr ? nullptr : trial.plan.find_plot(history->plot);
  return plot == nullptr ? nullptr : scale_of(model, trial, *plot, record.measure);
}

const Record* mendable(const Model& model, const Review& review, RecordId claim) {
  const auto* const history = std::get_if<PlotHistory>(&review.page);
  if (history == nullptr) return nullptr;
  const auto at = std::ranges::find(history->records, claim, &Record::id);
  if (at == history->records.end() || !at->is_claim() || at->purpose != Purpose::kSurvey ||
      at->occasion != review.book.id || replaced(*history, claim)) {
    return nullptr;
  }
  if (ways_of(*history, *at).empty()) return nullptr;
  return scale_of(model, review, *at) == nullptr ? nullptr : &*at;
}

const Record* mended(const Model& model, const Review& review) {
  const auto* const history = std::get_if<PlotHistory>(&review.page);
  if (history == nullptr || !history->mending) return nullptr;
  return mendable(model, review, history->mending->claim);
}

std::vector<Mend> ways_of(const PlotHistory& history, const Record& record) {
  if (standing_beside(history, record).size() > 1) return {Mend::kSettle};
  std::vector<Mend> ways;
  // A sentence is taken back and said anew, where notes are written; so are several numbers at once
  // and a visit.
  const bool pad_of_its_own = record.measure == measure::kNote ||
                              is_composite_text(record.entered) || record.entered == kNotYetCode ||
                              record.entered == kReachedCode;
  if (!pad_of_its_own) ways.push_back(Mend::kCorrect);
  if (to_be_confirmed(record)) ways.push_back(Mend::kConfirm);
  if (record.kind != kind::kSettlement) ways.push_back(Mend::kTakeBack);
  if (record.state == ValueState::kOnHold || !checks::open_answers(record).empty())
    ways.push_back(Mend::kSettle);
  return ways;
}

std::vector<std::string> reasons_of(Mend what) {
  switch (what) {
    case Mend::kCorrect:
      return {kCorrectFor.begin(), kCorrectFor.end()};
    case Mend::kTakeBack:
      return {kTakeBackFor.begin(), kTakeBackFor.end()};
    case Mend::kConfirm:
      return {std::string(kZeroConfirmed)};
    case Mend::kSettle:
      break;
  }
  return {kSettleFor.begin(), kSettleFor.end()};
}

void mend_value(const Turn& turn, Review& review, RecordId claim) {
  PlotHistory* const history = history_on(review);
  const Record* const record = mendable(turn.model, review, claim);
  if (history == nullptr || record == nullptr || !can_enter(turn.model)) return;
  Mending mending;
  mending.claim = claim;
  mending.what = ways_of(*history, *record).front();
  const Scale& scale = *scale_of(turn.model, review, *record);
  mending.keypad = Keypad(scale.kind == ScaleKind::kLabel ? Field::kBag : Field::kAmount);
  history->mending = std::move(mending);
}

void mend_by(const Turn& turn, Review& review, Mend what) {
  PlotHistory* const history = history_on(review);
  const Record* const record = mended(turn.model, review);
  if (history == nullptr || record == nullptr || !history->mending) return;
  const auto ways = ways_of(*history, *record);
  if (std::ranges::find(ways, what) != ways.end()) history->mending->what = what;
}

void choose_mended(const Turn& turn, Review& review, const std::string& entered) {
  PlotHistory* const history = history_on(review);
  const Record* const record = mended(turn.model, review);
  if (history == nullptr || record == nullptr || !history->mending) return;
  const Scale* const scale = scale_of(turn.model, review, *record);
  if (scale == nullptr) return;
  if (std::ranges::find(scale->steps, entered, &ScaleStep::code) == scale->steps.end()) return;
  history->mending->chosen = entered;
}

void mend_for(Turn& turn, Review& review, const std::string& reason) {
  PlotHistory* const history = history_on(review);
  const Record* const found = mended(turn.model, review);
  if (history == nullptr || found == nullptr || !history->mending || !can_enter(turn.model)) return;
  const Mend what = history->mending->what;
  const auto reasons = reasons_of(what);
  if (std::ranges::find(reasons, reason) == reasons.end()) return;
  // A copy: keeping it closes the sheet the record lies in.
  const Record record = *found;
  switch (what) {
    case Mend::kCorrect:
      return correct(turn, review, *history, record, reason);
    case Mend::kTakeBack:
      return withdraw(turn, review, *history, record, reason);
    case Mend::kConfirm:
      return confirm(turn, review, *history, record, reason);
    case Mend::kSettle:
      return settle(turn, review, *history, record, reason);
  }
}

}  // namespace ligule::flow
