#include "sync/results/report_weather.h"

#include <algorithm>
#include <array>

#include "sync/results/html.h"

namespace ligule::results {
namespace {

constexpr std::array kMonths{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                             "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};

// One line of a year: the texts of its months, and its name.
std::string row(const std::string& name, const std::array<std::string, 12>& months) {
  if (std::ranges::all_of(months, &std::string::empty)) return {};
  std::string cells = element("th", escaped(name), "scope=\"row\"");
  for (const std::string& month : months)
    cells += element("td", month.empty() ? std::string("–") : escaped(month));
  return element("tr", cells) + "\n";
}

std::string year_table(std::span<const MonthWeather> months) {
  std::array<std::string, 12> rain, normal_rain, temperature, normal_temperature;
  std::string rain_unit, temperature_unit;
  for (const MonthWeather& month : months) {
    const auto at = static_cast<std::size_t>(month.month - 1);
    rain.at(at) = month.rain;
    normal_rain.at(at) = month.normal_rain;
    temperature.at(at) = month.temperature;
    normal_temperature.at(at) = month.normal_temperature;
    if (!month.rain_unit.empty()) rain_unit = month.rain_unit;
    if (!month.temperature_unit.empty()) temperature_unit = month.temperature_unit;
  }
  std::string head = element("th", std::to_string(months.front().year), "scope=\"col\"");
  for (const char* const month : kMonths) head += element("th", month, "scope=\"col\"");
  const std::string rows = row("Rain, " + rain_unit, rain) + row("usual", normal_rain) +
                           row("Mean temperature, °" + temperature_unit, temperature) +
                           row("usual", normal_temperature);
  return element("div",
                 element("table", "\n" + element("thead", element("tr", head)) + "\n" +
                                      element("tbody", "\n" + rows) + "\n"),
                 "class=\"wide months\"") +
         "\n";
}

}  // namespace

std::string weather_tables(std::span<const MonthWeather> weather, const std::string& site,
                           const std::vector<int>& years) {
  std::string html;
  for (const int year : years) {
    const auto of = std::ranges::find_if(weather, [&](const MonthWeather& month) {
      return month.site == site && month.year == year;
    });
    auto end = of;
    while (end != weather.end() && end->site == site && end->year == year) ++end;
    if (of != end) html += year_table({of, end});
  }
  return html.empty() ? html : element("h3", "Weather at " + escaped(site)) + "\n" + html;
}

}  // namespace ligule::results
