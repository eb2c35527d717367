// Between which values a measure is usual, as data with its source: outside of them somebody is
// asked. Limits live in assets/limits.json; pure: reading the file is storage/files.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"

namespace ligule {

// Percent of dry matter in a fresh sample: no measure of its own, it follows from two weights.
inline constexpr std::string_view kDryMatterPercent = "dry_matter_percent";
inline constexpr std::string_view kPercentUnit = "percent";

struct Limit {
  std::string measure;  // code of a measure, or kDryMatterPercent
  // Whom it is about: a species, else a group of them; both empty: whatever has none of its own.
  std::string species;
  std::string group;
  std::string unit;  // of the measure's scale, or kPercentUnit; the numbers are in it
  std::optional<double> ask_below;
  std::optional<double> ask_above;
  std::string source;  // publication, or "common practice, no source"

  bool operator==(const Limit&) const = default;
};

// Every fault of a limit's own: it limits nothing, its ends are out of order, no source is named,
// it is about a species and a group at once. Empty when sound.
[[nodiscard]] std::vector<Error> limit_faults(const Limit& limit);

}  // namespace ligule
