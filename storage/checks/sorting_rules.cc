#include "storage/checks/sorting_rules.h"

#include "storage/trial/composition.h"
#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule::checks {
namespace {

using Arguments = std::optional<std::vector<std::string>>;

// A subsample that was sorted: whole and sum of its parts, bags taken off.
struct Sorted {
  Kilograms whole;
  Kilograms parts;
  bool all = false;  // no part is still to come
};
std::optional<Sorted> sorted_with(const Candidate& candidate, const Result<EnteredValue>& value,
                                  const History& history) {
  std::optional<Kilograms> whole = history.separated_whole;
  std::optional<Kilograms> parts = history.separated_parts;
  const Kilograms bag = history.bag_tare.value_or(Kilograms{});
  if (const auto now = weight(candidate, value, measure::kSeparatedFresh)) {
    whole = *now - bag;
  } else if (const auto part = weight(candidate, value, measure::kSampleFresh)) {
    if (!parts) return std::nullopt;
    parts = *parts + (*part - bag);
  } else {
    return std::nullopt;
  }
  if (!whole || !parts || *whole <= Kilograms{}) return std::nullopt;
  return Sorted{*whole, *parts, history.separated_all};
}

// Arguments: the parts in percent of the whole.
Arguments in_percent(const Sorted& sorted) {
  return std::vector<std::string>{format_fixed(100 * (sorted.parts / sorted.whole), 1)};
}
// A billionth is what taking bags off may leave.
constexpr double kRoundingOfSums = 1e-9;

Arguments apart(const Sorted& sorted, bool heavy) {
  const double over = sorted.parts / sorted.whole - 1;
  if (heavy)
    return over > composition::kTolerance + kRoundingOfSums ? in_percent(sorted) : std::nullopt;
  const bool light = sorted.all && -over > composition::kTolerance + kRoundingOfSums;
  return light ? in_percent(sorted) : std::nullopt;
}

}  // namespace

std::optional<Kilograms> weight(const Candidate& candidate, const Result<EnteredValue>& value,
                                std::string_view measure) {
  if (candidate.measure != measure || !value) return std::nullopt;
  const std::optional<double> number = value->value;
  if (!number) return std::nullopt;
  const auto mass = mass_in(*number, value->unit);
  if (!mass) return std::nullopt;
  return *mass;
}

Arguments parts_heavy(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                      const History& history) {
  const auto sorted = sorted_with(candidate, value, history);
  return sorted ? apart(*sorted, true) : std::nullopt;
}

Arguments parts_light(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                      const History& history) {
  const auto sorted = sorted_with(candidate, value, history);
  return sorted ? apart(*sorted, false) : std::nullopt;
}

Arguments separated_under_bag(const Candidate& candidate, const Result<EnteredValue>& value,
                              const Plan&, const History& history) {
  const auto whole = weight(candidate, value, measure::kSeparatedFresh);
  if (!whole || !history.bag_tare || *whole > *history.bag_tare) return std::nullopt;
  return std::vector<std::string>{};
}

std::vector<Finding> judge_parts(const History& history) {
  if (!history.separated_whole || !history.separated_parts ||
      *history.separated_whole <= Kilograms{})
    return {};
  const Sorted sorted{*history.separated_whole, *history.separated_parts, history.separated_all};
  for (const bool heavy : {true, false}) {
    if (auto arguments = apart(sorted, heavy))
      return {{find_rule(heavy ? "parts_heavy" : "parts_light"), std::move(*arguments)}};
  }
  return {};
}

}  // namespace ligule::checks
