#include "storage/trial/details.h"

#include <nlohmann/json.hpp>

namespace ligule {

using nlohmann::json;

std::string details_text(const Details& details) {
  if (details.empty()) return {};
  return json(details).dump(-1, ' ', false, json::error_handler_t::replace);
}

Result<Details> parse_details(std::string_view text) {
  Details details;
  if (text.empty()) return details;
  const json parsed = json::parse(text, nullptr, /*allow_exceptions=*/false);
  if (parsed.is_discarded()) return fail(ErrorKind::kInvalid, "the text is not JSON");
  if (!parsed.is_object()) return fail(ErrorKind::kInvalid, "the details are not an object");
  for (const auto& [key, value] : parsed.items()) {
    if (!value.is_string()) return fail(ErrorKind::kInvalid, "detail '" + key + "' is not a text");
    details[key] = value.get<std::string>();
  }
  return details;
}

std::string detail(std::string_view text, const std::string& key) {
  const auto details = parse_details(text);
  if (!details) return {};
  const auto at = details->find(key);
  return at == details->end() ? std::string() : at->second;
}

}  // namespace ligule
