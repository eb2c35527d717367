// What people write down of a test's site beside the plots: its soil, the soil test, the sowing
// rate; and the weather of the months. Two small tables of their own, since no tablet records them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "sync/results/test_facts.h"

namespace ligule::results {

// One row of the site notes: test,fact,value.
struct StatedFact {
  std::string test;
  std::string name;
  std::string value;

  bool operator==(const StatedFact&) const = default;
};

// One row of the weather: site,year,month,rain,rain_unit,normal_rain,temperature,temperature_unit,
// normal_temperature. Numbers stay as they were written; what is empty is not known.
struct MonthWeather {
  std::string site;  // as results print it
  int year = 0;
  int month = 0;                                                  // 1 to 12
  std::string rain, rain_unit, normal_rain;                       // in, mm
  std::string temperature, temperature_unit, normal_temperature;  // F, C: means of the month

  bool operator==(const MonthWeather&) const = default;
};

// Faults are told all at once: columns and cells that are not as above, a fact of a test or a month
// of a site told twice, a number without its unit, one site in two units. `name` is the file's in
// their places. The weather comes back by site, year and month.
[[nodiscard]] files::Checked<std::vector<StatedFact>> parse_site_notes(std::string_view text,
                                                                       const std::string& name);
[[nodiscard]] files::Checked<std::vector<MonthWeather>> parse_weather(std::string_view text,
                                                                      const std::string& name);
[[nodiscard]] files::Checked<std::vector<StatedFact>> read_site_notes(files::FileSystem& files,
                                                                      const std::string& path);
[[nodiscard]] files::Checked<std::vector<MonthWeather>> read_weather(files::FileSystem& files,
                                                                     const std::string& path);

// Puts what is stated among the facts of its test, in place of what was worked out under the same
// name, and a soil test in place of what was judged of the plan's; a test that is not among them
// gets a section of its own. What growers ask for (soil, soil test, sowing rate) and nobody states
// is told as "not stated".
void add_stated(const std::vector<StatedFact>& stated, std::vector<TestFacts>& tests);

}  // namespace ligule::results
