#include "storage/files/json_fault.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <string>

namespace ligule::files {

Error json_fault(std::string_view text, std::string_view file) {
  std::size_t at = text.size();
  try {
    // Only the exception tells the place; the readers themselves ask for none.
    [[maybe_unused]] const auto parsed = nlohmann::json::parse(text);
  } catch (const nlohmann::json::parse_error& error) {
    at = std::min(error.byte, text.size());
  }
  const auto line = std::ranges::count(text.substr(0, at == 0 ? 0 : at - 1), '\n') + 1;
  return {ErrorKind::kInvalid, "the text is not JSON from here on",
          std::string(file) + " line " + std::to_string(line),
          "look for a missing comma, quote or bracket here or just before"};
}

}  // namespace ligule::files
