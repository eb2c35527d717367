// How the ground shows through in the plots of a test: a map of what is left over, and means
// adjusted for it beside those that are printed.
#pragma once

#include <string>

#include "sync/results/report_tests.h"

namespace ligule::results {

// Of the test's last-listed (most total) analysis that has a trend; empty without one. The adjusted
// means are shown where a trend is found at the report's level; they are never printed in place of
// the plain ones.
[[nodiscard]] std::string field_part(const ReportTest& test, const ReportText& text);

}  // namespace ligule::results
