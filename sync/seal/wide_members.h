// The wide tables of a season file: made of its records, and held to what is declared of them.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/trial/record_line.h"
#include "sync/seal/descriptor.h"
#include "sync/seal/package.h"
#include "sync/seal/season_file.h"
#include "sync/wide/wide_tables.h"

namespace ligule::seal {

// Records of more bytes have no wide tables, so that nobody needs memory without bounds for them.
inline constexpr std::size_t kMostTabledBytes = std::size_t{16} << 20;

// A table of more rows is refused: a stranger's, of three bytes a row, would fill memory with its
// keys.
inline constexpr std::size_t kMostTableRows = 1'000'000;

// "data/NAME.csv".
[[nodiscard]] std::string table_path(std::string_view name);

struct MadeTable {
  wide::WideTable table;  // without rows
  std::string csv;
};

// The wide tables of some records of one stream (records_csv: header and a line a record, CRLF). A
// key or reference that does not hold in them is not declared. Empty where nothing can be made of
// them, because whatever is recorded must be sealed: records of no plan, more of them than
// kMostTabledBytes, a table that would not be what it declares.
[[nodiscard]] std::vector<MadeTable> made_tables(const StreamTable& stream,
                                                 std::string_view records_csv);

[[nodiscard]] std::vector<WideMember> members_of(const std::vector<MadeTable>& made);

// Columns of records.csv that refer to wide tables.
inline constexpr std::size_t kReferringColumns = 4;

// What the rows of records.csv refer to wide tables by.
class RecordReferences {
 public:
  // Of every row of records.csv that can be read.
  [[nodiscard]] static RecordReferences of(std::string_view records_csv);
  // A row's 29 cells.
  void add(const LineCells& cells);
  // Those that hold: every id of a column stands in the table it belongs to.
  [[nodiscard]] std::vector<wide::Reference> holding(std::span<const WideMember> tables) const;

 private:
  // By column; empty cells left out. And what each column said last.
  std::array<std::set<std::string, std::less<>>, kReferringColumns> ids_;
  std::array<std::string, kReferringColumns> newest_;
};

// What is told of a wide table.
[[nodiscard]] SeasonTable season_table(const WideMember& member);

// Holds tables to their declarations: header, cells, one form of every line, number of rows, keys,
// references among them, keys only where no cell has a fault. The first fault of each; `where` is
// put in front.
[[nodiscard]] files::Faults table_faults(std::span<const WideMember> tables,
                                         const std::string& where);

}  // namespace ligule::seal
