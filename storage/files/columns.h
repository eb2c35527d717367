// Columns of the tables that we write for others to read: what a Data Package declares of each, and
// what every cell is held to. One list for both, so that no validator fails a cell that was let in.
//
// The tables that people write for us are read by table_schema.h, which is more forgiving.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ligule::files {

// What stands in the cells of a column, and the field type that a Table Schema (Data Package
// standard 2.0) declares for it, which never asks for more than cell_fault() does.
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

// Of Column::required, for lists of columns.
inline constexpr bool kRequired = true, kMayBeEmpty = false;

struct Column {
  std::string name;
  CellType type = CellType::kText;
  bool required = false;  // may not be empty
  std::string description;
  std::vector<std::string> words = {};  // of kWord
  // What open standards of the field call it; empty: nothing that fits.
  std::string miappe = {};
  std::string brapi = {};

  bool operator==(const Column&) const = default;
};

// Why a cell is not what its column declares; empty when it is. Empty cells are missing values.
[[nodiscard]] std::optional<std::string> cell_fault(const Column& column, std::string_view cell);
// The first fault of a row with as many cells as columns: "column NAME: ...".
[[nodiscard]] std::optional<std::string> row_fault(std::span<const Column> columns,
                                                   std::span<const std::string_view> cells);

}  // namespace ligule::files
