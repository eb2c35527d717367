#include "storage/files/entry_list.h"

#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <utility>

#include "storage/files/entry_words.h"
#include "storage/files/plan_rows.h"
#include "storage/files/respelled_table.h"
#include "storage/files/table_row.h"

namespace ligule::files {
namespace {

constexpr std::int64_t kMostRepeats = 99;

bool is_percent(std::string_view column) {
  return column == "germination" || column == "hard_seed" || column == "purity" ||
         column == "endophyte_percent";
}

class ListReader {
 public:
  ListReader(const Table& table, const Definitions& definitions, const std::string& species)
      : table_(table), definitions_(definitions), species_(species) {}

  Checked<EntryList> read(const TableSchema& schema);

 private:
  using Cells = std::map<std::string, std::string>;

  void fault(const CsvRow& row, std::string_view column, std::string what, std::string mend) {
    faults_.push_back({ErrorKind::kInvalid, std::move(what), place(row, column), std::move(mend)});
  }
  void notice(std::string where, std::string what, std::string mend) {
    list_.notices.push_back(
        {ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)});
  }
  [[nodiscard]] std::string header_place() const {
    return table_.file() + " line " + std::to_string(table_.header_line());
  }
  // Where a column of ours stands in this row; the row where the list has no such column.
  [[nodiscard]] std::string place(const CsvRow& row, std::string_view column) const {
    const auto at = headings_.find(column);
    return at == headings_.end() ? table_.place(row) : table_.place(row, at->second);
  }
  [[nodiscard]] std::string text(const CsvRow& row, std::string_view column) const {
    const auto at = headings_.find(column);
    return at == headings_.end() ? std::string() : cell_text(table_, row, at->second);
  }
  void headings();
  [[nodiscard]] Cells cells_of(const CsvRow& row);
  void species(const CsvRow& row, Cells& cells);
  void endophyte(const CsvRow& row, Cells& cells);
  void role(const CsvRow& row, Cells& cells);
  void rate(const CsvRow& row, Cells& cells);
  void repeats(const CsvRow& row, const std::string& role);

