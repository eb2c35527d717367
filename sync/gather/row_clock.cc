#include "sync/gather/row_clock.h"

#include <string>

#include "storage/trial/no_entry.h"
#include "storage/trial/number.h"

namespace ligule::gather {

std::optional<RowClock> parse_row_clock(std::string_view text) {
  RowClock clock;
  if (text.size() > 11 && (text[10] == ' ' || text[10] == 'T')) {
    const auto day = parse_date(text.substr(0, 10));
    if (!day) return std::nullopt;
    clock.day = *day;
    text.remove_prefix(11);
  }
  std::string hour(text);
  const std::size_t first = text.find(':');
  const std::size_t second = first == std::string_view::npos ? first : text.find(':', first + 1);
  if (second != std::string_view::npos) {
    const auto seconds = parse_integer(text.substr(second + 1, 2));
    if (!seconds || *seconds > 60 || second + 3 > text.size()) return std::nullopt;
    hour.erase(second, 3);
  }
  const auto minutes = parse_clock(hour);
  if (!minutes) return std::nullopt;
  clock.since_midnight = *minutes;
  return clock;
}

}  // namespace ligule::gather
