#include "sync/gather/file_lines.h"

#include <algorithm>

namespace ligule::gather {

std::vector<std::string_view> lines_of(std::string_view text) {
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  std::vector<std::string_view> lines;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find_first_of("\r\n"), text.size());
    lines.push_back(text.substr(0, end));
    const bool both = text.substr(end, 2) == "\r\n";
    text.remove_prefix(std::min(text.size(), end + (both ? 2 : 1)));
  }
  return lines;
}

}  // namespace ligule::gather
