#include "storage/trial/number.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <charconv>
#include <cmath>

namespace ligule {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// std::from_chars takes "inf", "nan" and exponents as well; nobody types those into a weight.
bool looks_like_decimal(std::string_view text) {
  if (text.starts_with('-')) text.remove_prefix(1);
  const auto digits = std::ranges::count_if(text, is_digit);
  const auto points = std::ranges::count(text, '.');
  return digits > 0 && points <= 1 && digits + points == static_cast<std::ptrdiff_t>(text.size());
}

}  // namespace

Result<double> parse_number(std::string_view text) {
  double value = 0.0;
  if (looks_like_decimal(text)) {
    const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (code == std::errc() && end == text.data() + text.size() && std::isfinite(value))
      return value;
  }
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is not a number", {},
              "write digits with a decimal point, such as 12.5");
}

Result<std::int64_t> parse_integer(std::string_view text) {
  std::int64_t value = 0;
  if (!text.empty() &&
      std::ranges::all_of(text.starts_with('-') ? text.substr(1) : text, is_digit)) {
    const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (code == std::errc() && end == text.data() + text.size()) return value;
  }
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is not a whole number", {},
              "write digits only, such as 12");
}

std::string format_number(double value) {
  assert(std::isfinite(value) && "a missing value is an empty optional, never NaN");
  std::array<char, 400> buffer;  // the longest plain decimal double has under 350 characters
  const auto [end, code] = std::to_chars(buffer.data(), buffer.data() + buffer.size(),
                                         value == 0.0 ? 0.0 : value, std::chars_format::fixed);
  assert(code == std::errc());
  return std::string(buffer.data(), end);
}

std::string format_fixed(double value, int decimals) {
  assert(std::isfinite(value) && decimals >= 0 && decimals <= 9);
  std::array<char, 400> buffer;
  const auto [end, code] = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                         std::chars_format::fixed, decimals);
  assert(code == std::errc());
  std::string text(buffer.data(), end);
  if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

}  // namespace ligule
