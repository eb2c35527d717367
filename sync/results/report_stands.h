// What became of the stands of a test in the report: persistence, and what grazing did.
#pragma once

#include <string>

#include "sync/results/report_tests.h"

namespace ligule::results {

// A table for each measure of the stand; empty where there is none.
[[nodiscard]] std::string stand_tables(const ReportTest& test, const ReportText& text);

// The table of a grazed test with its caution; empty where it was not grazed.
[[nodiscard]] std::string grazing_table(const ReportTest& test, const ReportText& text);

}  // namespace ligule::results
