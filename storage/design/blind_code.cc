#include "storage/design/blind_code.h"

#include <cassert>
#include <string_view>

namespace ligule::design {
namespace {

// Without B, I, O, Q, S and Z, which pass for 8, 1, 0, 0, 5 and 2.
constexpr std::string_view kLetters = "ACDEFGHJKLMNPRTUVWXY";
static_assert(kLetters.size() == 20);

// Weights 1, 3, 1 of the figures, modulo 20: a figure that changes by less than 10 changes the sum,
// and so does an exchange of neighbours (by twice their difference).
std::string code_of(std::size_t figures, bool three) {
  const std::size_t hundreds = figures / 100;
  const std::size_t tens = figures / 10 % 10;
  const std::size_t ones = figures % 10;
  std::string code(1, kLetters[(hundreds + 3 * tens + ones) % kLetters.size()]);
  if (three) code += static_cast<char>('0' + hundreds);
  code += static_cast<char>('0' + tens);
  code += static_cast<char>('0' + ones);
  return code;
}

}  // namespace

std::vector<std::string> blind_codes(std::size_t count, Draw& draw) {
  assert(count <= kMostBlindCodes);
  const bool three = count > 100;
  std::vector<std::size_t> figures = draw.order_of(three ? 1000 : 100);
  std::vector<std::string> codes;
  codes.reserve(count);
  for (std::size_t i = 0; i < count; ++i) codes.push_back(code_of(figures[i], three));
  return codes;
}

}  // namespace ligule::design
