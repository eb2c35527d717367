// The details cell of a record: a JSON object whose values are texts, keys sorted, no white space.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "storage/trial/error.h"

namespace ligule {

using Details = std::map<std::string, std::string>;

// Empty text for an empty map. Values must be valid UTF-8.
[[nodiscard]] std::string details_text(const Details& details);
// kInvalid unless it is an object of texts.
[[nodiscard]] Result<Details> parse_details(std::string_view text);
// One of them; empty where it is absent, or the text is no details.
[[nodiscard]] std::string detail(std::string_view text, const std::string& key);

}  // namespace ligule
