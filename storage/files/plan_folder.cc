#include "storage/files/plan_folder.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <set>
#include <utility>

#include "storage/files/csv.h"
#include "storage/files/plan_check.h"
#include "storage/files/table_row.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"

namespace ligule::files {
namespace {

constexpr std::uint64_t kLargestPlanTable = 16U << 20U;
constexpr std::uint64_t kLargestSchema = 1U << 20U;

// The columns this program fills and reads, in the order they are written. A schema may describe
// them in another order but must describe exactly these.
using Columns = std::vector<std::string>;
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
                               "purity"};
  return columns;
}
const Columns& plot_columns() {
  static const Columns columns{"number", "block", "entry", "row", "column", "path"};
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

// One of the tables of a plan.
struct Part {
  const char* name;  // trial.csv, trial.schema.json
  TableSchema PlanSchemas::*schema;
  const Columns& (*columns)();
  bool optional = false;

  [[nodiscard]] std::string table_file() const { return std::string(name) + ".csv"; }
  [[nodiscard]] std::string schema_file() const { return std::string(name) + ".schema.json"; }
};
constexpr std::array<Part, 5> kParts{{{"trial", &PlanSchemas::trial, trial_columns},
                                      {"entries", &PlanSchemas::entries, entry_columns},
                                      {"plots", &PlanSchemas::plots, plot_columns},
                                      {"occasions", &PlanSchemas::occasions, occasion_columns},
                                      {"scores", &PlanSchemas::scores, score_columns, true}}};

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
          .purity = row.number("purity")};
}

PlanPlot read_plot(const TableRow& row) {
  return {row.text("number"), row.integer("block"),  row.text("entry"),
          row.integer("row"), row.integer("column"), row.integer("path")};
}

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

// Reads the rows of a list of the plan and where each stands.
template <class Item>
void read_rows(const Table& table, Item (*read)(const TableRow&), std::vector<Item>& items,
               std::vector<std::string>& places) {
  for (const CsvRow& cells : table.rows()) {
    const TableRow row(table, cells);
    items.push_back(read(row));
    places.push_back(row.place());
  }
}

// A table and its faults so far; no table when the file could not be read as one.
std::optional<Table> read_table(FileSystem& files, const Path& folder, const Part& part,
                                const PlanSchemas& schemas, Faults& faults) {
  const std::string name = part.table_file();
  const auto text = files.read(folder / name, kLargestPlanTable);
  if (!text) {
    faults.push_back(text.error());
    return std::nullopt;
  }
  auto table = Table::parse(*text, name);
  if (!table) {
    std::ranges::move(table.error(), std::back_inserter(faults));
    return std::nullopt;
  }
  std::ranges::move(table_faults(*table, schemas.*part.schema), std::back_inserter(faults));
  return *std::move(table);
}

bool has_required_columns(const std::optional<Table>& table, const TableSchema& schema) {
  return table && std::ranges::all_of(schema.fields, [&](const Field& field) {
           return !field.required || table->find_column(field.name);
         });
}

// The row a fault about a cell or row is in: "plots.csv line 9" of "plots.csv line 9, column path".
std::string row_of(const Error& fault) {
  return fault.where.substr(0, fault.where.find(", column "));
}

void read_single_trial(const Table& table, Plan& plan, PlanPlaces& places, Faults& faults) {
  if (table.rows().size() != 1) {
    faults.push_back({ErrorKind::kInvalid,
                      "the table has " + std::to_string(table.rows().size()) + " rows, not one",
                      table.file(), "a plan is one trial: give each trial a folder of its own"});
  }
  if (table.rows().empty()) return;
  const TableRow row(table, table.rows().front());
  read_trial(row, plan);
  places.trial = row.place();
}

// Faults by table in the order of kParts, then by line; those of one place keep their order.
void sort_by_place(Faults& faults) {
  const auto key = [](const Error& fault) {
    std::size_t table = 0;
    while (table < kParts.size() && !fault.where.starts_with(kParts[table].table_file())) ++table;
    const std::size_t at = fault.where.find(" line ");
    const std::size_t end = fault.where.find_first_not_of("0123456789", at + 6);
    const auto line = at == std::string::npos
                          ? 0
                          : parse_integer(fault.where.substr(at + 6, end - at - 6)).value_or(0);
    return std::pair(table, line);
  };
  std::ranges::stable_sort(faults, {}, key);
}

std::string number_or_empty(int value) {
  return value == 0 ? std::string() : std::to_string(value);
}

std::string date_or_empty(const std::optional<CalendarDate>& date) {
  return date ? format_date(*date) : std::string();
}

using Cells = std::vector<std::string>;

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
          entry.purity};
}

