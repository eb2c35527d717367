// What a form of weights says, on its way to drafts of records: judged, asked about, compared with
// what stands.
#include <algorithm>

#include "app/flow/bags.h"
#include "app/flow/composite_bag.h"
#include "app/flow/gauge.h"
#include "app/flow/progress.h"
#include "app/flow/season.h"
#include "app/flow/weather.h"
#include "app/flow/weighing.h"
#include "storage/checks/season_rules.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

std::optional<Kilograms> mass_of(const Model& model, const Book& book, const PlanPlot& plot,
                                 const FormLine& line, const WeightForm& form) {
  const std::string& text = form.keypad.text(line.field);
  const Scale* const scale = scale_of(model, trial_of(model, book), plot, line.measure);
  if (scale == nullptr) return std::nullopt;
  const Cell standing = line_cell(model, book, plot, line, form.bag);
  const auto value =
      read_entered(*scale, text, unit_for(model.setup, line.measure, *scale, standing));
  if (!value) return std::nullopt;
  const std::optional<double> number = value->value;
  if (!number) return std::nullopt;
  const auto mass = mass_in(*number, value->unit);
  return mass ? std::optional(*mass) : std::nullopt;
}

bool same(const Record& record, const EnteredValue& value) {
  return record.entered == value.entered && record.unit == value.unit;
}

// What was said with the number says the same as what stands.
bool same_said(const Record& record, const Details& said) {
  return std::ranges::all_of(
      said, [&](const auto& one) { return detail(record.details, one.first) == one.second; });
}

// A line of the form as a draft; nothing when it says what stands already.
std::optional<Draft> line_draft(const Turn& turn, const About& about,
                                const checks::Verdict& verdict, const Cell& standing,
                                const LineEntry& entry) {
  const bool scale = entry.source == Source::kScale;
  Draft draft =
      value_draft(turn, about, verdict.value, ValueState::kValue, entry.source, standing.claim,
                  standing.open() ? "after_later"
                  : scale         ? "weighed_again"
                                  : "mistap");
  draft.record.raw = entry.raw;
  draft.record.details = details_text(entry.details);
  draft.record.answers = verdict.answered;
  draft.open = verdict.findings;
  // Answered before and still so: it stays on hold without another question.
  const bool still_held = std::ranges::any_of(verdict.answered, [](const Answer& answer) {
    const checks::Rule* const rule = checks::find_rule(answer.rule);
    return rule != nullptr && rule->outcome == checks::Outcome::kOnHold;
  });
  if (still_held) draft.record.state = ValueState::kOnHold;
  if (!standing.claim) return draft;
  const Record& record = standing.claim->record;
  if (same(record, verdict.value) && same_said(record, entry.details)) {
    // The same number said again: how it came in stays with it, and a doubt about its scale too.
    draft.record.source = record.source;
    draft.record.raw = record.raw;
    draft.record.details = record.details;
    const bool doubted = std::ranges::find(record.answers, Answer{"check_weight", "hold_them"}) !=
                         record.answers.end();
    if (doubted && record.state == ValueState::kOnHold && draft.open.empty()) return std::nullopt;
  }
  if (!draft.open.empty()) return draft;
  if (same(record, verdict.value) && same_said(record, entry.details) &&
      record.state == draft.record.state)
    return std::nullopt;
  return draft;
}

}  // namespace

const PlanPlot& present_plot(const Harvest& harvest) {
  return harvest.book.plots.at(harvest.book.present);
}

std::optional<RecordId> bag_of(const Model& model, const Book& book, const PlanPlot& plot) {
  const Cell cell = cell_of(model, book, plot, measure::kBagNumber);
  if (!cell.claim || cell.open()) return std::nullopt;
  return bag_subject(*cell.claim);
}

int part_of(const FormLine& line, int bag) {
  return line.field == Field::kGross || line.field == Field::kTare ? bag : 1;
}

