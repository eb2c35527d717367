#include "sync/desk/arguments.h"

#include <charconv>

namespace ligule::desk {

bool Arguments::has(std::string_view name) const {
  return values_.contains(name);
}

std::optional<std::string> Arguments::find(std::string_view name) const {
  const auto found = values_.find(name);
  if (found == values_.end() || found->second.empty()) return std::nullopt;
  return found->second.back();
}

std::string Arguments::text(std::string_view name) const {
  return find(name).value_or("");
}

std::vector<std::string> Arguments::all(std::string_view name) const {
  const auto found = values_.find(name);
  return found == values_.end() ? std::vector<std::string>() : found->second;
}

Result<std::optional<long>> Arguments::whole_number(std::string_view name, long least,
                                                    long most) const {
  const std::optional<std::string> text = find(name);
  if (!text) return std::nullopt;
  long number = 0;
  const char* end = text->data() + text->size();
  const auto [stop, error] = std::from_chars(text->data(), end, number);
  if (error != std::errc() || stop != end || number < least || number > most) {
    return fail(
        ErrorKind::kInvalid, "\"" + *text + "\" cannot be used", std::string(name),
        "give a whole number from " + std::to_string(least) + " to " + std::to_string(most));
  }
  return number;
}

}  // namespace ligule::desk
