// The parts of the report that come before the tests: which there are of each species, and who the
// entries are.
#pragma once

#include <span>
#include <string>

#include "sync/results/report_tests.h"

namespace ligule::results {

// A table of tests for each species (or set of them, where a test has several).
[[nodiscard]] std::string index_section(std::span<const ReportTest> tests);

// A table of varieties for each species; empty where none are known.
[[nodiscard]] std::string varieties_section(std::span<const VarietyLine> varieties);

}  // namespace ligule::results
