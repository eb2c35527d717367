#include "app/flow/plot_statements.h"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>

#include "app/flow/bags.h"
#include "app/flow/season.h"
#include "app/flow/view_parts.h"
#include "app/flow/weighing.h"
#include "storage/trial/said.h"

namespace ligule::flow {
namespace {

struct SwathSide {
  Field field;
  std::string_view measure;
};
constexpr std::array kSides{SwathSide{Field::kSwathLength, measure::kSwathLength},
                            SwathSide{Field::kSwathWidth, measure::kSwathWidth}};

const StatedLength& planned(const Plan& plan, Field side) {
  return side == Field::kSwathLength ? plan.swath_length : plan.swath_width;
}

// The strip as it stands, else as it is planned where that is in the same unit; nothing typed.
BegunStrip strip_of(const Model& model, const Book& book, const PlanPlot& plot) {
  BegunStrip strip;
  const KnownTrial& trial = trial_of(model, book);
  for (const SwathSide& side : kSides) {
    const Cell cell = cell_of(model, book, plot, side.measure);
    const Scale* const scale = scale_of(model, trial, plot, side.measure);
    if (scale == nullptr) continue;
    const StatedLength& plan = planned(trial.plan, side.field);
    strip.unit = unit_for(model.setup, side.measure, *scale, cell);
    if (cell.claim && !cell.open())
      strip.keypad.set(side.field, cell.claim->record.entered);
    else if (plan.unit == strip.unit)
      strip.keypad.set(side.field, plan.text);
  }
  strip.keypad.focus(Field::kSwathLength);
  return strip;
}

// A side of the strip of one plot; nothing when it stands so already. false: refused, and told.
bool draft_side(Turn& turn, const Harvest& harvest, const Weighing& weighing, const PlanPlot& plot,
                const SwathSide& side, const std::string& text, std::vector<Draft>& drafts) {
  const KnownTrial& trial = trial_of(turn.model, harvest.book);
  const Scale* const scale = scale_of(turn.model, trial, plot, side.measure);
  if (scale == nullptr) {
    turn.notice("notice.no_scale", {std::string(side.measure)});
    turn.run(Cue{CueKind::kRefused});
    return false;
  }
  const Cell standing = cell_of(turn.model, harvest.book, plot, side.measure);
  const std::string unit = unit_for(turn.model.setup, side.measure, *scale, standing);
  const checks::History history = history_of_day(turn, harvest.book.id);
  const checks::Verdict verdict = checks::judge(
      {std::string(side.measure), scale, text, unit, std::nullopt}, trial.plan, history);
  if (verdict.outcome == checks::Outcome::kRefuse) {
    refuse(turn, verdict.findings.front());
    return false;
  }
  if (standing.claim && standing.claim->record.entered == verdict.value.entered &&
      standing.claim->record.unit == unit)
    return true;
  const About about{&trial,
                    harvest.book.id,
                    {plot_subject(turn.model, harvest.book, plot), std::string(side.measure), 1},
                    weighing.run.id,
                    scale};
  Draft draft = value_draft(turn, about, verdict.value, ValueState::kValue, Source::kTyped,
                            standing.claim, standing.open() ? "after_later" : "measured_again");
  draft.record.answers = verdict.answered;
  draft.open = verdict.findings;
  drafts.push_back(std::move(draft));
  return true;
}

Cell weeds_cell(const Model& model, const Harvest& harvest) {
  return cell_of(model, harvest.book, present_plot(harvest), measure::kWeedsByEye);
}

// The weeds by eye of the plot being weighed, as typed.
void keep_weeds(Turn& turn, Weighing& weighing) {
  if (!can_enter(turn.model)) return;
  const auto& harvest = std::get<Harvest>(turn.model.screen);
  const PlanPlot& plot = present_plot(harvest);
  const SwathSide line{Field::kWeedsByEye, measure::kWeedsByEye};
  const std::string& text = weighing.swath.text(line.field);
  std::vector<Draft> drafts;
  if (text.empty() || !draft_side(turn, harvest, weighing, plot, line, text, drafts)) return;
  if (drafts.empty()) {
    weighing.page = PlotPage::kPad;
    return;
  }
  keep_or_ask(turn, ActKind::kStated, plot.number, std::move(drafts));
}

std::string swath_text(const Model& model, const Book& book, const PlanPlot& plot) {
  std::string text;
  for (const SwathSide& side : kSides) {
    const Cell cell = cell_of(model, book, plot, side.measure);
    if (!cell.claim || cell.open()) continue;
    text += (text.empty() ? "" : " x ") + cell.claim->record.entered + "\u00a0" +
            cell.claim->record.unit;
  }
  return text;
}

}  // namespace

void open_strip(const Turn& turn, const Harvest& harvest, Weighing& weighing) {
  weighing.page = PlotPage::kSwath;
  const BegunStrip strip = strip_of(turn.model, harvest.book, present_plot(harvest));
  weighing.swath = strip.keypad;
  const std::optional<BegunStrip> begun = std::exchange(weighing.strip, std::nullopt);
  if (!begun) return;
  // A number without its unit is no length.
  if (begun->unit == strip.unit)
    weighing.swath = begun->keypad;
  else
    turn.notice("notice.unit_changed", {begun->unit, strip.unit});
}

void leave_strip(const Model& model, const Harvest& harvest, Weighing& weighing) {
  if (weighing.page != PlotPage::kSwath || harvest.book.plots.empty()) return;
  const BegunStrip strip = strip_of(model, harvest.book, present_plot(harvest));
  const bool typed = std::ranges::any_of(kSides, [&](const SwathSide& side) {
    return weighing.swath.text(side.field) != strip.keypad.text(side.field);
  });
  if (typed) weighing.strip = BegunStrip{weighing.swath, strip.unit};
}

void show_page(Turn& turn, PlotPage page) {
  Weighing* const weighing = weighing_on(turn);
  if (weighing == nullptr) return;
  const auto& harvest = std::get<Harvest>(turn.model.screen);
  if (harvest.book.plots.empty() || (page != PlotPage::kPad && !can_enter(turn.model))) return;
  if (page == weighing->page) return;
  leave_strip(turn.model, harvest, *weighing);
  weighing->page = page;
  if (page == PlotPage::kSwath) {
    open_strip(turn, harvest, *weighing);
    turn.notice("notice.strip_trimmed");
  }
  if (page == PlotPage::kWeeds) {
    const Cell cell = weeds_cell(turn.model, harvest);
    weighing->swath = Keypad(Field::kWeedsByEye);
    if (cell.claim && !cell.open())
      weighing->swath.set(Field::kWeedsByEye, cell.claim->record.entered);
  }
}

bool holds_weeds_only(const Model& model, const Book& book, const PlanPlot& plot) {
  bool any = false;
  for (const Cell& cell : gross_cells(model, book, plot)) {
    if (!cell.claim || cell.claim->record.state != ValueState::kValue) continue;
    if (!said::weeds_only(cell.claim->record.details)) return false;
    any = true;
  }
  return any;
}

void say_weeds_only(Turn& turn) {
  Weighing* const weighing = weighing_on(turn);
  if (weighing == nullptr || !can_enter(turn.model)) return;
  auto& harvest = std::get<Harvest>(turn.model.screen);
  if (harvest.book.plots.empty()) return;
  weighing->page = PlotPage::kPad;
  const PlanPlot& plot = present_plot(harvest);
  Act act;
  act.kind = ActKind::kStated;
  act.trial = trial_of(turn.model, harvest.book).plan.id();
  act.occasion = harvest.book.id;
  act.plot = plot.number;
  const bool before = holds_weeds_only(turn.model, harvest.book, plot);
  for (const Cell& cell : gross_cells(turn.model, harvest.book, plot)) {
    if (!cell.claim || cell.claim->record.state != ValueState::kValue) continue;
    Record record = restated(turn, cell.claim->record, kind::kCorrection);
    record.targets = {cell.claim->record.id};
    record.reason = "weeds_only";
    Details details = parse_details(record.details).value_or(Details{});
    // What was confirmed of it was the other statement.
    details.erase(std::string(said::kZero));
    if (before)
      details.erase(std::string(said::kWeeds));
    else
      details[std::string(said::kWeeds)] = said::kOnly;
    record.details = details_text(details);
    act.records.push_back(std::move(record));
    act.before.push_back(cell.claim);
  }
  if (act.records.empty()) {
    weighing->weeds_only = !weighing->weeds_only;
    return;
  }
  weighing->weeds_only = !before;
  commit(turn, std::move(act));
}

void keep_swath(Turn& turn, bool block) {
  Weighing* const weighing = weighing_on(turn);
  if (weighing != nullptr && weighing->page == PlotPage::kWeeds) return keep_weeds(turn, *weighing);
  if (weighing == nullptr || weighing->page != PlotPage::kSwath || !can_enter(turn.model)) return;
  auto& harvest = std::get<Harvest>(turn.model.screen);
  const PlanPlot& present = present_plot(harvest);
  std::vector<Draft> drafts;
  for (const PlanPlot& plot : harvest.book.plots) {
    const bool own = plot.number == present.number;
    if (!own && (!block || plot.block != present.block)) continue;
    for (const SwathSide& side : kSides) {
      const std::string& text = weighing->swath.text(side.field);
      // A strip measured on its own plot is not overwritten by what holds for the others.
      if (text.empty() ||
          (!own && cell_of(turn.model, harvest.book, plot, side.measure).claim.has_value()))
        continue;
      if (!draft_side(turn, harvest, *weighing, plot, side, text, drafts))
        return weighing->swath.focus(side.field);
    }
  }
  if (drafts.empty()) {
    weighing->page = PlotPage::kPad;
    return;
  }
  keep_or_ask(turn, ActKind::kStated, present.number, std::move(drafts));
}

std::vector<FieldView> swath_fields(const Model& model, const Harvest& harvest,
                                    const Weighing& weighing) {
  std::vector<FieldView> fields;
  const PlanPlot& plot = present_plot(harvest);
  const KnownTrial& trial = trial_of(model, harvest.book);
  for (const SwathSide& side : kSides) {
    FieldView field;
    field.field = side.field;
    field.text = weighing.swath.text(side.field);
    field.focused = weighing.swath.active() == side.field;
    const Cell cell = cell_of(model, harvest.book, plot, side.measure);
    if (const Scale* const scale = scale_of(model, trial, plot, side.measure))
      field.unit = unit_for(model.setup, side.measure, *scale, cell);
    field.mark = mark_of(cell);
    fields.push_back(std::move(field));
  }
  return fields;
}

std::vector<FieldView> weeds_fields(const Model& model, const Harvest& harvest,
                                    const Weighing& weighing) {
  FieldView field;
  field.field = Field::kWeedsByEye;
  field.text = weighing.swath.text(field.field);
  field.focused = true;
  field.unit = "%";
  field.mark = mark_of(weeds_cell(model, harvest));
  return {field};
}

MoreView more_view(const Model& model, const Harvest& harvest, const Weighing& weighing) {
  const PlanPlot& plot = present_plot(harvest);
  MoreView view;
  const auto cells = gross_cells(model, harvest.book, plot);
  const LoadState load = model.load.state;
  view.can_add_bag = !cells.empty() || !weighing.keypad.text(Field::kGross).empty() ||
                     load == LoadState::kStill || load == LoadState::kMoving;
  // Of several bags one that was lost is put right in Review.
  view.can_have_none = cells.size() < 2 && weighing.bag == 1;
  view.weeds_only = weighing.weeds_only;
  view.kind = weighing.kind;
  view.swath = swath_text(model, harvest.book, plot);
  const auto& asked = harvest.book.occasion.measures;
  view.asks_weeds = std::ranges::find(asked, measure::kWeedsByEye) != asked.end();
  const Cell weeds = weeds_cell(model, harvest);
  if (weeds.claim && !weeds.open()) view.weeds = weeds.claim->record.entered + "\u00a0%";
  view.machine = detail(weighing.run.details, "machine");
  return view;
}

}  // namespace ligule::flow
