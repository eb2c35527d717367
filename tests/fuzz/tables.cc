// Every reader of tables that people, spreadsheets and machines write.
#include "tests/fuzz/tables.h"

#include <algorithm>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "storage/files/assets.h"
#include "storage/files/csv.h"
#include "storage/files/definitions.h"
#include "storage/files/entry_list.h"
#include "storage/files/occasion_list.h"
#include "storage/files/plan_folder.h"
#include "storage/files/seed_on_hand.h"
#include "storage/files/site_sheet.h"
#include "storage/trial/record_line.h"
#include "sync/gather/paper_file.h"
#include "sync/gather/paper_values.h"
#include "sync/gather/typed_line.h"
#include "sync/gather/weight_file.h"
#include "sync/results/aliases.h"
#include "sync/results/release.h"
#include "sync/results/site_notes.h"
#include "sync/results/values_file.h"
#include "sync/results/varieties.h"
#include "tests/fuzz/require.h"
#include "tests/fuzz/targets.h"

namespace ligule::fuzz {
namespace {

using files::CsvRow;
using files::Faults;
using files::Table;

constexpr const char* kFile = "table.csv";

struct Assets {
  Definitions definitions;
  files::PlanSchemas schemas;
};

const Assets& assets() {
  static const Assets read = [] {
    const auto files = files::real_file_system();
    const files::Path folder = LIGULE_SOURCE_ASSETS;
    return Assets{files::load_definitions(*files, folder).value(),
                  files::load_plan_schemas(*files, folder).value()};
  }();
  return read;
}

void judge_faults(const Faults& faults) {
  for (const Error& fault : faults) require(!fault.what.empty(), "a fault says what is wrong");
}
template <class T>
void judge(const files::Checked<T>& read) {
  if (read) return;
  require(!read.error().empty(), "what is refused has a fault");
  judge_faults(read.error());
}

// The reader that copies and the one that does not tell the same of a text.
void both_csv_readers(std::string_view text) {
  const auto rows = files::parse_csv(text, kFile);
  files::CsvReader reader(files::without_byte_order_mark(text), kFile);
  std::size_t count = 0;
  while (true) {
    const auto row = reader.next();
    if (!row) return require(!rows && rows.error() == row.error(), "both CSV readers refuse alike");
    if (!*row) break;
    require(!rows || count < rows->size(), "both CSV readers see the same rows");
    if (!rows) continue;
    const CsvRow& copied = (*rows)[count++];
    const bool same =
        copied.line == (*row)->line && std::ranges::equal(copied.cells, (*row)->cells);
    require(same, "both CSV readers see the same cells");
  }
  require(rows.has_value() && count == rows->size(),
          "both CSV readers see the same number of rows");
}

// A table that could be read is written and read without a change.
void table_and_back(std::string_view text) {
  const auto table = Table::parse(text, kFile);
  judge(table);
  if (!table || table->columns().front().starts_with("\xEF\xBB\xBF")) return;
  std::vector<std::vector<std::string>> rows;
  rows.reserve(table->rows().size());
  for (const CsvRow& row : table->rows()) rows.push_back(row.cells);
  const auto plain = [](const std::vector<std::string>& cells) {
    return std::ranges::all_of(cells, is_cell_text);
  };
  if (!plain(table->columns()) || !std::ranges::all_of(rows, plain)) return;
  const auto again = Table::parse(files::csv_text(table->columns(), rows), kFile);
  require(again.has_value() && again->columns() == table->columns() &&
              again->rows().size() == rows.size() &&
              std::ranges::equal(again->rows(), rows, {}, &CsvRow::cells),
          "a table written anew is the same table");
}

void csv(std::string_view text) {
  both_csv_readers(text);
  table_and_back(text);
}

void entry_list(std::string_view text) {
  for (const char* species : {"", "tall_fescue"}) {
    const auto list = files::read_entry_list(text, kFile, assets().schemas.entries,
                                             assets().definitions, species);
    judge(list);
    if (!list) continue;
    require(
        list->entries.size() == list->repeats.size() && list->entries.size() == list->places.size(),
        "every entry has its place and its repeats");
    judge_faults(list->notices);
  }
}

void site_sheet(std::string_view text) {
  constexpr std::string_view kOthers[] = {"reps", "rows", "columns", "seed"};
  judge(files::read_site_sheet(text, kFile, assets().schemas.trial, kOthers));
}

void occasion_list(std::string_view text) {
  using date::year;
  const auto list =
      files::read_occasion_list(text, kFile, assets().schemas.occasions, year{2025} / 9 / 3);
  judge(list);
  if (list) require(list->occasions.size() == list->places.size(), "every occasion has its place");
}

void values(std::string_view text) {
  const auto file = results::parse_values(text, kFile);
  if (!file) return;
  require(file->values.size() == file->lines.size(), "every value has its line");
  require(std::ranges::is_sorted(file->lines), "values stand in the order of their lines");
  require(file->bad.empty() || !file->faults.empty(), "a bad row has a fault");
  judge_faults(file->faults);
}

void aliases(std::string_view text) {
  if (auto file = results::parse_aliases(text, kFile)) {
    judge_faults(file->faults);
    if (!file->faults.empty()) return;
    const results::Aliases names(std::move(file->aliases));
    for (const results::Alias& alias : names.all()) {
      const std::string label = names.label_for(alias.name, alias.from_year);
      require(names.label_for(label, alias.from_year) == label, "no alias leads to another one");
    }
  }
}

void varieties(std::string_view text) {
  if (auto file = results::parse_varieties(text, kFile)) {
    judge_faults(file->faults);
    const results::Varieties known(std::move(file->varieties));
    for (const results::Variety& variety : known.all()) {
      const auto printed = known.printed(variety.name);
      require(!printed || !printed->empty(), "what is printed has a name");
    }
  }
}

void site_notes(std::string_view text) {
  judge(results::parse_site_notes(text, kFile));
}

void weather(std::string_view text) {
  const auto months = results::parse_weather(text, kFile);
  judge(months);
  if (!months) return;
  for (const results::MonthWeather& month : *months)
    require(month.month >= 1 && month.month <= 12, "a month is one of twelve");
}

void releases(std::string_view text) {
  const auto rows = results::parse_releases(text, kFile);
  judge(rows);
  if (!rows) return;
  const auto again = results::parse_releases(results::releases_csv(*rows), kFile);
  require(again.has_value() && *again == *rows, "releases written anew are the same");
}

void paper(std::string_view text) {
  const auto lines = gather::read_paper_file(text, kFile);
  judge(lines);
  if (!lines) return;
  for (const gather::PaperLine& line : *lines) {
    for (const auto& [measure, seen] : line.texts) {
      if (const Scale* scale = assets().definitions.scale(measure)) {
        const auto parts = gather::entered_in_box(*scale, seen);
        require(!parts || !parts->empty(), "what stands in a box is a reading at least");
      }
    }
  }
}

// Lines that somebody types from a sheet with a stand, heights, counts and a note.
void typed(std::string_view text) {
  static const std::vector<SheetColumn> columns = [] {
    std::vector<SheetColumn> made;
    for (const char* measure :
         {"percent_stand", "plant_height_canopy", "stage_counts_grass", "ground_cover", "note"})
      made.push_back({measure, {assets().definitions.scale(measure)}, TypedIn::kFromPaper});
    return made;
  }();
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const auto line = gather::parse_typed_line(text.substr(0, end), columns, "107");
    text.remove_prefix(std::min(end + 1, text.size()));
    if (!line || line->what != gather::Typed::kValues) continue;
    for (const SheetColumn& column : columns) {
      const auto at = line->line.texts.find(column.measure);
      if (at == line->line.texts.end()) continue;
      const auto parts = gather::entered_in_box(*column.scales.front(), at->second);
      require(!parts || !parts->empty(), "what is typed is a reading at least");
    }
  }
}

// The first line names the columns, as --columns does.
void weights(std::string_view text) {
  const std::size_t end = std::min(text.find('\n'), text.size());
  const auto columns = gather::parse_weight_columns(text.substr(0, end));
  if (!columns) return;
  text.remove_prefix(std::min(end + 1, text.size()));
  for (const bool leave_blanks : {false, true}) {
    const auto file = gather::read_weight_file(text, kFile, *columns, leave_blanks);
    judge(file);
    if (!file) continue;
    for (const gather::WeightRow& row : file->rows) {
      require(row.line > file->header_line, "weights stand below their headings");
      require(!row.cell(gather::column::kPlot).empty(), "a weight is of a plot");
    }
  }
}

void seed_on_hand(std::string_view text) {
  judge(files::read_seed_on_hand(text, kFile));
}

using Read = void (*)(std::string_view text);
constexpr std::array<Read, kTableReaders.size()> kReaders{
    csv,        entry_list, site_sheet, occasion_list, values, aliases, varieties,
    site_notes, weather,    releases,   paper,         typed,  weights, seed_on_hand};

}  // namespace

void tables(std::string_view input) {
  if (input.empty()) return;
  const std::size_t which = kTableReaders.find(input.front());
  if (which != std::string_view::npos) kReaders[which](input.substr(1));
}

}  // namespace ligule::fuzz
