#include "sync/results/labels.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>

#include "storage/trial/record_line.h"

namespace ligule::results {
namespace {

std::string without_negative_zero(std::string text) {
  if (text.starts_with('-') && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

// The power of ten of the first digit; `value` is not 0.
int magnitude(double value) {
  return static_cast<int>(std::floor(std::log10(std::fabs(value))));
}

void append_exact(std::string& text, double number) {
  std::array<char, 32> buffer;      // NOLINT: filled below
  if (number == 0.0) number = 0.0;  // never "-0"
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number).ptr;
  text.append(buffer.data(), end);
}

// Of numbers as tables print them, by whole numbers: false where the number is larger, or so near
// to the middle between two texts that rounding the product could take the wrong one.
bool add_quickly(std::string& text, double number, int decimals) {
  constexpr std::array<double, 7> kPowers = {1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
  constexpr double kLargest = 1e6, kNear = 1e-3;  // the product is within 1e-4 of the true one
  const double size = std::fabs(number);
  if (decimals < 0 || decimals > 6 || !(size < kLargest)) return false;
  const double scaled = size * kPowers.at(static_cast<std::size_t>(decimals));
  const double below = std::floor(scaled);
  const double part = scaled - below;
  if (std::fabs(part - 0.5) < kNear) return false;
  auto digits = static_cast<std::uint64_t>(below) + (part > 0.5 ? 1 : 0);
  if (digits != 0 && number < 0.0) text += '-';
  std::array<char, 24> buffer;  // NOLINT: filled from its end
  char* first = buffer.data() + buffer.size();
  const auto put = [&] {
    *--first = static_cast<char>('0' + digits % 10);
    digits /= 10;
  };
  for (int i = 0; i < decimals; ++i) put();
  if (decimals > 0) *--first = '.';
  do put();
  while (digits != 0);
  text.append(first, buffer.data() + buffer.size());
  return true;
}

bool needs_no_quotes(std::string_view field) {
  return std::ranges::none_of(
      field, [](char c) { return c == ',' || c == '"' || c == '\r' || c == '\n'; });
}

}  // namespace

std::string exact(double number) {
  std::string text;
  append_exact(text, number);
  return text;
}

std::string exact_or_empty(const std::optional<double>& number) {
  return number ? exact(*number) : std::string();
}

std::string rounded(double number, int decimals) {
  std::string text;
  add_rounded(text, number, decimals);
  return text;
}

void add_rounded(std::string& text, double number, int decimals) {
  if (add_quickly(text, number, decimals)) return;
  // Room for the largest double in fixed notation.
  std::array<char, 340> buffer;  // NOLINT: filled below
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number,
                                 std::chars_format::fixed, decimals)
                       .ptr;
  text += without_negative_zero(std::string(buffer.data(), end));
}

int decimals_for(double largest_mean, std::optional<double> lsd) {
  int decimals = largest_mean == 0.0 ? 2 : 2 - magnitude(largest_mean);
  if (lsd && *lsd > 0.0) decimals = std::max(decimals, -magnitude(*lsd));
  return std::clamp(decimals, 0, 12);
}

std::optional<double> number(std::string_view text) {
  double value = 0.0;
  const auto [stop, error] = std::from_chars(text.begin(), text.end(), value);
  if (error != std::errc() || stop != text.end() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string lsd_column(double alpha) {
  return "lsd_" + rounded(alpha, 2).substr(2);  // "0.05" without what stands before its figures
}

std::string count_of(std::size_t count, const std::string& one, const std::string& several) {
  return std::to_string(count) + " " + (count == 1 ? one : several.empty() ? one + "s" : several);
}

std::string in_words(std::string code) {
  std::ranges::replace(code, '_', ' ');
  return code;
}

std::string headed(std::string name) {
  if (!name.empty() && name.front() >= 'a' && name.front() <= 'z')
    name.front() = static_cast<char>(name.front() - 'a' + 'A');
  return name;
}

std::string day_and_month(CalendarDate date) {
  constexpr std::array kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                               "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  return std::to_string(unsigned{date.day()}) + " " + kMonths.at(unsigned{date.month()} - 1);
}

std::string days_and_month(CalendarDate first, CalendarDate last) {
  if (first == last) return day_and_month(first);
  const bool one_month = first.year() == last.year() && first.month() == last.month();
  return (one_month ? std::to_string(unsigned{first.day()}) : day_and_month(first)) + "–" +
         day_and_month(last);
}

void sort_cuttings(std::vector<std::string>& labels) {
  std::ranges::sort(labels);
  const bool numbers =
      std::ranges::all_of(labels, [](const auto& label) { return number(label).has_value(); });
  if (!numbers) return;
  // Stable, so that "1" and "01" keep their byte order.
  std::ranges::stable_sort(labels, [](const auto& a, const auto& b) {
    return number(a).value_or(0) < number(b).value_or(0);
  });
}

std::string csv_line(std::span<const std::string> fields) {
  return join_line({fields.begin(), fields.end()}) + "\n";
}

void CsvText::begin_field() {
  if (in_line_) text_ += ',';
  in_line_ = true;
}

std::string csv_field(std::string_view field) {
  return needs_no_quotes(field) ? std::string(field) : join_line({std::string(field)});
}

CsvText& CsvText::add(std::string_view field) {
  begin_field();
  if (needs_no_quotes(field)) {
    text_ += field;
  } else {
    text_ += csv_field(field);
  }
  return *this;
}

CsvText& CsvText::add_ready(std::string_view fields) {
  begin_field();
  text_ += fields;
  return *this;
}

CsvText& CsvText::add(const std::optional<double>& number) {
  begin_field();
  if (number) append_exact(text_, *number);
  return *this;
}

CsvText& CsvText::add_count(std::size_t count) {
  begin_field();
  std::array<char, 24> buffer;  // NOLINT: filled below
  text_.append(buffer.data(),
               std::to_chars(buffer.data(), buffer.data() + buffer.size(), count).ptr);
  return *this;
}

void CsvText::end_line() {
  text_ += '\n';
  in_line_ = false;
}

}  // namespace ligule::results
