// What a value means: the scale it was given on, as data with its direction and its source.
//
// Scales live in assets/ and are copied by digest into ledger and season file when first used,
// because programs change their scales over the years and a number without its scale is worth
// nothing. Pure: reading the files is storage/files.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"
#include "storage/trial/limit.h"

namespace ligule {

enum class ScaleKind {
  kPercent,  // a share, 0 to 100
  kScore,    // whole steps between two ends
  kStages,   // named steps in order, each with the index the literature gives it
  kLength,   // a number with a unit of length
  kMass,     // a number with a unit of weight
  kText,     // words
  kLabel,    // a number or code on a bag or a stake: compared, never calculated with
  kShares,   // named parts of one whole that sum to 100 percent (composite.h)
  kCounts,   // how many were seen at each of some stages; their mean stage (composite.h)
  kCells,    // cells of a frame that hold a plant, placement by placement (composite.h)
  kReached,  // whether a stage is reached on the day of a visit: its first step says not yet
};

enum class Direction { kHighIsBest, kLowIsBest, kNone };

struct ScaleStep {
  std::string code;  // what is kept as entered: "R0", "3"
  double value = 0;  // its place on the scale, what is averaged
  std::string name;  // the trade's word in English; screens look up scale.<scale>.<code> in the
                     // words of the language

  bool operator==(const ScaleStep&) const = default;
};

struct Scale {
  std::string code;  // "percent_stand", "maturity_grass"
  ScaleKind kind = ScaleKind::kText;
  Direction direction = Direction::kNone;
  std::vector<std::string>
      units;  // accepted units, the first is the default; empty: the value has no unit
  std::optional<double> minimum;  // in the first unit; outside is refused
  std::optional<double> maximum;
  double step = 1;               // the step the pad offers, in the first unit
  double fine_step = 1;          // the finest step a person may enter, in the first unit
  std::vector<ScaleStep> steps;  // kScore, kStages, kCounts, kReached: ascending in value; the
                                 // parts of kShares, or those that a kLabel numbers
  std::string definition;        // what exactly is judged, one sentence in English
  std::string source;            // publication, or "common practice, no source"
  std::string name = {};         // of a score that a program defines itself, as people call it
  int readings = 1;              // heights taken in one act; placements of a frame of kCells
  std::optional<double> plants_per_percent = {};  // kCells: plants a square metre that one percent
                                                  // of the cells stands for

  bool operator==(const Scale&) const = default;
};

// A value as entered and as parsed once; value is empty for kText and kLabel.
struct EnteredValue {
  std::string entered;
  std::string unit;
  std::optional<double> value;

  bool operator==(const EnteredValue&) const = default;
};

// As canonical texts write them; never changed. "percent", "score" ...; "high is best" ...
[[nodiscard]] std::string_view name_of(ScaleKind kind);
[[nodiscard]] std::string_view name_of(Direction direction);

// Reads what a person entered on a scale. Stages are entered by code, scores by their number,
// percents and amounts as decimal numbers in one of the scale's units (empty unit = the first),
// several numbers at once as composite.h says.
// kRefused when it can't be meant on this scale (stand 140), kInvalid when it can't be read.
[[nodiscard]] Result<EnteredValue> read_entered(const Scale& scale, std::string_view text,
                                                std::string_view unit);

// Every fault of a scale's own definition (no source, steps out of order, ends missing ...); empty
// when sound.
[[nodiscard]] std::vector<Error> scale_faults(const Scale& scale);

// One measure: what is recorded, about what, on which scale for which species group.
enum class Subject { kPlot, kBag };

struct MeasureScale {
  std::string species_group;  // "" serves every group without a line of its own
  std::string scale;

  bool operator==(const MeasureScale&) const = default;
};

struct Measure {
  std::string code;  // "percent_stand", "maturity", "gross_weight"
  Subject subject = Subject::kPlot;
  std::vector<MeasureScale> scales;

  bool operator==(const Measure&) const = default;
};

struct Species {
  std::string code;        // "tall_fescue"
  std::string name;        // English trade name
  std::string group;       // "cool_season_grass", "legume", "warm_season_annual" ...
  bool endophyte = false;  // whether entries of it have an endophyte status
  bool spreads = false;    // by runners or rhizomes: a stand may fill up by itself

  bool operator==(const Species&) const = default;
};

// Everything definitional that assets/ holds, read once at start.
struct Definitions {
  std::vector<Scale> scales;
  std::vector<Measure> measures;
  std::vector<Species> species;
  std::vector<Limit> limits;

  [[nodiscard]] const Scale* scale(std::string_view code) const;
  [[nodiscard]] const Measure* measure(std::string_view code) const;
  [[nodiscard]] const Species* find_species(std::string_view code) const;
  // The scale of a measure for an entry's species; null when the measure has none for its group.
  [[nodiscard]] const Scale* scale_for(std::string_view measure, std::string_view species) const;
  // The limit of a measure for a species: its own, else its group's, else the one for all. Null:
  // nobody says what is usual.
  [[nodiscard]] const Limit* limit_for(std::string_view measure, std::string_view species) const;
};

}  // namespace ligule