Cell line_cell(const Model& model, const Book& book, const PlanPlot& plot, const FormLine& line,
               int on_scale) {
  if (line.field != Field::kSampleFresh)
    return cell_at(
        model, book,
        {plot_subject(model, book, plot), std::string(line.measure), part_of(line, on_scale)});
  const auto bag = bag_of(model, book, plot);
  if (!bag) return {};
  return cell_at(model, book, {bag->uuid, std::string(line.measure), 1});
}

checks::History history_of(const Turn& turn, const Harvest& harvest, const WeightForm& form) {
  const Model& model = turn.model;
  const KnownTrial& trial = trial_of(model, harvest.book);
  const PlanPlot& plot = present_plot(harvest);
  checks::History history = history_of_day(turn, harvest.book.id);
  history.open_bags = bags_in_use(model, harvest, plot, bag_of(model, harvest.book, plot));
  history.gross = mass_of(model, harvest.book, plot, kForm[0], form);
  history.tare = mass_of(model, harvest.book, plot, kForm[1], form);
  history.sample_fresh = mass_of(model, harvest.book, plot, kForm[3], form);
  const Uuid subject = plot_subject(model, harvest.book, plot);
  history.weighed_before =
      weighed_before(model, harvest, {subject, std::string(measure::kGrossWeight), form.bag});
  const Slot own_tare{subject, std::string(measure::kTareWeight), form.bag};
  if (const Record* const tare = standing_tare(model, harvest, form.kind, &own_tare)) {
    history.standing_tare = said::mass_of(*tare);
  }
  if (const auto tare = trial.plan.bag_tare.kilograms()) history.bag_tare = *tare;
  // The sample may be dried already when its fresh weight is put right here.
  if (const auto bag = bag_of(model, harvest.book, plot)) {
    const Cell dried =
        cell_at(model, harvest.book, {bag->uuid, std::string(measure::kSampleDry), 1});
    if (dried.claim) history.sample_dry = said::mass_of(dried.claim->record);
    const Cell own = cell_at(model, harvest.book, {bag->uuid, std::string(measure::kBagTare), 1});
    if (own.claim)
      if (const auto tare = said::mass_of(own.claim->record)) history.bag_tare = *tare;
    // Not of what is still losing water.
    if (bag_state(dried) != BagState::kDrying)
      history.dry_matter = limit_of(model, trial, plot, kDryMatterPercent);
  }
  add_season(turn, harvest.book, plot, form.bag, history);
  // Of a cutting that was begun on another day it was asked then.
  const bool begun = std::ranges::any_of(
      harvest.runs, [&](const Record& run) { return run.at.local_date < turn.at.local_date; });
  if (!begun) history.last_cut = harvest.book.past.last_cut;
  const auto asked = measures_of(trial, harvest.book.occasion, plot, model.setup.definitions);
  history.tare_to_come = std::ranges::find(asked, measure::kTareWeight) != asked.end() &&
                         form.keypad.text(Field::kTare).empty();
  return history;
}

Details said_with(const WeightForm& form, Field field) {
  if (field == Field::kTare && !form.kind.empty())
    return {{std::string(said::kBagKind), form.kind}};
  if (field == Field::kGross && form.weeds_only)
    return {{std::string(said::kWeeds), std::string(said::kOnly)}};
  return {};
}

