// All result files of one measure: tests.csv, means.csv, long_term.csv,
// long_term_tests.csv and report.html.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/output.h"
#include "sync/results/release.h"
#include "sync/results/report.h"

namespace ligule::results {

// What is written into one folder: the analyses of a measure, how the report tells of them, and
// tables of its own besides the four.
struct TableFolder {
  std::string name;  // below the output folder, "measures/percent_stand"; empty: the folder itself
  std::vector<Analysis> analyses;  // in the order of analyse(), by label
  // text.min_tests decides who has a long-term average, text.known how entries are printed and
  // which are withheld: these stand in no file, though they count in every figure.
  ReportText text;
  std::vector<OutputFile> others = {};
};

// Files of a folder besides the four tables and report.html, where there is something to put into
// them.
inline constexpr auto kOtherTables = std::to_array<std::string_view>(
    {"adjusted_means.csv", "composition.csv", "designs.csv", "field_trend.csv", "grazing.csv",
     "next_test.csv", "over_cuttings.csv", "plots.csv", "rater_blocks.csv", "rater_effects.csv",
     "raters.csv", "residuals.csv", "stand_persistence.csv"});
// Files of every folder.
inline constexpr auto kEveryTable = std::to_array<std::string_view>(
    {"tests.csv", "means.csv", "long_term.csv", "long_term_tests.csv", "press.csv", "report.html"});

// The files of a folder. The report still lacks what it is a report of, since that hangs on the
// digest of all tables.
struct FolderFiles {
  // The four tables, press.csv (the tables once more, as they are printed) and the others, with the
  // folder's name in front of theirs: what is released is these of all folders, but for what only
  // plans the next test.
  std::vector<OutputFile> tables;
  OutputFile report;
  std::size_t release_at = 0;  // where in it that is to stand
};

// By the names in print. Takes what it needs of the folder's texts and other tables; its analyses
// stay.
[[nodiscard]] FolderFiles folder_files(TableFolder& folder);

// report.html, whole.
[[nodiscard]] OutputFile report_file(FolderFiles files, const ReleaseState& release);

}  // namespace ligule::results
