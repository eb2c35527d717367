// What a trial is before anyone walks into it: site, field, entries, blocks, plots, and what is to
// be done.
//
// A plan is a value. Its ids come from its codes (identity.h), so they stay the same through every
// revision; a revision names the digest of the plan it follows. Nothing here is ever edited to fit
// what happened: what a plot really holds is a dated record (as_sown.h).
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"
#include "storage/trial/quantity.h"
#include "storage/trial/scale.h"
#include "storage/trial/soil_test.h"

namespace ligule {

enum class Endophyte { kNotStated, kNovel, kFree, kToxic };
enum class EntryRole { kTest, kCheck, kFiller };
enum class Job { kRate, kHarvest };
// What one sample bag of a cutting stands for: one over several plots is a composite.
enum class SampleOf { kPlot, kEntry, kTrial };
// How an empty sample bag was when its tare was taken.
enum class BagWeighed { kNotStated, kOvenDry, kAirDry, kWet };

struct PlanEntry {
  std::string code;     // blind code on stakes and packets
  std::string species;  // code of assets/species
  std::string variety;
  Endophyte endophyte = Endophyte::kNotStated;
  std::string strain;  // the endophyte's strain, where the entrant states one
  EntryRole role = EntryRole::kTest;
  std::string seed_lot;
  // In how many of a hundred tillers or seeds a test found the endophyte, and when; empty: the
  // status is only stated.
  std::string endophyte_percent = {};
  std::optional<CalendarDate> endophyte_tested = {};
  // Of the lot, as its tag or a test says; percents, empty: not said.
  std::optional<CalendarDate> seed_harvested = {};
  std::string germination = {};
  std::string hard_seed = {};  // hard or dormant
  std::string purity = {};     // pure seed by weight
  // Pure live seed to be sown on an area: a number and "lb/acre" or "kg/ha"; empty: not said.
  std::string sowing_rate = {};
  std::string sowing_rate_unit = {};

  bool operator==(const PlanEntry&) const = default;
  // Variety plus endophyte, the name results are printed under: "Alder Brook (novel AX1)", "Alder
  // Brook (endophyte-free)". One variety under two endophyte statuses is two names.
  [[nodiscard]] std::string label() const;
};

// Designs a plan may state: complete blocks, completely randomised, a Latin square, complete blocks
// of incomplete ones, and complete blocks whose entries are spread over rows and columns as well.
inline constexpr std::array<std::string_view, 5> kDesigns{"rcb", "crd", "latin", "alpha",
                                                          "row_column"};

struct PlanPlot {
  std::string number;  // on the stake
  int block = 0;
  std::string entry;  // code of the entry sown
  int row = 0;        // place in the field, from 1
  int column = 0;
  int path = 0;  // place along the plot path, from 1, unique in the trial
  // design "alpha": which part of its block, from 1 in each block; else 0.
  int incomplete_block = 0;

  bool operator==(const PlanPlot&) const = default;
};

// One planned pass: a rating of some measures, or a cutting.
struct PlanOccasion {
  std::string code;  // "2026-spring-stand", "2026-cut-1"
  Job job = Job::kRate;
  int year = 0;
  int cutting = 0;                    // harvest: 1st, 2nd ...; 0 for a rating
  std::vector<std::string> measures;  // codes, in the order of the card
  std::optional<CalendarDate> due;
  SampleOf sample_of = SampleOf::kPlot;   // harvest
  std::vector<std::string> entries = {};  // codes of those it is for; empty: all
  // rate: a look at grazed plots so many hours after the animals went in, a number in its shortest
  // spelling ("0.5", "24"); empty: no such look.
  std::string hours_after_turn_in = {};

  bool operator==(const PlanOccasion&) const = default;
  // Whether it is for plots of that entry. What it is not for is neither zero nor missing there.
  [[nodiscard]] bool is_for(std::string_view entry) const;
};

// A length as the plan states it, text and unit kept.
struct StatedLength {
  std::string text;
  std::string unit;

  bool operator==(const StatedLength&) const = default;
  // Empty text or an unknown unit is kInvalid.
  [[nodiscard]] Result<Metres> metres() const;
};

struct StatedMass {
  std::string text;
  std::string unit;

