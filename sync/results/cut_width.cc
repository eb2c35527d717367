#include "sync/results/cut_width.h"

#include <cmath>
#include <optional>

#include "storage/trial/details.h"
#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule::results {
namespace {

constexpr double kTolerance = 0.02;  // a tape measure in the field is no better

// "36 in", "36in", "0.91 m"; nothing for any other words.
std::optional<Metres> length_of(const std::string& words) {
  const std::size_t end = words.find_first_not_of("0123456789.");
  if (end == std::string::npos) return std::nullopt;
  const std::size_t unit = words.find_first_not_of(' ', end);
  if (unit == std::string::npos) return std::nullopt;
  const Result<double> number = parse_number(words.substr(0, end));
  if (!number) return std::nullopt;
  const Result<Metres> length = length_in(*number, words.substr(unit));
  if (!length) return std::nullopt;
  return *length;
}

}  // namespace

std::vector<Error> cut_width_notices(const TrialFacts& trial, const std::string& test) {
  std::vector<Error> notices;
  const Result<Metres> planned = trial.plan.swath_width.metres();
  if (!planned) return notices;
  for (const Record& run : trial.runs) {
    const Result<Details> details = parse_details(run.details);
    if (!details || !run.occasion) continue;
    const auto words = details->find("cut_width");
    if (words == details->end()) continue;
    const std::optional<Metres> cut = length_of(words->second);
    if (!cut || std::fabs(*cut / *planned - 1.0) <= kTolerance) continue;
    const PlanOccasion* cutting = trial.plan.find_occasion(*run.occasion);
    notices.push_back(
        {ErrorKind::kRefused,
         "the crew wrote down a cut width of " + words->second +
             ", the plan has a swath width of " + trial.plan.swath_width.text + " " +
             trial.plan.swath_width.unit,
         test + " " + (cutting == nullptr ? std::string("harvest run") : cutting->code),
         "yields are per the plan's swath; revise the plan, or measure the swath on the plots"});
  }
  return notices;
}

}  // namespace ligule::results