bool draft_lines(Turn& turn, Harvest& harvest, Weighing& weighing,
                 std::span<const LineEntry> entries, checks::History history,
                 std::vector<Draft>& drafts) {
  const KnownTrial& trial = trial_of(turn.model, harvest.book);
  const PlanPlot& plot = present_plot(harvest);
  const std::vector<Answer> for_the_day = day_answers(turn.model, harvest.book.id);
  std::optional<RecordId> bag = bag_of(turn.model, harvest.book, plot);
  for (const LineEntry& entry : entries) {
    const Scale* const scale = scale_of(turn.model, trial, plot, entry.measure);
    if (scale == nullptr) {
      refuse(turn, weighing, entry.field, "notice.no_scale", {std::string(entry.measure)});
      return false;
    }
    const FormLine line{entry.field, entry.measure};
    Cell standing = line_cell(turn.model, harvest.book, plot, line, weighing.bag);
    // The bag may be another plot's, and its sample weighed there.
    if (entry.field == Field::kSampleFresh && bag)
      standing =
          cell_at(turn.model, harvest.book, {bag->uuid, std::string(measure::kSampleFresh), 1});
    const std::string unit = entry.unit.empty()
                                 ? unit_for(turn.model.setup, entry.measure, *scale, standing)
                                 : entry.unit;
    if (!entry.unit.empty() && std::ranges::find(scale->units, unit) == scale->units.end()) {
      refuse(turn, weighing, entry.field, "notice.scale_unit", {unit, scale->units.front()});
      return false;
    }
    // What the indicator took off itself is no bag.
    if (entry.field == Field::kTare && entry.source == Source::kScale)
      history.standing_tare.reset();
    history.answered = for_the_day;
    history.usual = limit_of(turn.model, trial, plot, entry.measure);
    add_weather(turn.model, harvest.book, plot, entry.measure, history);
    const bool gross = entry.field == Field::kGross;
    // Where another bag follows, this one is not all.
    const bool tare = entry.field == Field::kTare;
    history.expected = (gross || tare) && !weighing.more
                           ? expected_of(turn.model, harvest.book, plot)
                           : std::nullopt;
    // A gross and a tare of one act are asked about once, with the gross.
    if (tare && std::ranges::find(entries, Field::kGross, &LineEntry::field) != entries.end())
      history.gross.reset();
    if (tare) {
      const Cell weight = line_cell(turn.model, harvest.book, plot,
                                    {Field::kGross, measure::kGrossWeight}, weighing.bag);
      if (weight.claim) checks::without_what_was_asked(weight.claim->record.answers, history);
    }
    history.weighed_here.reset();
    if (gross && standing.claim && standing.claim->record.state == ValueState::kValue) {
      const Record& here = standing.claim->record;
      history.weighed_here = checks::EnteredWeight{here.entered, here.unit, plot.number};
    }
    // What was answered about this very value is not asked about twice.
    if (standing.claim && same(standing.claim->record, {entry.text, unit, std::nullopt})) {
      const auto& answers = standing.claim->record.answers;
      history.answered.insert(history.answered.end(), answers.begin(), answers.end());
      // And what stands was held against these when it came.
      if (standing.claim->record.state == ValueState::kValue) {
        history.standing_tare.reset();
        history.weighed_before.reset();
        if (entry.field == Field::kSampleFresh) history.sample_dry.reset();
      }
    }
    const checks::Verdict verdict = checks::judge(
        {std::string(entry.measure), scale, entry.text, unit, std::nullopt}, trial.plan, history);
    if (verdict.outcome == checks::Outcome::kRefuse) {
      const checks::Finding& finding = verdict.findings.front();
      refuse(turn, weighing, entry.field, "check." + std::string(finding.rule->key),
             finding.arguments);
      return false;
    }
    // Another plot's statement of their common sample is put right where it is shown.
    const bool seen =
        line_cell(turn.model, harvest.book, plot, line, weighing.bag).claim.has_value();
    if (entry.field == Field::kSampleFresh && standing.claim && !seen &&
        !same(standing.claim->record, verdict.value)) {
      refuse(turn, weighing, entry.field, "notice.fresh_stands",
             {weighing.keypad.text(Field::kBag),
              standing.claim->record.entered + "\u00a0" + standing.claim->record.unit});
      return false;
    }
    Uuid subject = plot_subject(turn.model, harvest.book, plot);
    if (entry.field == Field::kSampleFresh && bag) subject = bag->uuid;
    // A weight put right later stays with the run that cut it.
    std::optional<RecordId> run = weighing.run.id;
    if (standing.claim && !standing.open()) run = standing.claim->record.run;
    const About about{&trial,
                      harvest.book.id,
                      {subject, std::string(entry.measure), part_of(line, weighing.bag)},
                      run,
                      scale};
    auto draft = line_draft(turn, about, verdict, standing, entry);
    if (!draft) continue;
    if (entry.field == Field::kBag)
      bag = name_bag(turn.model, harvest.book, plot, standing.claim, draft->record);
    drafts.push_back(std::move(*draft));
  }
  return true;
}

}  // namespace ligule::flow
