// What a report says of names: which count under another, which look alike.
#pragma once

#include <string>

#include "sync/results/report.h"

namespace ligule::results {

// Empty where there is nothing to say.
[[nodiscard]] std::string names_section(const ReportText& text);

}  // namespace ligule::results
