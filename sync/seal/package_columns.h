// The columns of the tables in a season file: what the Data Package declares of them, and what
// every cell is held to. One list for both, so that no validator fails a cell of a file that holds.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ligule::seal {

// How package.cc writes each as a field of a Table Schema (Data Package standard 2.0), and what
// cell_fault() asks of it, which is never less.
enum class CellType : std::uint8_t {
  kText,     // string
  kUuid,     // string of format uuid, in lower case
  kUuids,    // string: uuids, one space between
  kDigest,   // string: 64 hex digits
  kWord,     // string: one of words
  kBoolean,  // boolean: 1 or 0
  kInteger,  // integer of 64 bits
  kCounted,  // integer from 1
  kDate,     // date: YYYY-MM-DD
  kNumber,   // number: digits with a decimal point, no exponent
  kObject,   // object: JSON, nested no deeper than kDeepestObject
};

// Readers of JSON that take one step down for each bracket run out of steps somewhere.
inline constexpr std::size_t kDeepestObject = 64;

struct TableColumn {
  std::string_view name;
  CellType type = CellType::kText;
  bool required = false;  // may not be empty
  std::string_view description;
  std::span<const std::string_view> words;  // of kWord
};

// The 29 of records.csv, the 9 of stream.csv, in order. Part of format 1: names, types,
// descriptions and words never change.
[[nodiscard]] std::span<const TableColumn> record_columns();
[[nodiscard]] std::span<const TableColumn> stream_columns();

// Why a cell is not what its column declares; empty when it is. Empty cells are missing values.
[[nodiscard]] std::optional<std::string> cell_fault(const TableColumn& column,
                                                    std::string_view cell);
// The first fault of a row with as many cells as columns: "column NAME: ...".
[[nodiscard]] std::optional<std::string> row_fault(std::span<const TableColumn> columns,
                                                   const std::vector<std::string>& cells);

}  // namespace ligule::seal
