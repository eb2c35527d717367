// Between which values a measure is usual, as data with its source: outside of them somebody is
// asked, and outside of what can be at all a value is not taken. Limits live in assets/limits.json,
// and a program's own beside its ledger; pure: reading the files is storage/files.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"

namespace ligule {

// Percent of dry matter in a fresh sample: no measure of its own, it follows from two weights.
inline constexpr std::string_view kDryMatterPercent = "dry_matter_percent";
inline constexpr std::string_view kPercentUnit = "percent";
// Dry matter of one cutting: it follows from weights and the harvested area.
inline constexpr std::string_view kCuttingYield = "cutting_yield";
// Dry matter of all cuttings of one year.
inline constexpr std::string_view kSeasonYield = "season_yield";
inline constexpr std::string_view kYieldUnit = "ton/acre";

struct Limit {
  std::string measure;  // code of a measure, or one of those above
  // Whom it is about: a species, else a group of them; both empty: whatever has none of its own.
  std::string species;
  std::string group;
  std::string unit;  // of the measure's scale, kPercentUnit or kYieldUnit; the numbers are in it
  std::optional<double> ask_below;
  std::optional<double> ask_above;
  std::string source;  // publication, or "common practice, no source"
  std::optional<double> refuse_below = {};
  std::optional<double> refuse_above = {};
  // The ends of asking where drought, rain, frost or a late day is known to have made a whole
  // rating or cutting unusual; empty: in_weather() says.
  std::optional<double> weather_below = {};
  std::optional<double> weather_above = {};
  // Whether weather can make a whole rating or cutting unusual; not what the crew sets itself.
  bool weather = true;

  bool operator==(const Limit&) const = default;
};

// Every fault of a limit's own: it limits nothing, its numbers do not stand in the order
// refuse_below, weather_below, ask_below, ask_above, weather_above, refuse_above, no source is
// named, it is about a species and a group at once. Empty when sound.
[[nodiscard]] std::vector<Error> limit_faults(const Limit& limit);

// The same limit where the weather is known: ends of asking that are not stated lie at half of
// ask_below and at half as much again as ask_above (common practice, no source), never beyond what
// is refused.
[[nodiscard]] Limit in_weather(Limit limit);

// Puts a program's own limits before the ones that everybody has: one of the same measure, species
// and group takes the other's place.
[[nodiscard]] std::vector<Limit> overlaid(std::vector<Limit> everybodys, std::vector<Limit> own);

// The canonical text of limits, in their own order: JSON with the keys of limits.json, sorted, no
// white space. Their digest is SHA-256 of this text. And back: kInvalid names the key at fault.
[[nodiscard]] std::string limits_text(std::span<const Limit> limits);
[[nodiscard]] Result<std::vector<Limit>> parse_limits_text(std::string_view text);

}  // namespace ligule
