#include "storage/files/plan_folder.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <set>
#include <utility>

#include "storage/files/csv.h"
#include "storage/files/plan_check.h"
#include "storage/files/plan_rows.h"
#include "storage/files/soil_check.h"
#include "storage/files/soil_tables.h"
#include "storage/files/table_row.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"

namespace ligule::files {
namespace {

// Of the plots of the largest trial, 40 bytes each. A stick may bring any file: what is read of it
// takes thirty times its size at most.
constexpr std::uint64_t kLargestPlanTable = 4U << 20U;
constexpr std::ptrdiff_t kMostLines = 100'000;
constexpr std::uint64_t kLargestSchema = 1U << 20U;

// One of the tables of a plan.
struct Part {
  const char* name;  // trial.csv, trial.schema.json
  TableSchema PlanSchemas::*schema;
  const Columns& (*columns)();
  bool optional = false;

  [[nodiscard]] std::string table_file() const { return std::string(name) + ".csv"; }
  [[nodiscard]] std::string schema_file() const { return std::string(name) + ".schema.json"; }
};
constexpr std::array<Part, 6> kParts{{{"trial", &PlanSchemas::trial, trial_columns},
                                      {"entries", &PlanSchemas::entries, entry_columns},
                                      {"plots", &PlanSchemas::plots, plot_columns},
                                      {"occasions", &PlanSchemas::occasions, occasion_columns},
                                      {"scores", &PlanSchemas::scores, score_columns, true},
                                      {"soil", &PlanSchemas::soil, soil_columns, true}}};

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
  if (std::max(std::ranges::count(*text, '\n'), std::ranges::count(*text, '\r')) > kMostLines) {
    faults.push_back({ErrorKind::kInvalid, "the table has more than 100000 lines", name,
                      "a plan is one trial: give each trial a folder of its own"});
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
  if (auto tables = load_soil_tables(files, assets))
    schemas.soil_tables = *std::move(tables);
  else
    std::ranges::move(tables.error(), std::back_inserter(faults));
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
  const auto table_if_there = [&](const Part& part) {
    const auto there = files.exists(folder / part.table_file());
    if (!there) faults.push_back(there.error());
    return there && *there ? table(part) : std::optional<Table>();
  };
  const auto scores = table_if_there(kParts[4]);
  const auto soil = table_if_there(kParts[5]);

  PlanRead read;
  PlanPlaces places;
  if (trial) read_single_trial(*trial, read.plan, places, faults);
  if (entries) read_rows(*entries, read_entry, read.plan.entries, places.entries);
  if (plots) read_rows(*plots, read_plot, read.plan.plots, places.plots);
  if (occasions) read_rows(*occasions, read_occasion, read.plan.occasions, places.occasions);
  if (scores) read_rows(*scores, read_score, read.plan.scores, places.scores);
  if (soil) read_rows(*soil, read_soil, read.plan.soil, places.soil);
  places.incomplete = !faults.empty();

  // A row with a bad cell has been told of; whatever follows from that cell has not to be.
  std::set<std::string> judged;
  for (const Error& fault : faults) judged.insert(row_of(fault));
  PlanFindings found = check_plan(read.plan, definitions, places);
  PlanFindings of_soil = check_soil(read.plan, schemas.soil_tables, places);
  std::ranges::move(of_soil.faults, std::back_inserter(found.faults));
  std::ranges::move(of_soil.notices, std::back_inserter(found.notices));
  const bool whole = has_required_columns(trial, schemas.trial) &&
                     has_required_columns(entries, schemas.entries) &&
                     has_required_columns(plots, schemas.plots) &&
                     has_required_columns(occasions, schemas.occasions) &&
                     (!scores || has_required_columns(scores, schemas.scores)) &&
                     (!soil || has_required_columns(soil, schemas.soil));
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
      rows_of(plan.plots, plot_cells),       rows_of(plan.occasions, occasion_cells),
      rows_of(plan.scores, score_cells),     rows_of(plan.soil, soil_cells)};
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
