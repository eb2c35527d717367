// What a claim says, as something that can be sorted: two claims of one slot say the same
// (said::the_same()) exactly where these are equal, so that thousands of claims of one slot are
// counted without holding each against each.
#pragma once

#include <compare>
#include <optional>
#include <string_view>

#include "storage/trial/record.h"

namespace ligule::said {

// Points into the record it is made from.
struct Saying {
  std::optional<ValueState> state;
  std::optional<double> value;
  std::string_view unit;
  bool weeds_only = false;  // of a gross weight
  bool by_words = false;    // what has no value, or several: as it was entered
  std::string_view words;

  auto operator<=>(const Saying&) const = default;
  bool operator==(const Saying&) const = default;
};

[[nodiscard]] Saying saying_of(const Record& record);

}  // namespace ligule::said