  bool operator==(const StatedMass&) const = default;
  [[nodiscard]] Result<Kilograms> kilograms() const;
};

struct Plan {
  TrialCodes codes;
  std::string title;
  std::string site_name;
  std::string zone;   // time zone of the site, "America/New_York"
  std::string field;  // a field may hold several trials
  CalendarDate sown{};
  std::string design;                    // a code of kDesigns
  bool drilled = true;                   // rows, or broadcast: decides what percent stand looks at
  StatedLength plot_length, plot_width;  // as sown
  StatedLength swath_length,
      swath_width;      // as harvested, after end-trimming; yields are per this area
  StatedMass bag_tare;  // standing tare of a sample bag
  BagWeighed bag_tare_weighed = BagWeighed::kNotStated;
  // How the field was laid out, where the program did it: what the drawing began with, and the
  // ground between ranges of plots and around them all.
  std::string random_seed = {};
  StatedLength alley = {}, border = {};
  std::string parent;  // hex digest of the plan this one revises; empty for the first
  std::string reason;  // why it was revised
  std::vector<PlanEntry> entries;
  std::vector<PlanPlot> plots;
  std::vector<PlanOccasion> occasions;
  std::vector<Scale> scores;  // the program's own: each is scale and measure by one code
  std::vector<SoilTest> soil = {};

  bool operator==(const Plan&) const = default;

  [[nodiscard]] TrialId id() const { return trial_id(codes); }
  [[nodiscard]] SiteId site() const { return site_id(codes.station, codes.site); }
  [[nodiscard]] PlotId plot(const PlanPlot& p) const { return plot_id(id(), p.number); }
  [[nodiscard]] EntryId entry(const PlanEntry& e) const { return entry_id(id(), e.code); }
  [[nodiscard]] OccasionId occasion(const PlanOccasion& o) const;

  // Null when there is none.
  [[nodiscard]] const PlanEntry* find_entry(std::string_view code) const;
  [[nodiscard]] const PlanPlot* find_plot(std::string_view number) const;
  [[nodiscard]] const PlanPlot* find_plot(PlotId plot) const;
  [[nodiscard]] const PlanOccasion* find_occasion(OccasionId occasion) const;
  [[nodiscard]] const Scale* find_score(std::string_view code) const;

  // Plots in the order of the plot path.
  [[nodiscard]] std::vector<PlanPlot> along_path() const;
};

[[nodiscard]] std::string_view name_of(
    Endophyte endophyte);                                // "novel", "free", "toxic", "not stated"
[[nodiscard]] std::string_view name_of(EntryRole role);  // "test", "check", "filler"
[[nodiscard]] std::string_view name_of(Job job);         // "rate", "harvest"
[[nodiscard]] std::string_view name_of(SampleOf of);     // "plot", "entry", "trial"
[[nodiscard]] std::string_view name_of(
    BagWeighed weighed);  // "not stated", "oven_dry", "air_dry", "wet"
[[nodiscard]] Result<Endophyte> parse_endophyte(std::string_view text);
[[nodiscard]] Result<EntryRole> parse_role(std::string_view text);
[[nodiscard]] Result<Job> parse_job(std::string_view text);
[[nodiscard]] Result<SampleOf> parse_sample_of(std::string_view text);
[[nodiscard]] Result<BagWeighed> parse_bag_weighed(std::string_view text);

// The canonical text of a plan: JSON, keys sorted, no white space, lists in the plan's own order of
// code (entries by code, plots by path, occasions by year, then code). Two folders that say the
// same give the same text whatever the spreadsheet did to them. The plan's digest is SHA-256 of
// this text.
[[nodiscard]] std::string plan_text(const Plan& plan);
// Reads that text back. kInvalid names the key at fault.
[[nodiscard]] Result<Plan> parse_plan_text(std::string_view text);

// The canonical text of a scale, and back, by the same rules.
[[nodiscard]] std::string scale_text(const Scale& scale);
[[nodiscard]] Result<Scale> parse_scale_text(std::string_view text);

}  // namespace ligule
