// The words people use in lists of entries, and what they are in a plan's. Used by entry_list.cc
// and seed_on_hand.cc; not for other rooms.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "storage/trial/scale.h"

namespace ligule::files {

struct Heading {
  // Of entries.csv, or "repeats", "check" or "seed_on_hand"; empty: none of these.
  std::string column;
  std::string unit;  // of a rate or an amount, where the heading states one: "lb/acre", "g"
};
[[nodiscard]] Heading heading_of(std::string_view text);

// "lb/acre" for lb/ac, lbs per acre and the like, "kg/ha"; empty: no unit of a sowing rate.
[[nodiscard]] std::string rate_unit(std::string_view text);

// "g", "kg", "lb", "oz" for grams, lbs and the like; empty: no unit of seed.
[[nodiscard]] std::string mass_unit(std::string_view text);

// The species of that code or name; null: none.
[[nodiscard]] const Species* species_named(const Definitions& definitions, std::string_view text);

struct EndophyteWords {
  std::string status;  // of entries.csv; empty: nobody says
  std::string strain;
  bool sign_only = false;  // "E+" says that there is one, and by custom that it is toxic
};
// Nothing where the words say no status. bears: whether the species may carry one: where it may
// not, "none" and "no" say nothing.
[[nodiscard]] std::optional<EndophyteWords> endophyte_said(std::string_view text, bool bears);

// "test", "check", "filler"; nothing where the word is no role.
[[nodiscard]] std::optional<std::string> role_said(std::string_view text);
// yes, y, x, 1, true: true; no, n, 0, false and nothing: false; nothing where it is neither.
[[nodiscard]] std::optional<bool> yes_said(std::string_view text);

}  // namespace ligule::files
