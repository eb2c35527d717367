#include "sync/results/unplanned.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

struct Unplanned {
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

bool is_left_out(const Record& record, std::optional<int> year) {
  return record.purpose != Purpose::kSurvey ||
         (year && static_cast<int>(record.at.local_date.year()) != *year);
}

}  // namespace

std::vector<Error> unplanned_notices(const TrialFacts& trial, const std::string& test,
                                     std::optional<int> year) {
  std::set<Uuid> bags;
  for (const Record& number : trial.bag_numbers) bags.insert(number.id.uuid);
  std::map<OccasionId, Unplanned> occasions;
  std::map<Uuid, Unplanned> plots;
  for (const ledger::Claim& claim : trial.claims) {
    const Record& record = claim.record;
    const std::optional<OccasionId>& occasion = record.occasion;
    const std::optional<Uuid>& subject = record.subject;
    if (!occasion || !subject || is_left_out(record, year)) continue;
    if (trial.plan.find_occasion(*occasion) == nullptr)
      occasions[*occasion].add(record);
    else if (!bags.contains(*subject) && trial.plan.find_plot(PlotId{*subject}) == nullptr)
      plots[*subject].add(record);
  }
  std::vector<Error> notices;
  notices.reserve(occasions.size() + plots.size());
  for (const auto& [occasion, values] : occasions)
    notices.push_back({ErrorKind::kRefused,
                       values.told() + " of a rating or cutting that the plan no longer names",
                       test, "they stand in no table until a revision names it again"});
  for (const auto& [plot, values] : plots)
    notices.push_back({ErrorKind::kRefused,
                       values.told() + " of a plot that the plan no longer has", test,
                       "they stand in no table until a revision has it again"});
  return notices;
}

}  // namespace ligule::results
