// Where a text stops being JSON that can be read.
#pragma once

#include <string_view>

#include "storage/trial/error.h"

namespace ligule::files {

// The fault of a text that is not JSON, or has a number that none here can hold (1e400), with the
// line it is at: kInvalid, "words.json line 7". For texts a JSON reader has refused already.
[[nodiscard]] Error json_fault(std::string_view text, std::string_view file);

}  // namespace ligule::files
