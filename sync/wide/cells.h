// Cells of wide tables as text.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "storage/trial/calendar.h"
#include "storage/trial/number.h"

namespace ligule::wide {

inline std::string cell(const std::optional<CalendarDate>& day) {
  return day ? format_date(*day) : std::string();
}

// Of a number or a quantity, in its base unit.
inline std::string cell(const std::optional<double>& number) {
  return number ? format_number(*number) : std::string();
}
template <class Quantity>
std::string cell(const std::optional<Quantity>& quantity) {
  return quantity ? format_number(quantity->value()) : std::string();
}

// With one space between.
inline std::string cell(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

}  // namespace ligule::wide
