#include "app/work/scale_reach.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <utility>

#include "storage/trial/details.h"
#include "storage/trial/scale_check.h"

namespace ligule::work {

CalendarDate reached_back(const std::vector<Record>& checks, const std::vector<Record>& runs) {
  date::sys_days newest{};
  for (const auto* records : {&checks, &runs})
    if (!records->empty()) newest = std::max(newest, date::sys_days{records->back().at.local_date});
  const CalendarDate farthest{newest - date::days{scale_check::kReachDays}};
  std::map<std::string, CalendarDate> from;  // by port
  for (const Record& run : runs) {
    if (std::string port = scale_check::port_of({}, &run); !port.empty())
      from.try_emplace(std::move(port), farthest);
  }
  std::set<std::string> off;
  for (const Record& check : checks) {
    const std::string port = detail(check.details, std::string(scale_check::kPort));
    CalendarDate& day = from.try_emplace(port, farthest).first->second;
    if (!scale_check::is_good(check)) {
      if (check.at.local_date >= farthest) off.insert(port);
    } else if (!off.contains(port)) {
      day = check.at.local_date;
    }
  }
  CalendarDate earliest = from.empty() ? farthest : CalendarDate{newest};
  for (const auto& [port, day] : from) earliest = std::min(earliest, day);
  return std::max(earliest, farthest);
}

}  // namespace ligule::work
