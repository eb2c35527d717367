#include "sync/results/scale_doubts.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "storage/trial/details.h"
#include "storage/trial/scale_check.h"

namespace ligule::results {
namespace {

// Where a weight stands.
struct Place {
  std::size_t trial = 0;
  const PlanOccasion* cutting = nullptr;
  std::size_t plot = 0;  // in the plan

  auto operator<=>(const Place&) const = default;
};

std::string scale_of(const LedgerFacts& facts, StreamId stream, const std::string& port) {
  const auto tablet = facts.tablets.find(stream);
  return (tablet == facts.tablets.end() ? stream : tablet->second).text() + " " + port;
}

std::vector<scale_check::Check> checks_of(const LedgerFacts& facts) {
  std::vector<scale_check::Check> checks;
  for (const TrialFacts& trial : facts.trials) {
    for (const Record& check : trial.checks) {
      const std::string port = detail(check.details, std::string(scale_check::kPort));
      checks.push_back({&check, scale_of(facts, check.stream, port)});
    }
  }
  return checks;
}

// The scales that may have given a weight: one, or where nobody wrote down which, all of the
// tablet.
std::vector<std::string> scales_of(const LedgerFacts& facts, const Record& weight,
                                   const Record* run,
                                   const std::vector<scale_check::Check>& checks) {
  const StreamId stream = run == nullptr ? weight.stream : run->stream;
  const std::string port = scale_check::port_of(weight, run);
  const std::string scale = scale_of(facts, stream, port);
  if (!port.empty()) return {scale};
  std::set<std::string> all;
  for (const scale_check::Check& check : checks)
    if (check.scale.starts_with(scale)) all.insert(check.scale);
  return {all.begin(), all.end()};
}

std::optional<Place> place_of(const LedgerFacts& facts, std::size_t trial, const Record& weight) {
  const Plan& plan = facts.trials[trial].plan;
  if (!weight.subject || !weight.occasion) return std::nullopt;
  const PlanPlot* const plot = plan.find_plot(PlotId{*weight.subject});
  const PlanOccasion* const cutting = plan.find_occasion(*weight.occasion);
  if (plot == nullptr || cutting == nullptr) return std::nullopt;
  return Place{trial, cutting, static_cast<std::size_t>(plot - plan.plots.data())};
}

Error notice_of(const Record& check, const std::string& plots, const std::string& where) {
  return {ErrorKind::kRefused,
          "the scale was off by " + scale_check::off_by(check) + " on " +
              format_date(check.at.local_date) + " at " + format_clock(check.at) +
              ", and nobody answered for what it weighed since it was right: " + plots,
          where,
          "open the cutting on the tablet and answer, or put the weights right in Review; until "
          "then they count"};
}

}  // namespace

std::vector<Error> scale_notices(const LedgerFacts& facts, std::span<const std::string> names,
                                 std::optional<int> year) {
  const std::vector<scale_check::Check> checks = checks_of(facts);
  std::vector<scale_check::Weight> weights;
  std::vector<Place> places;
  for (std::size_t n = 0; n < facts.trials.size(); ++n) {
    const TrialFacts& trial = facts.trials[n];
    for (const ledger::Claim& claim : trial.claims) {
      const Record& record = claim.record;
      if (record.measure != measure::kGrossWeight || record.source != Source::kScale ||
          record.state != ValueState::kValue || record.purpose != Purpose::kSurvey)
        continue;
      const auto place = place_of(facts, n, record);
      if (!place || (year && place->cutting->year != *year)) continue;
      const auto weighed = trial.weighed.find(record.id);
      const Stamp& at = weighed == trial.weighed.end() ? record.at : weighed->second;
      for (std::string& scale :
           scales_of(facts, record, scale_check::run_of(trial.runs, record), checks)) {
        weights.push_back({&record, std::move(scale), at.utc});
        places.push_back(*place);
      }
    }
  }
  std::vector<Error> notices;
  for (const scale_check::Doubt& doubt : scale_check::doubts(checks, weights)) {
    std::map<std::pair<std::size_t, std::string>, std::set<Place>> cuttings;  // trial, code
    for (const std::size_t weight : doubt.weights) {
      const Place& place = places[weight];
      cuttings[{place.trial, place.cutting->code}].insert(place);
    }
    for (const auto& [cutting, plots] : cuttings) {
      std::string listed = plots.size() == 1 ? "plot" : "plots";
      const char* mark = " ";
      for (const Place& place : plots) {
        listed += mark + facts.trials[place.trial].plan.plots[place.plot].number;
        mark = ", ";
      }
      notices.push_back(
          notice_of(*doubt.check, listed, names[cutting.first] + " " + cutting.second));
    }
  }
  return notices;
}

}  // namespace ligule::results
