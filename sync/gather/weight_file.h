// A table of plot weights as a machine or a spreadsheet wrote it, read by the columns that a person
// named.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"

namespace ligule::gather {

// What a column may hold, in the order in which it is told and kept.
namespace column {
inline constexpr std::string_view kPlot = "plot";
inline constexpr std::string_view kPart = "part";  // n-th bag of a plot; 1 without
inline constexpr std::string_view kDate = "date";  // YYYY-MM-DD
inline constexpr std::string_view kTime = "time";  // HH:MM, with a date in front where it has one
inline constexpr std::string_view kGross = "gross";
inline constexpr std::string_view kTare = "tare";
inline constexpr std::string_view kBag = "bag";
inline constexpr std::string_view kSampleFresh = "sample_fresh";
inline constexpr std::string_view kSampleDry = "sample_dry";
}  // namespace column

// Our names to the headings they stand under.
using WeightColumns = std::map<std::string, std::string, std::less<>>;

// "plot=Plot No,gross=Weight" as one line of CSV, so that a heading may hold a comma in quotes.
// kInvalid: a name that is not known, one or a heading twice, no plot, nothing to weigh.
[[nodiscard]] Result<WeightColumns> parse_weight_columns(std::string_view text);

struct WeightRow {
  std::size_t line = 0;                                   // physical line, from 1
  std::string raw;                                        // that line, without its end
  std::map<std::string, std::string, std::less<>> cells;  // by our names; blank ones left out

  // Empty: blank, or there is no such column.
  [[nodiscard]] std::string cell(std::string_view name) const;
};

struct WeightFile {
  std::string name;                         // of the file, without its folder
  WeightColumns columns;                    // the headings that were read
  std::vector<WeightRow> rows;              // in the file's order
  std::size_t header_line = 0;              // what stands above it was passed over
  std::vector<std::string> without_weight;  // plots of rows that were left out for that
};

// Reads the text. The first row that holds every heading names the columns; rows above it are
// passed over. Where `leave_blanks` is set, rows without any weight are left out and named. Faults,
// all of them: not CSV, no such row (the nearest is named), rows of another width, a cell over two
// lines or with a tab, no plot, no weight at all, a decimal comma.
[[nodiscard]] files::Checked<WeightFile> read_weight_file(std::string_view text,
                                                          std::string_view name,
                                                          const WeightColumns& columns,
                                                          bool leave_blanks);

}  // namespace ligule::gather
