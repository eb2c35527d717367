// The weather of a test's months in the report.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sync/results/site_notes.h"

namespace ligule::results {

// A table for each of the years for which the site has months; empty where there are none.
// `weather` by site, year, month.
[[nodiscard]] std::string weather_tables(std::span<const MonthWeather> weather,
                                         const std::string& site, const std::vector<int>& years);

}  // namespace ligule::results
