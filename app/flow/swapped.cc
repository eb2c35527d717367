#include "app/flow/swapped.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>
#include <vector>

#include "app/flow/bags.h"
#include "app/flow/gauge.h"
#include "storage/checks/expected_weight.h"
#include "storage/trial/details.h"

namespace ligule::flow {
namespace {

constexpr std::array<std::string_view, 2> kWeights{measure::kGrossWeight, measure::kTareWeight};

bool inside(const checks::ExpectedWeight& expected, double net) {
  return net >= expected.lowest && net <= expected.highest;
}

// Plots of one test often differ by a tenth for no reason: common practice, no source.
constexpr double kLeastApart = 0.2;  // of the heavier
bool far_apart(double a, double b) {
  return std::fabs(a - b) >= kLeastApart * std::max(a, b);
}

// Not only just inside: two weights at the edges of their ranges are no exchange.
bool well_inside(const checks::ExpectedWeight& expected, double net) {
  return std::fabs(net - expected.middle) <= (expected.highest - expected.middle) / 2;
}

// Each in one bag, with a tare or both without: else an exchange would be more than two weights.
bool can_be_exchanged(const Model& model, const Book& book, const PlanPlot& one,
                      const PlanPlot& other) {
  const auto parts = [&](const PlanPlot& plot, std::string_view measure) {
    return parts_of(model, book, plot_subject(model, book, plot), measure);
  };
  return parts(one, measure::kGrossWeight) == std::vector<int>{1} &&
         parts(other, measure::kGrossWeight) == std::vector<int>{1} &&
         parts(one, measure::kTareWeight) == parts(other, measure::kTareWeight);
}

bool fit_each_other(const Model& model, const Harvest& harvest, const PlanPlot& one,
                    const PlanPlot& other) {
  const auto a = weighed_plot(model, harvest, one);
  const auto b = weighed_plot(model, harvest, other);
  if (!a || !b || !far_apart(a->net, b->net)) return false;
  if (!can_be_exchanged(model, harvest.book, one, other)) return false;
  std::vector<checks::WeighedPlot> others;
  for (const PlanPlot& plot : harvest.book.plots) {
    if (plot.number == one.number || plot.number == other.number) continue;
    if (auto weighed = weighed_plot(model, harvest, plot)) others.push_back(*std::move(weighed));
  }
  const auto for_a = checks::expected_weight(others, *a);
  const auto for_b = checks::expected_weight(others, *b);
  return for_a && for_b && !inside(*for_a, a->net) && !inside(*for_b, b->net) &&
         well_inside(*for_a, b->net) && well_inside(*for_b, a->net);
}

std::pair<std::string, std::string> pair_of(const std::string& one, const std::string& other) {
  return std::minmax(one, other);
}

const PlanPlot* plot_in(const Book& book, std::string_view number) {
  const auto place = place_of(book, number);
  return place ? &book.plots.at(*place) : nullptr;
}

std::string weight_text(const Model& model, const Book& book, const PlanPlot& plot) {
  const Cell cell = cell_of(model, book, plot, measure::kGrossWeight);
  if (!cell.claim) return {};
  return cell.claim->record.entered + "\u00a0" + cell.claim->record.unit;
}

// The claim as what stands on another plot.
Record moved(const Turn& turn, const KnownClaim& from, const KnownClaim& to) {
  Record record = restated(turn, from.record, kind::kCorrection);
  record.subject = to.record.subject;
  record.targets = {to.record.id};
  record.reason = "exchanged";
  Details details = parse_details(record.details).value_or(Details{});
  details["moved_from"] = from.record.id.text();
  record.details = details_text(details);
  return record;
}

}  // namespace

void look_for_exchange(Turn& turn, Harvest& harvest, const std::string& plot) {
  Model& model = turn.model;
  const Book& book = harvest.book;
  const auto place = place_of(book, plot);
  if (!place || model.asking) return;
  for (const int step : {-1, 1}) {
    if ((step < 0 && *place == 0) || (step > 0 && *place + 1 == book.plots.size())) continue;
    const PlanPlot& one = book.plots[*place];
    const PlanPlot& other = book.plots[step < 0 ? *place - 1 : *place + 1];
    if (harvest.told_apart.contains(pair_of(one.number, other.number))) continue;
    if (!fit_each_other(model, harvest, one, other)) continue;
    model.swapped = Swapped{book.id, one.number, other.number};
    return turn.run(Cue{CueKind::kQuestioned});
  }
}

void answer_swapped(Turn& turn, bool exchange) {
  Model& model = turn.model;
  if (!model.swapped) return;
  const Swapped swapped = *std::move(model.swapped);
  model.swapped.reset();
  auto* const harvest = on<Harvest>(turn);
  if (harvest == nullptr || harvest->book.id != swapped.occasion) return;
  harvest->told_apart.insert(pair_of(swapped.one, swapped.other));
  const Book& book = harvest->book;
  const PlanPlot* const one = plot_in(book, swapped.one);
  const PlanPlot* const other = plot_in(book, swapped.other);
  if (!exchange || one == nullptr || other == nullptr) return;
  Act act;
  act.kind = ActKind::kStated;
  act.trial = trial_of(model, book).plan.id();
  act.occasion = book.id;
  act.plot = book.plots.at(book.present).number;
  for (const std::string_view measure : kWeights) {
    const Cell a = cell_of(model, book, *one, measure);
    const Cell b = cell_of(model, book, *other, measure);
    if (!a.claim || !b.claim) continue;
    act.records.push_back(moved(turn, *b.claim, *a.claim));
    act.before.push_back(a.claim);
    act.records.push_back(moved(turn, *a.claim, *b.claim));
    act.before.push_back(b.claim);
  }
  if (!act.records.empty()) commit(turn, std::move(act));
}

void wait_with_exchange(Model& model, std::optional<PersonId> person) {
  if (!model.swapped) return;
  model.swapped_waits = WaitingSwapped{*std::move(model.swapped), person};
  model.swapped.reset();
}

void ask_waiting_exchange(Turn& turn) {
  Model& model = turn.model;
  auto* const harvest = on<Harvest>(turn);
  if (!model.swapped_waits || harvest == nullptr || !model.person || model.unsaved) return;
  const WaitingSwapped& waits = *model.swapped_waits;
  if (waits.asked.occasion != harvest->book.id ||
      (waits.person && waits.person != model.person->id))
    return;
  const std::string plot = waits.asked.one;
  model.swapped_waits.reset();
  look_for_exchange(turn, *harvest, plot);
}

SwappedView swapped_view(const Model& model, const Swapped& swapped) {
  const auto* const harvest = std::get_if<Harvest>(&model.screen);
  SwappedView view{swapped.one, "", swapped.other, ""};
  if (harvest == nullptr) return view;
  if (const PlanPlot* const plot = plot_in(harvest->book, swapped.one))
    view.one_weight = weight_text(model, harvest->book, *plot);
  if (const PlanPlot* const plot = plot_in(harvest->book, swapped.other))
    view.other_weight = weight_text(model, harvest->book, *plot);
  return view;
}

}  // namespace ligule::flow
