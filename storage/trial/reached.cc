#include "storage/trial/reached.h"

#include <algorithm>

namespace ligule {
namespace {

date::sys_days first_of(int year) {
  return date::sys_days(date::year(year) / date::January / 1);
}

}  // namespace

Reached reached_of(std::span<const Visit> visits) {
  Reached found;
  std::optional<int> last_no;
  for (const Visit& visit : visits) {
    if (visit.reached)
      found.first_yes = std::min(found.first_yes.value_or(visit.day), visit.day);
    else
      last_no = std::max(last_no.value_or(visit.day), visit.day);
  }
  if (found.first_yes && last_no && *last_no >= *found.first_yes)
    return {std::nullopt, std::nullopt, true};
  found.last_not = last_no;
  return found;
}

int visit_part(CalendarDate date, int year) {
  return std::max(1, day_of_year(date, year - 1));
}

CalendarDate visit_date(int part, int year) {
  return CalendarDate(first_of(year - 1) + date::days(part - 1));
}

int day_of_year(CalendarDate date, int year) {
  return static_cast<int>((date::sys_days(date) - first_of(year)).count()) + 1;
}

bool says_not_yet(const Record& record) {
  return record.entered == kNotYetCode && record.value == 0.0;
}

}  // namespace ligule