  const Table& table_;
  const Definitions& definitions_;
  const std::string& species_;
  std::map<std::string, std::string, std::less<>> headings_;  // our column -> theirs
  std::string rate_unit_;
  bool filled_ = false;
  EntryList list_;
  Faults faults_;
};

void ListReader::headings() {
  std::string passed;
  for (const std::string& column : table_.columns()) {
    const Heading heading = heading_of(column);
    if (heading.column.empty()) {
      passed += passed.empty() ? "" : ", ";
      passed += column;
      continue;
    }
    const auto [at, fresh] = headings_.emplace(heading.column, column);
    if (!fresh)
      faults_.push_back(
          {ErrorKind::kInvalid, "columns '" + at->second + "' and '" + column + "' say the same",
           header_place(), "keep one of them, or give the other a heading of its own"});
    if (heading.column == "sowing_rate" && !heading.unit.empty()) rate_unit_ = heading.unit;
  }
  if (!headings_.contains("variety"))
    faults_.push_back(
        {ErrorKind::kInvalid, "no column holds the varieties", header_place(), "head it Variety"});
  if (!passed.empty())
    notice(header_place(), "passed over: " + passed,
           "nothing is lost in the list; a column that should count needs one of the headings that "
           "the README lists");
}

void ListReader::species(const CsvRow& row, Cells& cells) {
  std::string said = text(row, "species");
  if (said.empty()) said = species_;
  const Species* found = species_named(definitions_, said);
  if (found != nullptr) {
    cells["species"] = found->code;
    return;
  }
  // A code that can stand in the table, so that nothing more is said of it.
  cells["species"] = "unknown";
  if (said.empty())
    return fault(row, "species", "no species is stated",
                 "add a column Species, or the line species to the site sheet");
  fault(row, "species", "species '" + said + "' is not known",
        "use a name or code of the program's species list, such as tall fescue");
}

void ListReader::endophyte(const CsvRow& row, Cells& cells) {
  const std::string said = text(row, "endophyte");
  const Species* found = definitions_.find_species(cells["species"]);
  const auto words = endophyte_said(said, found != nullptr && found->endophyte);
  cells["endophyte"].clear();
  if (!words)
    return fault(row, "endophyte", "'" + said + "' is no endophyte status",
                 "write novel, free, toxic or not stated, a strain behind novel or toxic");
  cells["endophyte"] = words->status;
  if (!words->strain.empty() && cells["strain"].empty()) cells["strain"] = words->strain;
  if (words->sign_only)
    notice(place(row, "endophyte"), "E+ is taken for toxic (wild type)",
           "write novel and the strain where it is a novel endophyte");
}

void ListReader::role(const CsvRow& row, Cells& cells) {
  const std::string said = text(row, "role");
  auto role = role_said(said);
  if (!role) fault(row, "role", "'" + said + "' is no role", "write test, check or filler");
  const std::string check = text(row, "check");
  const auto yes = yes_said(check);
  if (!yes)
    fault(row, "check", "'" + check + "' is neither yes nor no", "write yes at check entries");
  if (yes.value_or(false) && role == "test") role = "check";
  cells["role"] = role.value_or("test");
  if (cells["role"] == "filler" && std::exchange(filled_, true))
    fault(row, "role", "there is a filler already", "one entry fills what is left of blocks");
}

void ListReader::rate(const CsvRow& row, Cells& cells) {
  std::string& rate = cells["sowing_rate"];
  std::string& unit = cells["sowing_rate_unit"];
  if (rate.empty()) return;
  const std::size_t digits = rate.find_first_not_of("0123456789.");
  if (digits != std::string::npos && digits > 0) {
    unit = without_blanks(std::string_view(rate).substr(digits));
    rate.resize(digits);
  } else if (unit.empty()) {
    unit = rate_unit_;
  }
  const std::string known = rate_unit(unit);
  if (known.empty())
    fault(
        row, "sowing_rate",
        unit.empty() ? "the sowing rate has no unit" : "'" + unit + "' is no unit of a sowing rate",
        "write lb/acre or kg/ha behind the number, or into the heading");
  unit = known;
}

void ListReader::repeats(const CsvRow& row, const std::string& role) {
  const std::string said = text(row, "repeats");
  const auto number = said.empty() ? Result<std::int64_t>(1) : parse_integer(said);
  if (!number || *number < 1 || *number > kMostRepeats)
    fault(row, "repeats", "'" + said + "' is no number of plots in a block",
          "write 1 to 99, or leave it empty for 1");
  else if (*number > 1 && role != "check")
    fault(row, "repeats", "an entry that is no check stands in a block once",
          "give it the role check, or take the repeats out");
  list_.repeats.push_back(number ? static_cast<int>(*number) : 1);
}

ListReader::Cells ListReader::cells_of(const CsvRow& row) {
  Cells cells;
  for (const auto& [column, heading] : headings_) {
    std::string cell = text(row, column);
    if (is_percent(column) && cell.ends_with('%'))
      cell = without_blanks(std::string_view(cell).substr(0, cell.size() - 1));
    cells[column] = std::move(cell);
  }
  if (!list_.coded) cells["code"] = std::to_string(list_.places.size() + 1);
  species(row, cells);
  endophyte(row, cells);
  role(row, cells);
  rate(row, cells);
  repeats(row, cells["role"]);
  return cells;
}

Checked<EntryList> ListReader::read(const TableSchema& schema) {
  headings();
  if (!faults_.empty()) return std::unexpected(std::move(faults_));
  list_.coded = headings_.contains("code");
  RespelledTable respelled(table_.file(), entry_columns());
  for (const CsvRow& row : table_.rows()) {
    Cells cells = cells_of(row);
    std::vector<std::string> ordered, places;
    for (const std::string& column : entry_columns()) {
      ordered.push_back(cells[column]);
      places.push_back(place(row, column));
    }
    respelled.add(std::move(ordered), std::move(places));
    list_.places.push_back(table_.place(row));
  }
  const auto table = respelled.judged_by(schema);
  if (!table) std::ranges::copy(table.error(), std::back_inserter(faults_));
  if (!table || !faults_.empty()) return std::unexpected(std::move(faults_));
  list_.entries.reserve(table->rows().size());
  for (const CsvRow& row : table->rows())
    list_.entries.push_back(read_entry(TableRow(*table, row)));
  return std::move(list_);
}

}  // namespace

Checked<EntryList> read_entry_list(std::string_view text, const std::string& file,
                                   const TableSchema& schema, const Definitions& definitions,
                                   const std::string& species) {
  const auto table = Table::parse(text, file);
  if (!table) return std::unexpected(table.error());
  return ListReader(*table, definitions, species).read(schema);
}

}  // namespace ligule::files
