// UTF-8 as RFC 3629 defines it: no overlong forms, no surrogates, nothing above U+10FFFF.
#pragma once

#include <string>
#include <string_view>

namespace ligule {

[[nodiscard]] bool is_valid_utf8(std::string_view text);
// Each byte that does not belong to a valid sequence becomes U+FFFD.
[[nodiscard]] std::string with_valid_utf8(std::string_view text);

}  // namespace ligule
