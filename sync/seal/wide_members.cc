#include "sync/seal/wide_members.h"

#include <algorithm>
#include <functional>
#include <utility>

#include "storage/files/columns.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/record_line.h"
#include "sync/seal/season_layout.h"

namespace ligule::seal {
namespace {

using Texts = std::set<std::string, std::less<>>;

// What is wrong with a table, and in which line; 0: with all of it.
struct LineFault {
  std::string what;
  std::size_t line = 0;
};
using VisitRow = std::function<void(std::size_t line, const LineCells& cells)>;

std::string header_of(const wide::WideTable& table) {
  std::vector<std::string> names;
  names.reserve(table.columns.size());
  for (const files::Column& column : table.columns) names.push_back(column.name);
  return join_line(names);
}

std::optional<std::size_t> place_of(const wide::WideTable& table, std::string_view column) {
  const auto at = std::ranges::find(table.columns, column, &files::Column::name);
  if (at == table.columns.end()) return std::nullopt;
  return static_cast<std::size_t>(at - table.columns.begin());
}

std::optional<std::string> row_fault_of(const wide::WideTable& table, std::string_view line,
                                        const VisitRow& visit, std::size_t number) {
  const auto cells = LineCells::of(line);
  if (!cells) return cells.error().what;
  if (cells->size() != table.columns.size())
    return "the row has " + std::to_string(cells->size()) + " cells where " +
           std::to_string(table.columns.size()) + " are declared";
  if (auto fault = files::row_fault(table.columns, cells->all())) return fault;
  visit(number, *cells);
  return std::nullopt;
}

LineFault too_many_rows(std::size_t number) {
  return {"the table has more than " + std::to_string(kMostTableRows) + " rows", number};
}

// Calls visit with every row; stops at the first that is not what the table declares.
std::optional<LineFault> each_row(const WideMember& member, const VisitRow& visit) {
  std::string_view rest = member.csv;
  for (std::size_t number = 1; !rest.empty() || number == 1; ++number) {
    const std::size_t end = rest.find(kLineEnd);
    if (end == std::string_view::npos) return LineFault{"the line has no end", number};
    const std::string_view line = rest.substr(0, end);
    rest.remove_prefix(end + kLineEnd.size());
    if (number == 1) {
      if (line != header_of(member.table))
        return LineFault{"the header is not that of the declared columns", number};
    } else if (number > kMostTableRows + 1) {
      return too_many_rows(number);
    } else if (auto fault = row_fault_of(member.table, line, visit, number)) {
      return LineFault{*std::move(fault), number};
    }
  }
  return std::nullopt;
}

std::optional<LineFault> cells_fault(const WideMember& member) {
  return each_row(member, [](std::size_t, const LineCells&) {});
}

// Of a table whose cells have no fault.
std::optional<LineFault> key_fault(const WideMember& member) {
  const auto& key = member.table.primary_key;
  if (key.empty()) return std::nullopt;
  std::vector<std::size_t> places;
  for (const std::string& column : key) {
    const auto place = place_of(member.table, column);
    if (!place) return LineFault{"its primary key names no column: " + cleaned(column)};
    places.push_back(*place);
  }
  std::vector<std::pair<std::string, std::size_t>> rows;  // the key's cells as a line
  std::optional<LineFault> empty;
  each_row(member, [&](std::size_t line, const LineCells& cells) {
    std::vector<std::string> of_key;
    for (const std::size_t place : places) {
      of_key.emplace_back(cells[place]);
      if (cells[place].empty() && !empty)
        empty = LineFault{"a cell of the primary key is empty", line};
    }
    rows.emplace_back(join_line(of_key), line);
  });
  if (empty) return empty;
  std::ranges::sort(rows);
  const auto twice = std::ranges::adjacent_find(
      rows, {}, [](const auto& row) -> const std::string& { return row.first; });
  if (twice == rows.end()) return std::nullopt;
  return LineFault{"the primary key stands in an earlier row too", std::next(twice)->second};
}

// The values of a column that are not empty.
Texts values_of(const WideMember& member, std::size_t place) {
  Texts values;
  each_row(member, [&](std::size_t, const LineCells& cells) {
    if (!cells[place].empty()) values.emplace(cells[place]);
  });
  return values;
}

// The values of a reference's target; empty where there is no such table or column.
std::optional<Texts> targets_of(const wide::Reference& reference,
                                std::span<const WideMember> tables) {
  const auto to = std::ranges::find_if(
      tables, [&](const WideMember& member) { return member.table.name == reference.table; });
  if (to == tables.end()) return std::nullopt;
  const auto place = place_of(to->table, reference.key);
  if (!place) return std::nullopt;
  return values_of(*to, *place);
}

std::optional<LineFault> reference_fault(const WideMember& member, const wide::Reference& reference,
                                         std::span<const WideMember> tables) {
  const auto place = place_of(member.table, reference.column);
  const auto targets = targets_of(reference, tables);
  if (!place || !targets)
    return LineFault{"it refers to what is not there: " + cleaned(reference.table) + ", " +
                     cleaned(reference.key)};
  std::optional<LineFault> fault;
  each_row(member, [&](std::size_t line, const LineCells& cells) {
    const std::string_view cell = cells[*place];
    if (fault || cell.empty() || targets->contains(cell)) return;
    fault = LineFault{"column " + reference.column + ": " + std::string(cell) + " is not in " +
                          reference.table + ".csv",
                      line};
  });
  return fault;
}

std::optional<LineFault> references_fault(const WideMember& member,
                                          std::span<const WideMember> tables) {
  for (const wide::Reference& reference : member.table.references) {
    if (auto fault = reference_fault(member, reference, tables)) return fault;
  }
  return std::nullopt;
}

// --- making -------------------------------------------------------------------------------------

// The lines of records.csv after its header.
std::vector<std::string> bodies_of(std::string_view records_csv) {
  std::vector<std::string> bodies;
  bodies.reserve(static_cast<std::size_t>(std::ranges::count(records_csv, '\n')));
  records_csv.remove_prefix(std::min(records_csv.size(), records_header().size()));
  while (!records_csv.empty()) {
    const std::size_t end = std::min(records_csv.find(kLineEnd), records_csv.size());
    bodies.emplace_back(records_csv.substr(0, end));
    records_csv.remove_prefix(std::min(records_csv.size(), end + kLineEnd.size()));
  }
  return bodies;
}

std::vector<wide::WideTable> tables_of(const StreamTable& stream, std::string_view records_csv) {
  if (records_csv.size() > kMostTabledBytes) return {};
  auto alone = ledger::Ledger::in_memory();
  if (!alone) return {};
  if (!alone->absorb(stream.stream, stream.span.first, stream.span.before, bodies_of(records_csv)))
    return {};
  auto tables = wide::wide_tables(*alone);
  if (!tables) return {};
  return *std::move(tables);
}

// Leaves away what is declared of keys and does not hold.
void declare_what_holds(std::vector<MadeTable>& made) {
  for (MadeTable& each : made) {
    if (key_fault({each.table, each.csv})) each.table.primary_key.clear();
  }
  const auto members = members_of(made);
  for (std::size_t n = 0; n < made.size(); ++n) {
    std::erase_if(made[n].table.references, [&](const wide::Reference& reference) {
      return reference_fault(members[n], reference, members).has_value();
    });
  }
}

constexpr std::size_t place_in_records(std::string_view column) {
  return static_cast<std::size_t>(std::ranges::find(kRecordColumns, column) -
                                  kRecordColumns.begin());
}

struct RecordColumn {
  const char* column;
  const char* table;
  std::size_t place;
};
// The key of each table has the name of the column that refers to it.
constexpr std::array<RecordColumn, kReferringColumns> kReferring{
    {{"definition", "definitions", place_in_records("definition")},
     {"occasion", "occasions", place_in_records("occasion")},
     {"person", "people", place_in_records("person")},
     {"trial", "trials", place_in_records("trial")}}};

}  // namespace

std::vector<MadeTable> made_tables(const StreamTable& stream, std::string_view records_csv) {
  std::vector<MadeTable> made;
  for (wide::WideTable& table : tables_of(stream, records_csv)) {
    std::string csv = wide::csv_text(table);
    table.rows.clear();
    if (cells_fault({table, csv})) return {};
    made.push_back({std::move(table), std::move(csv)});
  }
  declare_what_holds(made);
  return made;
}

std::vector<WideMember> members_of(const std::vector<MadeTable>& made) {
  std::vector<WideMember> members;
  members.reserve(made.size());
  for (const MadeTable& each : made) members.push_back({each.table, each.csv});
  return members;
}

std::string table_path(std::string_view name) {
  return "data/" + std::string(name) + ".csv";
}

RecordReferences RecordReferences::of(std::string_view records_csv) {
  RecordReferences references;
  for (const std::string& body : bodies_of(records_csv)) {
    const auto cells = LineCells::of(body);
    if (cells && cells->size() == kRecordColumns.size()) references.add(*cells);
  }
  return references;
}

void RecordReferences::add(const LineCells& cells) {
  for (std::size_t n = 0; n < kReferring.size(); ++n) {
    const std::string_view id = cells[kReferring[n].place];
    // Records of one rating stand together and say the same again.
    if (id.empty() || id == newest_[n]) continue;
    newest_[n] = *ids_[n].emplace(id).first;
  }
}

std::vector<wide::Reference> RecordReferences::holding(std::span<const WideMember> tables) const {
  std::vector<wide::Reference> references;
  for (std::size_t n = 0; n < kReferring.size(); ++n) {
    wide::Reference reference{kReferring[n].column, kReferring[n].table, kReferring[n].column};
    const auto targets = targets_of(reference, tables);
    if (!targets || ids_[n].empty()) continue;
    if (std::ranges::includes(*targets, ids_[n])) references.push_back(std::move(reference));
  }
  return references;
}

files::Faults table_faults(std::span<const WideMember> tables, const std::string& where) {
  files::Faults faults;
  const auto add = [&](const WideMember& member, std::optional<LineFault> fault) {
    if (!fault) return;
    std::string place = where + ", " + table_path(member.table.name);
    if (fault->line > 0) place += " line " + std::to_string(fault->line);
    faults.push_back({ErrorKind::kDamaged, std::move(fault->what), std::move(place),
                      "take the file from the tablet again"});
  };
  for (const WideMember& member : tables) add(member, cells_fault(member));
  // A key that does not hold in a table with such a fault would only say it in other words.
  if (!faults.empty()) return faults;
  for (const WideMember& member : tables) {
    auto fault = key_fault(member);
    add(member, fault ? std::move(fault) : references_fault(member, tables));
  }
  return faults;
}

SeasonTable season_table(const WideMember& member) {
  return {member.table.name, std::ranges::count(member.csv, '\n') - 1, sha256(member.csv)};
}

std::optional<std::vector<std::string>> differing_tables(const SeasonFile& season) {
  if (season.tables_by != wide::kRulesVersion) return std::nullopt;
  std::string records = records_header();
  for (const std::string& body : season.bodies) records.append(body).append(kLineEnd);
  std::vector<std::string> differing;
  const auto made = made_tables({season.stream, season.span}, records);
  for (const MadeTable& each : made) {
    if (std::ranges::find(season.tables, season_table({each.table, each.csv})) ==
        season.tables.end())
      differing.push_back(each.table.name);
  }
  for (const SeasonTable& table : season.tables) {
    const bool is_made = std::ranges::any_of(
        made, [&](const MadeTable& each) { return each.table.name == table.name; });
    if (!is_made) differing.push_back(table.name);
  }
  return differing;
}

}  // namespace ligule::seal
