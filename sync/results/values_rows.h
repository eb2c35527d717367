// The rows of a values file, one by one: what each says and what is wrong with it. For this room
// only.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/csv.h"
#include "storage/trial/error.h"
#include "sync/results/numbered_labels.h"
#include "sync/results/values_file.h"

namespace ligule::results {

enum ValuesColumn : std::size_t {
  kTest,
  kSite,
  kYear,
  kCutting,
  kRep,
  kEntry,
  kValue,
  kPlot,
  kValuesColumns
};
inline constexpr std::array<std::string_view, kValuesColumns> kValuesColumnNames = {
    "test", "site", "year", "cutting", "rep", "entry", "value", "plot"};

// Which field of a row holds which column.
struct ValuesLayout {
  std::array<std::optional<std::size_t>, kValuesColumns> places;  // empty where the file lacks it
  std::size_t width = 0;  // fields of the first line, those on the right without a name left away
};

struct RowFault {
  std::size_t line = 0;
  std::optional<ValuesColumn> column;  // empty: the row as a whole
  std::string what, mend;
};

// What a part of a file holds; lines are counted from its own beginning.
struct RowsRead {
  std::vector<PlotValue> values;
  std::vector<std::size_t> lines;    // of values
  std::vector<std::uint64_t> plots;  // of values: a number by plot and cutting, hardly ever shared
  std::vector<BadRow> bad;
  std::vector<RowFault> faults;
  std::size_t text_lines = 0;       // all that there are
  std::optional<Error> unreadable;  // the text can't be taken apart into fields
};

// Of whole lines behind the first one. Whether a row goes with the others nobody asks here.
// `expected`: about how many rows there will be room for.
[[nodiscard]] RowsRead read_rows(std::string_view text, const std::string& name,
                                 const ValuesLayout& layout, std::size_t expected);

}  // namespace ligule::results
