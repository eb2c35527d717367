#include "sync/results/from_paper.h"

#include <set>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

struct FromPaperCount {
  std::size_t values = 0;
  std::set<Uuid> weighed;  // plots
};

FromPaperCount from_paper(const TrialFacts& trial, const PlanOccasion& occasion) {
  FromPaperCount count;
  const OccasionId id = trial.plan.occasion(occasion);
  for (const ledger::Claim& claim : trial.claims) {
    const Record& record = claim.record;
    if (record.source != Source::kPaper || record.occasion != id ||
        record.purpose != Purpose::kSurvey)
      continue;
    ++count.values;
    if (record.measure == measure::kGrossWeight && record.subject)
      count.weighed.insert(*record.subject);
  }
  return count;
}

}  // namespace

std::vector<Footing> paper_footings(const TrialFacts& trial, const std::string& test) {
  std::vector<Footing> footings;
  for (const PlanOccasion& occasion : trial.plan.occasions) {
    if (occasion.job != Job::kHarvest) continue;
    const std::size_t plots = from_paper(trial, occasion).weighed.size();
    if (plots > 0)
      footings.push_back(
          {test, occasion.year, occasion.cutting,
           "Weights of " + count_of(plots, "plot") + " were written on paper and typed in later."});
  }
  return footings;
}

std::vector<Error> paper_notices(const TrialFacts& trial, const std::string& test,
                                 std::optional<int> year) {
  std::vector<Error> notices;
  for (const PlanOccasion& occasion : trial.plan.occasions) {
    if (occasion.job != Job::kRate || (year && occasion.year != *year)) continue;
    const std::size_t values = from_paper(trial, occasion).values;
    if (values > 0)
      notices.push_back({ErrorKind::kRefused,
                         count_of(values, "value") + " of " + occasion.code + " came from paper",
                         test, "they count; keep the sheets"});
  }
  return notices;
}

}  // namespace ligule::results
