#include "storage/trial/clock_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "storage/trial/number.h"

namespace ligule {
namespace {

using std::chrono::minutes;

// The halves of a day as they are written in English and Spanish, without points and blanks.
std::optional<bool> is_afternoon(std::string_view text) {
  std::string letters;
  for (const char c : text) {
    if (c == ' ' || c == '.') continue;
    letters += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  if (letters == "am" || letters == "a") return false;
  if (letters == "pm" || letters == "p") return true;
  return std::nullopt;
}

}  // namespace

std::optional<minutes> parse_clock(std::string_view text) {
  while (text.ends_with(' ')) text.remove_suffix(1);
  while (text.starts_with(' ')) text.remove_prefix(1);
  const std::size_t size = std::min(text.find_first_not_of("0123456789:"), text.size());
  const std::string_view digits = text.substr(0, size);
  const std::string_view half = text.substr(size);
  const std::size_t colon = digits.find(':');
  std::string_view hour = digits.substr(0, colon);
  std::string_view minute = colon == std::string_view::npos ? "00" : digits.substr(colon + 1);
  if (colon == std::string_view::npos && (digits.size() == 3 || digits.size() == 4)) {
    hour = digits.substr(0, digits.size() - 2);
    minute = digits.substr(digits.size() - 2);
  } else if (colon == std::string_view::npos && half.empty()) {
    return std::nullopt;
  }
  if (hour.empty() || hour.size() > 2 || minute.size() != 2) return std::nullopt;
  const auto h = parse_integer(hour);
  const auto m = parse_integer(minute);
  if (!h || !m || *h > 23 || *m > 59) return std::nullopt;
  if (half.empty()) return minutes(*h * 60 + *m);
  const auto afternoon = is_afternoon(half);
  if (!afternoon || *h < 1 || *h > 12) return std::nullopt;
  return minutes((*h % 12 + (*afternoon ? 12 : 0)) * 60 + *m);
}

std::string clock_text(minutes since_midnight) {
  return fmt::format("{:02}:{:02}", since_midnight.count() / 60, since_midnight.count() % 60);
}

}  // namespace ligule
