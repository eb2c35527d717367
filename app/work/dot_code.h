// Codes for a scanner, as QR codes (ISO/IEC 18004) by libqrencode.
#pragma once

#include <string_view>

#include "app/flow/known.h"

namespace ligule::work {

// The smallest code of a text, its bytes as they are, a sixth of which may be scratched or in the
// sun (level M). kInvalid for more than a code holds (2,331 bytes) and for nothing.
[[nodiscard]] Result<flow::DotCode> dot_code(std::string_view text);

}  // namespace ligule::work
