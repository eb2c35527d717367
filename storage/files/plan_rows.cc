#include "storage/files/plan_rows.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include "storage/files/plan_check.h"
#include "storage/trial/number.h"

namespace ligule::files {
namespace {

// Codes with blanks between.
std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : text + ' ') {
    if (c != ' ')
      word += c;
    else if (!word.empty())
      words.push_back(std::exchange(word, {}));
  }
  return words;
}

std::string spaced(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

constexpr std::string_view kOwnSource = "the program's own";

constexpr std::array<std::pair<Direction, std::string_view>, 3> kBest{
    {{Direction::kHighIsBest, "high"}, {Direction::kLowIsBest, "low"}, {Direction::kNone, "none"}}};

// Steps from end to end, named at the ends. None where the ends and the step do not go together:
// check_plan() says so.
std::vector<ScaleStep> score_steps(const TableRow& row) {
  const int lowest = row.integer("lowest");
  const int highest = row.integer("highest");
  const int step = std::max(1, row.integer("step"));
  std::vector<ScaleStep> steps;
  if (lowest >= highest || (highest - lowest) / step >= kMostScoreSteps) return steps;
  for (int at = lowest; at <= highest; at += step) {
    std::string name = at == lowest ? row.text("low_word") : "";
    if (at + step > highest) name = row.text("high_word");
    steps.push_back({std::to_string(at), static_cast<double>(at), std::move(name)});
  }
  return steps;
}

std::string number_or_empty(int value) {
  return value == 0 ? std::string() : std::to_string(value);
}

std::string date_or_empty(const std::optional<CalendarDate>& date) {
  return date ? format_date(*date) : std::string();
}

}  // namespace

const Columns& trial_columns() {
  static const Columns columns{"station",
                               "site",
                               "trial",
                               "title",
                               "site_name",
                               "zone",
                               "field",
                               "sown",
                               "design",
                               "drilled",
                               "plot_length",
                               "plot_length_unit",
                               "plot_width",
                               "plot_width_unit",
                               "swath_length",
                               "swath_length_unit",
                               "swath_width",
                               "swath_width_unit",
                               "bag_tare",
                               "bag_tare_unit",
                               "bag_tare_weighed",
                               "random_seed",
                               "alley",
                               "alley_unit",
                               "border",
                               "border_unit",
                               "parent",
                               "reason"};
  return columns;
}
const Columns& entry_columns() {
  static const Columns columns{"code",
                               "species",
                               "variety",
                               "endophyte",
                               "strain",
                               "role",
                               "seed_lot",
                               "endophyte_percent",
                               "endophyte_tested",
                               "seed_harvested",
                               "germination",
                               "hard_seed",
                               "purity",
                               "sowing_rate",
                               "sowing_rate_unit"};
  return columns;
}
const Columns& plot_columns() {
  static const Columns columns{"number", "block", "entry",           "row",
                               "column", "path",  "incomplete_block"};
  return columns;
}
const Columns& occasion_columns() {
  static const Columns columns{"code",      "job",      "year",
                               "cutting",   "measures", "due",
                               "sample_of", "entries",  "hours_after_turn_in"};
  return columns;
}
const Columns& score_columns() {
  static const Columns columns{"code", "name",     "lowest",    "highest",    "step",
                               "best", "low_word", "high_word", "definition", "source"};
  return columns;
}
const Columns& soil_columns() {
  static const Columns columns{"property", "value",      "unit", "extractant",
                               "depth",    "depth_unit", "lab",  "sampled"};
  return columns;
}

void read_trial(const TableRow& row, Plan& plan) {
  plan.codes = {row.text("station"), row.text("site"), row.text("trial")};
  plan.title = row.text("title");
  plan.site_name = row.text("site_name");
  plan.zone = row.text("zone");
  plan.field = row.text("field");
  plan.sown = parse_date(row.text("sown")).value_or(CalendarDate{});
  plan.design = row.text("design");
  plan.drilled = parse_boolean(row.text("drilled")).value_or(true);
  plan.plot_length = row.stated<StatedLength>("plot_length");
  plan.plot_width = row.stated<StatedLength>("plot_width");
  plan.swath_length = row.stated<StatedLength>("swath_length");
  plan.swath_width = row.stated<StatedLength>("swath_width");
  plan.bag_tare = row.stated<StatedMass>("bag_tare");
  plan.bag_tare_weighed = row.named("bag_tare_weighed", parse_bag_weighed, BagWeighed::kNotStated);
  plan.random_seed = row.text("random_seed");
  plan.alley = row.stated<StatedLength>("alley");
  plan.border = row.stated<StatedLength>("border");
  plan.parent = row.text("parent");
  plan.reason = row.text("reason");
}

PlanEntry read_entry(const TableRow& row) {
  return {.code = row.text("code"),
          .species = row.text("species"),
          .variety = row.text("variety"),
          .endophyte = row.named("endophyte", parse_endophyte, Endophyte::kNotStated),
          .strain = row.text("strain"),
          .role = row.named("role", parse_role, EntryRole::kTest),
          .seed_lot = row.text("seed_lot"),
          .endophyte_percent = row.number("endophyte_percent"),
          .endophyte_tested = row.date("endophyte_tested"),
          .seed_harvested = row.date("seed_harvested"),
          .germination = row.number("germination"),
          .hard_seed = row.number("hard_seed"),
          .purity = row.number("purity"),
          .sowing_rate = row.number("sowing_rate"),
          .sowing_rate_unit = row.text("sowing_rate_unit")};
}

