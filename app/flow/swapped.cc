#include "app/flow/swapped.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string_view>
#include <vector>

#include "app/flow/bags.h"
#include "app/flow/gauge.h"
#include "storage/checks/exchanged.h"
#include "storage/checks/expected_weight.h"
#include "storage/trial/details.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

constexpr std::array<std::string_view, 2> kWeights{measure::kGrossWeight, measure::kTareWeight};

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

checks::WeighedPath weighed_in_order(const Model& model, const Harvest& harvest) {
  checks::WeighedPath weighed;
  for (const PlanPlot& plot : harvest.book.plots)
    weighed.push_back(weighed_plot(model, harvest.book, plot));
  return weighed;
}

// Pairs held against a fit of their own after each weight; one costs a millisecond or so.
constexpr std::size_t kMostPairs = 24;

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
  details.erase(std::string(checks::kApartFrom));
  details.erase(std::string(checks::kApartWeight));
  record.details = details_text(details);
  return record;
}

// The claim, as one that was not exchanged with a neighbour's. Either of the two may be put right
// later and forget it.
Record told_beside(const Turn& turn, const KnownClaim& weight, const std::string& other,
                   const KnownClaim& beside) {
  Record record = restated(turn, weight.record, kind::kCorrection);
  record.targets = {weight.record.id};
  record.reason = checks::kWeightsRight;
  Details details = parse_details(record.details).value_or(Details{});
  details[std::string(checks::kApartFrom)] = other;
  details[std::string(checks::kApartWeight)] = beside.record.entered + " " + beside.record.unit;
  record.details = details_text(details);
  return record;
}

// What the neighbour weighed then; empty: a record from before that was kept with it.
std::optional<Kilograms> weight_told(const std::string& details) {
  const std::string told = detail(details, std::string(checks::kApartWeight));
  const std::size_t space = told.find(' ');
  const auto number = parse_number(told.substr(0, space));
  if (space == std::string::npos || !number) return std::nullopt;
  const auto mass = mass_in(*number, told.substr(space + 1));
  return mass ? std::optional(*mass) : std::nullopt;
}

// Somebody said that each weight is its own, and the neighbour's is still what it was.
bool told_apart(const Model& model, const Book& book, const PlanPlot& one, const PlanPlot& other) {
  const auto says_so = [&](const PlanPlot& plot, const PlanPlot& beside) {
    const Cell told = cell_of(model, book, plot, measure::kGrossWeight);
    const Cell now = cell_of(model, book, beside, measure::kGrossWeight);
    if (!told.claim || !now.claim) return false;
    const std::string& details = told.claim->record.details;
    if (detail(details, std::string(checks::kApartFrom)) != beside.number) return false;
    const auto then = weight_told(details);
    const auto weight = said::mass_of(now.claim->record);
    return !then || !weight || checks::is_still_apart(then->value(), weight->value());
  };
  return says_so(one, other) || says_so(other, one);
}

}  // namespace

void look_for_exchange(Turn& turn, const Harvest& harvest, const std::string& plot) {
  Model& model = turn.model;
  const Book& book = harvest.book;
  const auto place = place_of(book, plot);
  if (!place || model.asking) return;
  const checks::WeighedPath weighed = weighed_in_order(model, harvest);
  std::vector<std::size_t> pairs = checks::neighbours_apart(weighed);
  // One fit of all is a fraction of a fit for each.
  if (pairs.size() > 1) checks::drop_unlikely(weighed, pairs);
  std::erase_if(pairs, [&](std::size_t first) {
    const PlanPlot& one = book.plots[first];
    const PlanPlot& other = book.plots[first + 1];
    return told_apart(model, book, one, other) || !can_be_exchanged(model, book, one, other);
  });
  // Nearest to the plot first: that is where a crew still knows.
  std::ranges::stable_sort(pairs, {}, [&](std::size_t first) {
    return first < *place ? *place - first - 1 : first - *place;
  });
  if (pairs.size() > kMostPairs) pairs.resize(kMostPairs);
  const auto found = std::ranges::find_if(
      pairs, [&](std::size_t first) { return checks::probably_exchanged(weighed, first); });
  if (found == pairs.end()) return;
  const bool behind = *found < *place;
  model.swapped = Swapped{book.id, book.plots[behind ? *found + 1 : *found].number,
                          book.plots[behind ? *found : *found + 1].number};
  turn.run(Cue{CueKind::kQuestioned});
}

void answer_swapped(Turn& turn, bool exchange) {
  Model& model = turn.model;
  if (!model.swapped) return;
  const Swapped swapped = *std::move(model.swapped);
  model.swapped.reset();
  auto* const harvest = on<Harvest>(turn);
  if (harvest == nullptr || harvest->book.id != swapped.occasion) return;
  const Book& book = harvest->book;
  const PlanPlot* const one = plot_in(book, swapped.one);
  const PlanPlot* const other = plot_in(book, swapped.other);
  if (one == nullptr || other == nullptr) return;
  Act act;
  act.kind = ActKind::kStated;
  act.trial = trial_of(model, book).plan.id();
  act.occasion = book.id;
  act.plot = book.plots.at(book.present).number;
  if (!exchange) {
    const Cell weight = cell_of(model, book, *one, measure::kGrossWeight);
    const Cell beside = cell_of(model, book, *other, measure::kGrossWeight);
    if (!weight.claim || !beside.claim) return;
    act.records.push_back(told_beside(turn, *weight.claim, other->number, *beside.claim));
    act.records.back().answers.push_back(
        {std::string(checks::kExchanged), std::string(checks::kWeightsRight)});
    act.records.push_back(told_beside(turn, *beside.claim, one->number, *weight.claim));
    act.before = {weight.claim, beside.claim};
    commit(turn, std::move(act));
    return look_for_exchange(turn, *harvest, swapped.one);
  }
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
  look_for_exchange(turn, *harvest, swapped.one);
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
