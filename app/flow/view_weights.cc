// Harvest and dry weights.
#include <algorithm>
#include <array>
#include <iterator>

#include "app/flow/bags.h"
#include "app/flow/check_weight.h"
#include "app/flow/gauge.h"
#include "app/flow/no_weight.h"
#include "app/flow/plot_statements.h"
#include "app/flow/sorted_sample.h"
#include "app/flow/sorting.h"
#include "app/flow/sown_form.h"
#include "app/flow/turn.h"
#include "app/flow/view_parts.h"
#include "app/flow/weighing.h"
#include "storage/checks/drying.h"
#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"

namespace ligule::flow {
namespace {

constexpr std::array<std::string_view, 3> kSurfaces{"dry", "dew", "rain"};

FieldView field_view(const Keypad& keypad, Field field) {
  FieldView view;
  view.field = field;
  view.text = keypad.text(field);
  view.focused = keypad.active() == field;
  return view;
}

FieldView weight_view(const Model& model, const KnownTrial& trial, const PlanPlot& plot,
                      const Keypad& keypad, Field field, std::string_view measure,
                      const Cell& cell) {
  FieldView view = field_view(keypad, field);
  const Scale* const scale = scale_of(model, trial, plot, measure);
  if (scale != nullptr) view.unit = unit_for(model.setup, measure, *scale, cell);
  view.mark = mark_of(cell);
  return view;
}

RunHeadView head_of_run(const Model& model, const Harvest& harvest, const RunHead& head) {
  RunHeadView view;
  for (const Field field : {Field::kMachine, Field::kCutWidth, Field::kStubble}) {
    view.fields.push_back(field_view(head.keypad, field));
  }
  for (const Record& run : harvest.runs) {
    std::string machine = detail(run.details, "machine");
    const bool listed = std::ranges::find(view.machines, machine) != view.machines.end();
    if (!machine.empty() && !listed) view.machines.push_back(std::move(machine));
  }
  view.surfaces.assign(kSurfaces.begin(), kSurfaces.end());
  view.surface = head.surface;
  view.again = head.again;
  const std::string& machine = head.keypad.text(Field::kMachine);
  view.can_start = can_enter(model) && machine.find_first_not_of(' ') != std::string::npos;
  return view;
}

void add_page(const Model& model, const Harvest& harvest, const Weighing& weighing,
              WeighingView& view) {
  view.page = weighing.page;
  switch (weighing.page) {
    case PlotPage::kPad:
      return;
    case PlotPage::kMore:
      view.more = more_view(model, harvest, weighing);
      return;
    case PlotPage::kNoWeight:
      for (const NoWeightReason& reason : kNoWeightReasons)
        view.no_weight.push_back({std::string(reason.code), reason.zero});
      return;
    case PlotPage::kBagKinds:
      view.bag_kinds = bag_kinds(model, harvest, weighing);
      return;
    case PlotPage::kSwath:
      view.swath = swath_fields(model, harvest, weighing);
      return;
    case PlotPage::kWeeds:
      view.swath = weeds_fields(model, harvest, weighing);
      return;
  }
}

WeighingView weighing_view(const Model& model, const Harvest& harvest, const Weighing& weighing) {
  const Book& book = harvest.book;
  const KnownTrial& trial = trial_of(model, book);
  WeighingView view;
  view.machine = detail(weighing.run.details, "machine");
  view.blind = !names_shown(model, book.id);
  view.can_enter = can_enter(model);
  view.can_take_back = !book.done.empty() && view.can_enter;
  if (book.plots.empty()) {
    view.all_done = true;
    return view;
  }
  const PlanPlot& plot = book.plots.at(book.present);
  view.plot = plot.number;
  view.block = plot.block;
  view.lane = lane_view(model, book);
  view.present = book.present;
  view.stake = stake_card(model, book);
  view.done = plots_done(model, book);
  view.all_done = view.done == book.plots.size();
  view.warning = supply_warning(model, book.plots.size() - view.done);
  view.names = entry_shown(model, book, plot);
  view.stands = stands_view(model, book);
  const Keypad& keypad = weighing.keypad;
  FieldView number = field_view(keypad, Field::kPlot);
  if (view.stake.question && view.stake.question->other) {
    number.text = view.stake.question->typed;
    number.focused = true;
  }
  view.fields.push_back(std::move(number));
  const auto add = [&](Field field, std::string_view measure, const Cell& cell) {
    view.fields.push_back(weight_view(model, trial, plot, keypad, field, measure, cell));
    if (view.stake.any()) view.fields.back().focused = false;
  };
  const Cell bag = cell_of(model, book, plot, measure::kBagNumber);
  Cell fresh;
  if (bag.claim) {
    fresh =
        cell_at(model, book, {bag_subject(*bag.claim).uuid, std::string(measure::kSampleFresh), 1});
  }
  const auto of_bag = [&](std::string_view measure) {
    return cell_at(model, book,
                   {plot_subject(model, book, plot), std::string(measure), weighing.bag});
  };
  const Cell gross = of_bag(measure::kGrossWeight);
  add(Field::kGross, measure::kGrossWeight, gross);
  add(Field::kTare, measure::kTareWeight, of_bag(measure::kTareWeight));
  add(Field::kBag, measure::kBagNumber, bag);
  add(Field::kSampleFresh, measure::kSampleFresh, fresh);
  view.can_enter = view.can_enter && !view.stake.any();
  if (!model.preferences.scale.port.empty()) {
    view.load = load_view(model);
    view.weigh = weighs(model, harvest, weighing) && !view.stake.any();
    view.load->can_take = view.load->can_take && view.can_enter;
    view.check_due = check_due(model, harvest);
    view.check = check_view(model, harvest, weighing);
  }
  view.bag = weighing.bag;
  view.together = bags_together(model, book, plot);
  view.weeds_only = weighing.weeds_only;
  // Between two bags nothing is said: what hangs so far is no plot.
  if (gross.claim) {
    view.gauge = gauge_view(model, harvest, plot);
  } else if (shows_last_gauge(model, harvest)) {
    view.gauge = gauge_view(model, harvest, *trial.plan.find_plot(harvest.gauged));
    if (view.gauge) view.gauge->plot = harvest.gauged;
  }
  if (!view.stake.any()) add_page(model, harvest, weighing, view);
  view.can_keep = view.can_enter && (!keypad.text(Field::kGross).empty() || weighing.bag > 1);
  return view;
}

OvenView oven_view(const Model& model, const OvenSheet& sheet) {
  OvenView view;
  for (const Field field : {Field::kOvenCelsius, Field::kOvenHours})
    view.fields.push_back(field_view(sheet.keypad, field));
  view.fields[0].unit = "\u00B0C";
  view.fields[1].unit = "h";
  view.until_constant = model.oven.until_constant;
  const auto finding = checks::judge_oven(view.fields[0].text, view.fields[1].text);
  if (finding == checks::OvenFinding::kUnusual) view.remark = "dry.oven_unusual";
  return view;
}

BagRow bag_row(const Model& model, const OpenBag& bag, const Cell& dried, bool chosen) {
  const KnownTrial* const trial = trial_with(model, bag.trial);
  const BagState state = bag_state(dried);
  const Cell fresh = fresh_cell(model, bag);
  BagRow row;
  row.bag = bag.bag;
  row.number = bag.number;
  row.plot = bag.plot;
  for (const std::string& plot : bag.also) row.plot += ", " + plot;
  row.trial_code = trial == nullptr ? std::string() : trial->plan.codes.trial;
  row.filled = bag.filled.ok() ? format_date(bag.filled) : std::string();
  row.days = bag.filled.ok() && model.now.local_date.ok()
                 ? days_between(bag.filled, model.now.local_date)
                 : 0;
  if (bag.part > 0) row.part = part_word(bag.part);
  row.chosen = chosen;
  row.drying = state == BagState::kDrying;
  row.on_hold = !row.drying && dried.claim && dried.claim->record.state == ValueState::kOnHold;
  row.no_fresh = state != BagState::kGone && (!fresh.claim || fresh.open());
  row.done = state == BagState::kDone;
  if (dried.claim && state == BagState::kGone) row.gone = dried.claim->record.reason;
  return row;
}

// What is known of the chosen bag: its weights with their units, and what can be said of it.
void add_chosen(const Model& model, const DryWeights& dry, const OpenBag& bag, DryView& view) {
  const KnownTrial* const trial = trial_with(model, bag.trial);
  const PlanPlot* const plot = trial == nullptr ? nullptr : trial->plan.find_plot(bag.plot);
  const Cell dried = dried_cell(model, bag);
  if (plot != nullptr) {
    view.fields[1] = weight_view(model, *trial, *plot, dry.keypad, Field::kDryFresh,
                                 measure::kSampleFresh, fresh_cell(model, bag));
    view.fields[2] = weight_view(model, *trial, *plot, dry.keypad, Field::kDryWeight,
                                 measure::kSampleDry, dried);
  }
  const BagState state = bag_state(dried);
  if (dried.claim && state == BagState::kDrying) {
    view.weighed = dried.claim->record.entered;
    view.weighed_unit = dried.claim->record.unit;
  }
  if (view.can_enter && (state == BagState::kInOven || state == BagState::kDrying))
    view.gone_reasons.assign(sample_bag::kGone.begin(), sample_bag::kGone.end());
}

}  // namespace

HarvestView harvest_view(const Model& model, const Harvest& harvest) {
  HarvestView view;
  view.head = head_view(model);
  view.trial_code = trial_of(model, harvest.book).plan.codes.trial;
  view.occasion = harvest.book.occasion.code;
  view.year = harvest.book.occasion.year;
  view.cutting = harvest.book.occasion.cutting;
  if (const auto* const head = std::get_if<RunHead>(&harvest.step)) {
    view.step = head_of_run(model, harvest, *head);
  } else {
    view.step = weighing_view(model, harvest, std::get<Weighing>(harvest.step));
  }
  return view;
}

DryView dry_view(const Model& model, const DryWeights& dry) {
  DryView view;
  view.head = head_view(model);
  view.loaded = dry.loaded;
  view.can_enter = can_enter(model);
  view.can_take_back = !dry.done.empty() && view.can_enter;
  view.done = dry.done.size();
  view.celsius = model.oven.celsius;
  view.hours = model.oven.hours;
  view.until_constant = model.oven.until_constant;
  if (dry.oven) view.oven = oven_view(model, *dry.oven);
  const std::vector<SortRow> cuttings = cuttings_to_sort(model);
  view.can_sort = !cuttings.empty();
  if (dry.which_cutting) view.cuttings = cuttings;
  const OpenBag* chosen = nullptr;
  std::vector<BagRow> gone;
  for (const OpenBag& bag : dry.bags) {
    const Cell cell = dried_cell(model, bag);
    const BagState state = bag_state(cell);
    const bool is_chosen = dry.chosen == bag.bag;
    if (is_chosen) chosen = &bag;
    const bool in_oven = state == BagState::kInOven || state == BagState::kDrying;
    BagRow row = bag_row(model, bag, cell, is_chosen);
    if (in_oven) {
      ++view.in_oven;
      if (row.no_fresh) ++view.no_fresh;
      if (view.oldest.empty() || row.filled < view.oldest) view.oldest = row.filled;
    }
    if (state == BagState::kDone && !is_chosen) continue;
    if (!is_chosen && !bag.number.starts_with(dry.keypad.text(Field::kDryBag))) continue;
    (state == BagState::kGone ? gone : view.bags).push_back(std::move(row));
  }
  std::ranges::move(gone, std::back_inserter(view.bags));
  view.fields.push_back(field_view(dry.keypad, Field::kDryBag));
  view.fields.push_back(field_view(dry.keypad, Field::kDryFresh));
  view.fields.push_back(field_view(dry.keypad, Field::kDryWeight));
  if (chosen != nullptr) add_chosen(model, dry, *chosen, view);
  view.can_keep = view.can_enter && chosen != nullptr &&
                  !(view.fields[1].text.empty() && view.fields[2].text.empty());
  return view;
}

}  // namespace ligule::flow
