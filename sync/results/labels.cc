#include "sync/results/labels.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

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
  std::array<char, 32> buffer{};
  if (number == 0.0) number = 0.0;  // never "-0"
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number).ptr;
  text.append(buffer.data(), end);
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
  // Room for the largest double in fixed notation.
  std::array<char, 340> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number,
                                 std::chars_format::fixed, decimals)
                       .ptr;
  return without_negative_zero(std::string(buffer.data(), end));
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

CsvText& CsvText::add(std::string_view field) {
  begin_field();
  const bool plain = std::ranges::none_of(
      field, [](char c) { return c == ',' || c == '"' || c == '\r' || c == '\n'; });
  if (plain) {
    text_ += field;
  } else {
    text_ += join_line({std::string(field)});
  }
  return *this;
}

CsvText& CsvText::add(const std::optional<double>& number) {
  begin_field();
  if (number) append_exact(text_, *number);
  return *this;
}

CsvText& CsvText::add_count(std::size_t count) {
  begin_field();
  std::array<char, 24> buffer{};
  text_.append(buffer.data(),
               std::to_chars(buffer.data(), buffer.data() + buffer.size(), count).ptr);
  return *this;
}

void CsvText::end_line() {
  text_ += '\n';
  in_line_ = false;
}

}  // namespace ligule::results