Cells plot_cells(const PlanPlot& plot) {
  return {plot.number,
          std::to_string(plot.block),
          plot.entry,
          std::to_string(plot.row),
          std::to_string(plot.column),
          std::to_string(plot.path)};
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

template <class Item>
std::vector<Cells> rows_of(const std::vector<Item>& items, Cells (*cells)(const Item&)) {
  std::vector<Cells> rows;
  std::ranges::transform(items, std::back_inserter(rows), cells);
  return rows;
}

Result<void> write_table(FileSystem& files, const Path& folder, const Part& part,
                         const std::vector<Cells>& rows, const PlanSchemas& schemas) {
  for (const Cells& row : rows) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (!is_cell_text(row[i]) || row[i] != cleaned(row[i]))
        return fail(ErrorKind::kInvalid,
                    part.columns()[i] + " '" + row[i] + "' cannot stand in a table",
                    part.table_file(), "take out line breaks and blanks at the ends");
    }
  }
  const auto written = files.write_durably(folder / part.table_file(),
                                           csv_text(part.columns(), rows), Access::kEveryone);
  if (!written) return written;
  return files.write_durably(folder / part.schema_file(), (schemas.*part.schema).text,
                             Access::kEveryone);
}

// An older table that the plan no longer has.
Result<void> take_away(FileSystem& files, const Path& file) {
  const auto there = files.exists(file);
  if (!there) return std::unexpected(there.error());
  return *there ? files.remove(file) : Result<void>();
}

}  // namespace

Checked<PlanSchemas> load_plan_schemas(FileSystem& files, const Path& assets) {
  PlanSchemas schemas;
  Faults faults;
  for (const Part& part : kParts) {
    const std::string file = "plan/" + part.schema_file();
    const auto text = files.read(assets / file, kLargestSchema);
    if (!text) {
      faults.push_back(text.error());
      continue;
    }
    auto schema = parse_table_schema(*text, file);
    if (!schema) {
      faults.push_back(schema.error());
      continue;
    }
    std::set<std::string> described;
    for (const Field& field : schema->fields) described.insert(field.name);
    const std::set<std::string> used(part.columns().begin(), part.columns().end());
    if (described != used)
      faults.push_back({ErrorKind::kInvalid, "the schema does not describe the columns in use",
                        file, "reinstall the program's assets"});
    schemas.*part.schema = *std::move(schema);
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return schemas;
}

Checked<PlanRead> read_plan_folder(FileSystem& files, const Path& folder,
                                   const PlanSchemas& schemas, const Definitions& definitions) {
  Faults faults;
  const auto table = [&](const Part& part) {
    return read_table(files, folder, part, schemas, faults);
  };
  const auto trial = table(kParts[0]);
  const auto entries = table(kParts[1]);
  const auto plots = table(kParts[2]);
  const auto occasions = table(kParts[3]);
  const auto has_scores = files.exists(folder / kParts[4].table_file());
  if (!has_scores) faults.push_back(has_scores.error());
  const auto scores = has_scores && *has_scores ? table(kParts[4]) : std::optional<Table>();

  PlanRead read;
  PlanPlaces places;
  if (trial) read_single_trial(*trial, read.plan, places, faults);
  if (entries) read_rows(*entries, read_entry, read.plan.entries, places.entries);
  if (plots) read_rows(*plots, read_plot, read.plan.plots, places.plots);
  if (occasions) read_rows(*occasions, read_occasion, read.plan.occasions, places.occasions);
  if (scores) read_rows(*scores, read_score, read.plan.scores, places.scores);
  places.incomplete = !faults.empty();

  // A row with a bad cell has been told of; whatever follows from that cell has not to be.
  std::set<std::string> judged;
  for (const Error& fault : faults) judged.insert(row_of(fault));
  PlanFindings found = check_plan(read.plan, definitions, places);
  const bool whole = has_required_columns(trial, schemas.trial) &&
                     has_required_columns(entries, schemas.entries) &&
                     has_required_columns(plots, schemas.plots) &&
                     has_required_columns(occasions, schemas.occasions) &&
                     (!scores || has_required_columns(scores, schemas.scores));
  for (Error& fault : found.faults) {
    if (whole && !judged.contains(fault.where)) faults.push_back(std::move(fault));
  }
  if (!faults.empty()) {
    sort_by_place(faults);
    return std::unexpected(std::move(faults));
  }
  read.notices = std::move(found.notices);
  return read;
}

Result<void> write_plan_folder(FileSystem& files, const Path& folder, const Plan& plan,
                               const PlanSchemas& schemas) {
  const std::array<std::vector<Cells>, kParts.size()> rows{
      std::vector<Cells>{trial_cells(plan)}, rows_of(plan.entries, entry_cells),
      rows_of(plan.plots, plot_cells), rows_of(plan.occasions, occasion_cells),
      rows_of(plan.scores, score_cells)};
  if (auto made = files.make_folders(folder); !made) return made;
  for (std::size_t i = 0; i < kParts.size(); ++i) {
    if (kParts[i].optional && rows[i].empty()) {
      if (auto gone = take_away(files, folder / kParts[i].table_file()); !gone) return gone;
      continue;
    }
    if (auto written = write_table(files, folder, kParts[i], rows[i], schemas); !written)
      return written;
  }
  return {};
}

}  // namespace ligule::files
