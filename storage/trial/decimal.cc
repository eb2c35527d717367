#include "storage/trial/decimal.h"

#include <algorithm>
#include <cstdint>
#include <cstdlib>

#include "storage/trial/number.h"

namespace ligule {
namespace {

constexpr std::size_t kMostDigits = 15;

// A number as whole units of its last digit.
struct Decimal {
  std::int64_t units = 0;
  std::size_t decimals = 0;

  [[nodiscard]] std::int64_t in_units_of(std::size_t finer) const {
    std::int64_t all = units;
    for (std::size_t n = decimals; n < finer; ++n) all *= 10;
    return all;
  }
};

Result<Decimal> parse_decimal(std::string_view text) {
  if (const auto number = parse_number(text); !number) return std::unexpected(number.error());
  Decimal read;
  std::string digits(text);
  const bool below = digits.starts_with('-');
  if (below) digits.erase(0, 1);
  if (const std::size_t point = digits.find('.'); point != std::string::npos) {
    read.decimals = digits.size() - point - 1;
    digits.erase(point, 1);
  }
  if (digits.size() > kMostDigits)
    return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' has too many digits", {},
                "write no more than 15");
  for (const char digit : digits) read.units = read.units * 10 + (digit - '0');
  if (below) read.units = -read.units;
  return read;
}

std::string text_of(std::int64_t units, std::size_t decimals) {
  std::string digits = std::to_string(std::abs(units));
  if (digits.size() <= decimals) digits.insert(0, decimals + 1 - digits.size(), '0');
  if (decimals > 0) digits.insert(digits.size() - decimals, 1, '.');
  return (units < 0 ? "-" : "") + digits;
}

}  // namespace

Result<std::string> difference(std::string_view a, std::string_view b) {
  const auto first = parse_decimal(a);
  if (!first) return std::unexpected(first.error());
  const auto second = parse_decimal(b);
  if (!second) return std::unexpected(second.error());
  const std::size_t decimals = std::max(first->decimals, second->decimals);
  // 15 digits and as many decimals again would not fit: numbers so far apart are not compared.
  if (std::max(first->decimals, second->decimals) - std::min(first->decimals, second->decimals) > 3)
    return fail(ErrorKind::kInvalid,
                "'" + std::string(a) + "' and '" + std::string(b) + "' have too different decimals",
                {}, "write them alike");
  return text_of(first->in_units_of(decimals) - second->in_units_of(decimals), decimals);
}

Result<bool> within(std::string_view a, std::string_view b, std::string_view allowance) {
  auto apart = difference(a, b);
  if (!apart) return std::unexpected(std::move(apart).error());
  if (apart->starts_with('-')) apart->erase(0, 1);
  const auto over = difference(*apart, allowance);
  if (!over) return std::unexpected(over.error());
  return over->starts_with('-') || over->find_first_of("123456789") == std::string::npos;
}

}  // namespace ligule