PlanPlot read_plot(const TableRow& row) {
  return {.number = row.text("number"),
          .block = row.integer("block"),
          .entry = row.text("entry"),
          .row = row.integer("row"),
          .column = row.integer("column"),
          .path = row.integer("path"),
          .incomplete_block = row.integer("incomplete_block")};
}

PlanOccasion read_occasion(const TableRow& row) {
  PlanOccasion occasion{row.text("code"),
                        row.named("job", parse_job, Job::kRate),
                        row.integer("year"),
                        row.integer("cutting"),
                        {},
                        std::nullopt};
  occasion.measures = words_of(row.text("measures"));
  occasion.due = row.date("due");
  occasion.sample_of = row.named("sample_of", parse_sample_of, SampleOf::kPlot);
  occasion.entries = words_of(row.text("entries"));
  occasion.hours_after_turn_in = row.number("hours_after_turn_in");
  return occasion;
}

Scale read_score(const TableRow& row) {
  Scale score;
  score.code = row.text("code");
  score.kind = ScaleKind::kScore;
  score.name = row.text("name");
  const std::string best = row.text("best");
  const auto* const direction =
      std::ranges::find(kBest, best, &std::pair<Direction, std::string_view>::second);
  score.direction = direction == kBest.end() ? Direction::kNone : direction->first;
  score.minimum = row.integer("lowest");
  score.maximum = row.integer("highest");
  score.step = score.fine_step = std::max(1, row.integer("step"));
  score.steps = score_steps(row);
  score.definition = row.text("definition");
  score.source = row.text("source").empty() ? std::string(kOwnSource) : row.text("source");
  return score;
}

// Codes are in small letters, and reports write pH, P and K.
std::string in_small_letters(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

SoilTest read_soil(const TableRow& row) {
  return {.property = in_small_letters(row.text("property")),
          .value = row.number("value"),
          .unit = row.text("unit"),
          .extractant = row.text("extractant"),
          .depth = row.number("depth"),
          .depth_unit = row.text("depth_unit"),
          .lab = row.text("lab"),
          .sampled = row.date("sampled")};
}

Cells trial_cells(const Plan& plan) {
  return {plan.codes.station,
          plan.codes.site,
          plan.codes.trial,
          plan.title,
          plan.site_name,
          plan.zone,
          plan.field,
          format_date(plan.sown),
          plan.design,
          plan.drilled ? "true" : "false",
          plan.plot_length.text,
          plan.plot_length.unit,
          plan.plot_width.text,
          plan.plot_width.unit,
          plan.swath_length.text,
          plan.swath_length.unit,
          plan.swath_width.text,
          plan.swath_width.unit,
          plan.bag_tare.text,
          plan.bag_tare.unit,
          plan.bag_tare_weighed == BagWeighed::kNotStated
              ? std::string()
              : std::string(name_of(plan.bag_tare_weighed)),
          plan.random_seed,
          plan.alley.text,
          plan.alley.unit,
          plan.border.text,
          plan.border.unit,
          plan.parent,
          plan.reason};
}

Cells entry_cells(const PlanEntry& entry) {
  return {entry.code,
          entry.species,
          entry.variety,
          std::string(name_of(entry.endophyte)),
          entry.strain,
          std::string(name_of(entry.role)),
          entry.seed_lot,
          entry.endophyte_percent,
          date_or_empty(entry.endophyte_tested),
          date_or_empty(entry.seed_harvested),
          entry.germination,
          entry.hard_seed,
          entry.purity,
          entry.sowing_rate,
          entry.sowing_rate_unit};
}

Cells plot_cells(const PlanPlot& plot) {
  return {plot.number,
          std::to_string(plot.block),
          plot.entry,
          std::to_string(plot.row),
          std::to_string(plot.column),
          std::to_string(plot.path),
          number_or_empty(plot.incomplete_block)};
}

Cells occasion_cells(const PlanOccasion& occasion) {
  return {occasion.code,
          std::string(name_of(occasion.job)),
          std::to_string(occasion.year),
          number_or_empty(occasion.cutting),
          spaced(occasion.measures),
          date_or_empty(occasion.due),
          occasion.sample_of == SampleOf::kPlot ? std::string()
                                                : std::string(name_of(occasion.sample_of)),
          spaced(occasion.entries),
          occasion.hours_after_turn_in};
}

Cells score_cells(const Scale& score) {
  const auto* const best =
      std::ranges::find(kBest, score.direction, &std::pair<Direction, std::string_view>::first);
  return {score.code,
          score.name,
          format_number(score.minimum.value_or(0)),
          format_number(score.maximum.value_or(0)),
          format_number(score.step),
          std::string(best->second),
          score.steps.empty() ? std::string() : score.steps.front().name,
          score.steps.empty() ? std::string() : score.steps.back().name,
          score.definition,
          score.source};
}

Cells soil_cells(const SoilTest& test) {
  return {test.property, test.value,      test.unit, test.extractant,
          test.depth,    test.depth_unit, test.lab,  date_or_empty(test.sampled)};
}

}  // namespace ligule::files
