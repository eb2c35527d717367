#include "sync/results/cut_width.h"

#include <cmath>
#include <optional>

#include "storage/trial/details.h"
#include "storage/trial/length_text.h"
#include "storage/trial/quantity.h"

namespace ligule::results {
namespace {

constexpr double kTolerance = 0.02;  // a tape measure in the field is no better

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
    // Without a unit it is no length that could be compared.
    const std::optional<double> cut = inches_of(words->second, "");
    if (!cut || std::fabs(Inches(*cut) / convert<Inches>(*planned) - 1.0) <= kTolerance) continue;
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
