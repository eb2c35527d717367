// Plot values from a CSV file, one row a plot and cutting: old spreadsheets, other programs.
//
// Columns, in any order: test, site, year, cutting, rep, entry, value, and where it is needed plot.
// UTF-8, commas, fields quoted where they must be (RFC 4180); a byte-order mark and either line end
// are accepted; empty lines, columns without a name or a value on the right, and blanks around a
// field do not count. Text that cannot be taken apart into fields is one fault; otherwise every
// fault of every line is listed.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/file_system.h"
#include "storage/trial/error.h"
#include "sync/results/plot_value.h"

namespace ligule::results {

// A row with a fault.
struct BadRow {
  std::size_t line = 0;
  PlotValue value;             // as far as it could be read
  bool placed = true;          // its plot and cutting could be read
  bool occasion_known = true;  // its year and cutting could
  bool repeats = false;        // no fault but that another row has its plot and cutting
};

struct ValuesFile {
  std::vector<PlotValue> values;   // of the rows without a fault
  std::vector<std::size_t> lines;  // of values
  std::vector<BadRow> bad;         // in the order of the lines
  std::vector<Error> faults;       // every one, in the order of the lines
  bool rows_read = false;          // false: the text or its first line is at fault
};

// What the text says; `name` stands in front of every fault. An error: this is no text at all.
[[nodiscard]] Result<ValuesFile> parse_values(std::string_view text, const std::string& name);

// The same from a file. Errors: kNotFound, kIo, and what parse_values refuses.
[[nodiscard]] Result<ValuesFile> read_values(files::FileSystem& files, const std::string& path);

}  // namespace ligule::results
