#include "sync/results/dropped_plots.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

struct OfPlot {
  std::size_t values = 0;
  std::set<std::string> measures;
  CalendarDate first{}, last{};

  void add(const Record& record) {
    const CalendarDate day = record.at.local_date;
    first = values == 0 ? day : std::min(first, day);
    last = values == 0 ? day : std::max(last, day);
    ++values;
    measures.insert(record.measure);
  }
  [[nodiscard]] std::string told() const {
    std::string days = format_date(first);
    if (first != last) days += " to " + format_date(last);
    return fmt::format("{} ({}, {})", count_of(values, "value"), fmt::join(measures, ", "), days);
  }
};

}  // namespace

std::vector<Error> dropped_plots_notices(const TrialFacts& trial, const std::string& test,
                                         std::optional<int> year) {
  std::set<Uuid> bags;
  for (const Record& number : trial.bag_numbers) bags.insert(number.id.uuid);
  std::map<Uuid, OfPlot> plots;
  for (const ledger::Claim& claim : trial.claims) {
    const Record& record = claim.record;
    if (!record.occasion || !record.subject || record.purpose != Purpose::kSurvey) continue;
    const Uuid& subject = *record.subject;
    const PlanOccasion* const occasion = trial.plan.find_occasion(*record.occasion);
    // Of an occasion that was dropped all values are named where its tables would be made.
    if (occasion == nullptr || (year && occasion->year != *year)) continue;
    if (bags.contains(subject) || trial.plan.find_plot(PlotId{subject}) != nullptr) continue;
    plots[subject].add(record);
  }
  std::vector<Error> notices;
  notices.reserve(plots.size());
  for (const auto& [plot, values] : plots)
    notices.push_back({ErrorKind::kRefused,
                       values.told() + " of a plot that the plan no longer has", test,
                       "they stand in no table until a revision has it again"});
  return notices;
}

}  // namespace ligule::results
