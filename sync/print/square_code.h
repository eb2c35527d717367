// Codes on paper that a scanner or a camera reads: QR codes (ISO/IEC 18004), by libqrencode.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"

namespace ligule::print {

// Light modules that the standard wants around a code (ISO/IEC 18004, quiet zone).
inline constexpr std::size_t kQuietModules = 4;

struct SquareCode {
  std::size_t side = 0;    // modules, without the quiet zone
  std::vector<bool> dark;  // row by row from the top

  // With the quiet zone on both sides.
  [[nodiscard]] std::size_t whole_side() const { return side + 2 * kQuietModules; }
};

// The smallest code of a text of which a quarter may be soiled or torn (level Q). kInvalid for
// nothing, and for more than a code holds.
[[nodiscard]] Result<SquareCode> square_code(std::string_view text);

// As an element of its own, dark on white with its quiet zone, whole squares whatever its size;
// `title` is what it holds, for who can't see it.
[[nodiscard]] std::string svg_of(const SquareCode& code, std::string_view title);

}  // namespace ligule::print
