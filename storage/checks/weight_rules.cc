#include "storage/checks/weight_rules.h"

#include <cmath>
#include <utility>

#include "storage/checks/sorting_rules.h"
#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule::checks {
namespace {

using Arguments = std::optional<std::vector<std::string>>;

// The weight that is about to be kept, else the one that is known.
std::optional<Kilograms> now_or(const Candidate& candidate, const Result<EnteredValue>& value,
                                std::string_view measure, const std::optional<Kilograms>& known) {
  return candidate.measure == measure ? weight(candidate, value, measure) : known;
}

// A weight and what is known of it.
struct Weighed {
  std::string_view measure;
  const std::optional<Kilograms>& known;
};
// Both weights where one of them is about to be kept, whichever comes second; empty: the other is
// not known, or it is about neither.
std::optional<std::pair<Kilograms, Kilograms>> either_of(const Candidate& candidate,
                                                         const Result<EnteredValue>& value,
                                                         const Weighed& one, const Weighed& other) {
  if (candidate.measure != one.measure && candidate.measure != other.measure) return std::nullopt;
  const auto first = now_or(candidate, value, one.measure, one.known);
  const auto second = now_or(candidate, value, other.measure, other.known);
  if (!first || !second) return std::nullopt;
  return std::pair(*first, *second);
}

// The step a scale shows weights in, as far as one of them tells: that of its last digit, and five
// of it where that is 0 or 5.
double division_of(std::string_view entered) {
  const std::size_t point = entered.find('.');
  const std::size_t decimals = point == std::string_view::npos ? 0 : entered.size() - point - 1;
  const double last = std::pow(10.0, -static_cast<double>(decimals));
  return entered.back() == '0' || entered.back() == '5' ? 5 * last : last;
}

}  // namespace

std::string number_shown(double number) {
  return format_number(std::round(number * 1000.0) / 1000.0);
}

// Either of the two may come second. A gross weight of nothing holds nothing, whatever its tare.
Arguments gross_under_tare(const Candidate& candidate, const Result<EnteredValue>& value,
                           const Plan&, const History& history) {
  if (candidate.measure != measure::kGrossWeight && candidate.measure != measure::kTareWeight)
    return std::nullopt;
  const auto gross = now_or(candidate, value, measure::kGrossWeight, history.gross);
  const auto tare = now_or(candidate, value, measure::kTareWeight, history.tare);
  if (!gross || *gross > tare.value_or(Kilograms{})) return std::nullopt;
  return std::vector<std::string>{};
}

// Arguments: the weight, the plot that weighed the same. Only where a scale tells weights apart by
// less than 4 in 1000 of them: of plots with a coefficient of variation of 15 percent, neighbours
// weigh the same by chance on 1 of 130 or fewer (division / (2 root pi standard deviations)). Two
// plots of 12 kg are nothing odd on a scale that shows whole ones.
Arguments same_weight(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                      const History& history) {
  constexpr double kTelling = 0.004;
  if (candidate.measure != measure::kGrossWeight || !value || value->entered.empty())
    return std::nullopt;
  const std::optional<double> number = value->value;
  const std::optional<EnteredWeight>& before = history.weighed_before;
  if (!number || !before || before->unit != value->unit || before->entered != value->entered ||
      division_of(value->entered) > kTelling * *number)
    return std::nullopt;
  return std::vector<std::string>{value->entered + "\u00a0" + value->unit, before->plot};
}

// Arguments: what stands, with its unit.
Arguments weighed_twice(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                        const History& history) {
  const std::optional<EnteredWeight>& here = history.weighed_here;
  if (candidate.measure != measure::kGrossWeight || !value || !here) return std::nullopt;
  if (here->entered == value->entered && here->unit == value->unit) return std::nullopt;
  return std::vector<std::string>{here->entered + "\u00a0" + here->unit};
}

// Arguments: the bag's standing tare, in the unit the new one was given in. What is left in a bag,
// or taken for it, is an error of every plot: 50 g of a quarter square metre are 320 kg/ha.
Arguments tare_differs(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                       const History& history) {
  constexpr double kMost = 0.2;  // of the standing tare
  const auto tare = weight(candidate, value, measure::kTareWeight);
  const std::optional<Kilograms> standing = history.standing_tare;
  if (!tare || !standing) return std::nullopt;
  const double apart = std::fabs(tare->value() - standing->value());
  // A millionth is what converting between units may leave.
  if (apart <= kMost * standing->value() * (1 + 1e-6)) return std::nullopt;
  const auto one = mass_in(1, value->unit);
  if (!one) return std::nullopt;
  return std::vector<std::string>{number_shown(standing->value() / one->value()) + "\u00a0" +
                                  value->unit};
}

Arguments sample_under_bag(const Candidate& candidate, const Result<EnteredValue>& value,
                           const Plan&, const History& history) {
  const auto pair = either_of(candidate, value, {measure::kSampleFresh, history.sample_fresh},
                              {measure::kBagTare, history.bag_tare});
  if (!pair || pair->first > pair->second) return std::nullopt;
  return std::vector<std::string>{};
}

Arguments dry_over_fresh(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                         const History& history) {
  const auto pair = either_of(candidate, value, {measure::kSampleDry, history.sample_dry},
                              {measure::kSampleFresh, history.sample_fresh});
  if (!pair || pair->first <= pair->second) return std::nullopt;
  return std::vector<std::string>{};
}

Arguments dry_under_bag(const Candidate& candidate, const Result<EnteredValue>& value, const Plan&,
                        const History& history) {
  const auto pair = either_of(candidate, value, {measure::kSampleDry, history.sample_dry},
                              {measure::kBagTare, history.bag_tare});
  if (!pair || pair->first > pair->second) return std::nullopt;
  return std::vector<std::string>{};
}

}  // namespace ligule::checks
