// What published tables say of a trial's soil test, species by species, in plain words.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/plan.h"
#include "storage/trial/scale.h"
#include "storage/trial/soil_tables.h"

namespace ligule::checks {

// Stands beside verdicts wherever they are shown.
inline constexpr std::string_view kNoFertilizerAmounts =
    "No amounts are prescribed: ask the local soil testing service, whose calibration holds for "
    "its own extractant and region.";

// How a value stands to its table.
enum class SoilStanding { kNoVerdict, kBelow, kGood, kAbove };

// The same verdict for a screen, which has words of its own.
struct SoilSaid {
  // The key of its words and what stands in them: "soil.range_below" {"5.6", "6.5"}.
  struct Piece {
    std::string key;
    std::vector<std::string> arguments = {};

    bool operator==(const Piece&) const = default;
  };
  SoilStanding standing = SoilStanding::kNoVerdict;
  std::vector<Piece> pieces = {};
  std::string source = {};  // of the table; empty: none judged

  bool operator==(const SoilSaid&) const = default;
};

struct SoilVerdict {
  std::string found;    // "P 41 ppm (Mehlich-3) = 82 lb/acre (...)"
  std::string species;  // "tall fescue and timothy"; empty: whatever is sown
  std::string judged;   // "high, its optimum (class table of ...)", or why there is no verdict
  std::string property = {};                // its code
  std::optional<std::size_t> test = {};     // which of the plan's; empty: it was not tested
  std::vector<std::string> for_names = {};  // trade names of those species
  SoilSaid said = {};

  bool operator==(const SoilVerdict&) const = default;
  // "found: for species, judged".
  [[nodiscard]] std::string line() const;
};

// Code of a class's name, for words: "very_low".
[[nodiscard]] std::string soil_class_code(std::string_view name);

// What a value comes to on an acre, to the tenth; empty where it is none, or is told so already.
[[nodiscard]] std::optional<double> soil_pounds_an_acre(const SoilTest& test,
                                                        const SoilTables& tables);

// A value as the report of the laboratory has it: "P 41 ppm (Mehlich-3)", "pH 6.2"; with
// `conversion` what it is on an acre, and by which rule: " = 82 lb/acre (...)".
[[nodiscard]] std::string soil_value_told(const SoilTest& test, const SoilTables& tables,
                                          bool conversion);

// In the order of the tables' properties. Of each property the newest samples are judged: classes
// by amounts an acre where they are of the extractant, else the check value of the species' group,
// ranges by species. They hold for a furrow slice, so a value of another layer has no verdict;
// neither has one whose extractant has no table. An amount without a unit is read as that of a
// check value, and said to be. Judged is what is shown: amounts an acre to the tenth. Fillers are
// not asked for. A property that ranges or checks look for and that was not tested is named. Empty
// without a soil test.
[[nodiscard]] std::vector<SoilVerdict> soil_verdicts(const Plan& plan, const SoilTables& tables,
                                                     const Definitions& definitions);

}  // namespace ligule::checks
