#include "storage/trial/length_text.h"

#include <algorithm>
#include <cstddef>

#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule {
namespace {

constexpr double kInch = 0.0254;  // metres, exactly
constexpr std::string_view kDigits = "0123456789.,";

// Inches of a unit as people write it; empty: it is none.
std::optional<double> inches_in(std::string_view unit) {
  for (const char* inch : {"in", "in.", "inch", "inches", "\"", "pulg", "pulgadas"})
    if (unit == inch) return 1;
  if (unit == "mm") return 0.001 / kInch;
  const auto one = length_in(1, unit);
  return one ? std::optional(one->value() / kInch) : std::nullopt;
}

}  // namespace

std::optional<double> inches_of(std::string_view text, std::string_view unit) {
  const auto number = [&text]() -> std::optional<double> {
    const std::size_t size = std::min(text.find_first_not_of(kDigits), text.size());
    std::string digits(text.substr(0, size));
    std::ranges::replace(digits, ',', '.');
    const auto value = parse_number(digits);
    if (!value) return std::nullopt;
    text.remove_prefix(size);
    return *value;
  };
  const auto skip = [&text](std::string_view what) {
    text.remove_prefix(std::min(text.find_first_not_of(what), text.size()));
  };
  skip(" ");
  // "1/2", and behind a whole number "3 1/2".
  const auto over = [&](double above) -> std::optional<double> {
    skip("/");
    const auto below = number();
    return below && *below > 0 ? std::optional(above / *below) : std::nullopt;
  };
  auto value = number();
  if (!value) return std::nullopt;
  if (text.starts_with('/')) {
    value = over(*value);
    if (!value) return std::nullopt;
  } else if (text.size() > 1 && text[0] == ' ' && kDigits.contains(text[1])) {
    skip(" ");
    const auto above = number();
    const auto part = above && text.starts_with('/') ? over(*above) : std::nullopt;
    if (!part) return std::nullopt;
    *value += *part;
  } else if (text.starts_with('-')) {
    skip("-");
    if (!number()) return std::nullopt;
  }
  skip(" ");
  while (text.ends_with(' ')) text.remove_suffix(1);
  const auto one = inches_in(text.empty() ? unit : text);
  return one ? std::optional(*value * *one) : std::nullopt;
}

std::string with_unit(std::string_view text, std::string_view unit) {
  const bool bare = text.find_first_not_of("0123456789.,/- ") == std::string_view::npos;
  return std::string(text) + (bare && !unit.empty() ? " " + std::string(unit) : "");
}

}  // namespace ligule
