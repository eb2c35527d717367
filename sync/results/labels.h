// Numbers and labels as text, the same in every file.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "storage/trial/calendar.h"

namespace ligule::results {

// The shortest text that reads back as exactly this number; never "-0".
[[nodiscard]] std::string exact(double number);
[[nodiscard]] std::string exact_or_empty(const std::optional<double>& number);

// Rounded for people, with that many decimals (0 to 12); never "-0.0".
[[nodiscard]] std::string rounded(double number, int decimals);
void add_rounded(std::string& text, double number, int decimals);

// Decimals so that the largest mean shows three digits and the LSD at least one.
[[nodiscard]] int decimals_for(double largest_mean, std::optional<double> lsd);

// A finite number that takes up the whole text, in any spelling with a decimal point.
[[nodiscard]] std::optional<double> number(std::string_view text);

// "lsd_05": the name of a column with LSDs at that level.
[[nodiscard]] std::string lsd_column(double alpha);

// "1 block", "3 blocks"; `several` where that is no plain s.
[[nodiscard]] std::string count_of(std::size_t count, const std::string& one,
                                   const std::string& several = {});

// A code as words: "percent stand".
[[nodiscard]] std::string in_words(std::string code);

// "tall fescue" as a heading: "Tall fescue".
[[nodiscard]] std::string headed(std::string name);

// "12 May"; the date must be ok().
[[nodiscard]] std::string day_and_month(CalendarDate date);

// "20–21 May", "30 May–2 Jun"; one day alone where both are the same.
[[nodiscard]] std::string days_and_month(CalendarDate first, CalendarDate last);

// In order of size where every label is a number, else in byte order.
void sort_cuttings(std::vector<std::string>& labels);

// One CSV line ending in \n; fields are quoted where they must be (RFC 4180).
[[nodiscard]] std::string csv_line(std::span<const std::string> fields);

// A field as it stands in such a line.
[[nodiscard]] std::string csv_field(std::string_view field);

// The same for files of many lines: fields one by one, as csv_line() and exact_or_empty() write
// them.
class CsvText {
 public:
  CsvText() = default;
  explicit CsvText(std::string_view header) : text_(header) { text_ += '\n'; }
  CsvText& add(std::string_view field);
  // What csv_field() gave, or several of them with their commas.
  CsvText& add_ready(std::string_view fields);
  CsvText& add(const std::optional<double>& number);
  CsvText& add_count(std::size_t count);
  void end_line();
  [[nodiscard]] const std::string& text() const& { return text_; }
  [[nodiscard]] std::string take() && { return std::move(text_); }

 private:
  void begin_field();

  std::string text_;
  bool in_line_ = false;
};

}  // namespace ligule::results
