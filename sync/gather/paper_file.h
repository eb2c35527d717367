// The table that is made with plot sheets and filled in at a desk: a row a plot, a column a
// measure.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "sync/gather/paper.h"

namespace ligule::gather {

// The column of plot numbers; all others are headed by the codes of measures.
inline constexpr std::string_view kPlotHeading = "plot";

// Rows in which anything but the plot number is filled in, in the file's order; a cell that is
// empty or "-" was left open. Faults, all of them: not CSV, no such columns, rows of another width,
// a cell over two lines, no plot number beside values, nothing filled in at all.
[[nodiscard]] files::Checked<std::vector<PaperLine>> read_paper_file(std::string_view text,
                                                                     std::string_view name);

}  // namespace ligule::gather
