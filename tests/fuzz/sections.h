// Several files in one input, so that the fuzzer can exchange parts of them:
//
//   === plots.csv
//   what stands in it, to the next such line
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ligule::fuzz {

inline constexpr std::string_view kSectionMark = "=== ";

using Section = std::pair<std::string, std::string_view>;

// Names and contents, in order; what stands before the first mark belongs to none.
inline std::vector<Section> sections(std::string_view input) {
  std::vector<Section> found;
  while (!input.empty()) {
    // A mark counts at the beginning of a line only.
    std::size_t next = input.find("\n=== ", 1);
    next = next == std::string_view::npos ? input.size() : next + 1;
    if (std::string_view part = input.substr(0, next); part.starts_with(kSectionMark)) {
      part.remove_prefix(kSectionMark.size());
      const std::size_t end = part.find('\n');
      const std::string_view name = part.substr(0, end);
      part.remove_prefix(end == std::string_view::npos ? part.size() : end + 1);
      // The line end in front of a mark is the mark's.
      if (next < input.size() && part.ends_with('\n')) part.remove_suffix(1);
      found.emplace_back(name, part);
    }
    input.remove_prefix(next);
  }
  return found;
}

inline std::string section(std::string_view name, std::string_view content) {
  std::string text(kSectionMark);
  text.append(name).append("\n").append(content).append("\n");
  return text;
}

}  // namespace ligule::fuzz
