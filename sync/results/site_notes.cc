#include "sync/results/site_notes.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <tuple>

#include "storage/files/table_row.h"
#include "sync/results/checked_table.h"
#include "sync/results/soil_facts.h"

namespace ligule::results {
namespace {

constexpr std::string_view kNotesSchema = R"({"fields": [
  {"name": "test", "description": "As results call it.", "type": "string",
   "constraints": {"required": true}},
  {"name": "fact", "description": "What it is: Soil, Soil test, Sowing rate.", "type": "string",
   "constraints": {"required": true, "maxLength": 40}},
  {"name": "value", "description": "In words, with unit, method and date.", "type": "string",
   "constraints": {"required": true, "maxLength": 400}}]})";

constexpr std::string_view kWeatherSchema = R"({"fields": [
  {"name": "site", "description": "As results print it.", "type": "string",
   "constraints": {"required": true}},
  {"name": "year", "description": "Of the month.", "type": "integer",
   "constraints": {"required": true, "minimum": 1900, "maximum": 2200}},
  {"name": "month", "description": "1 to 12.", "type": "integer",
   "constraints": {"required": true, "minimum": 1, "maximum": 12}},
  {"name": "rain", "description": "Sum of the month.", "type": "number",
   "constraints": {"minimum": 0}},
  {"name": "rain_unit", "description": "in or mm.", "type": "string",
   "constraints": {"enum": ["in", "mm"]}},
  {"name": "normal_rain", "description": "What is usual.", "type": "number",
   "constraints": {"minimum": 0}},
  {"name": "temperature", "description": "Mean of the month.", "type": "number"},
  {"name": "temperature_unit", "description": "F or C.", "type": "string",
   "constraints": {"enum": ["F", "C"]}},
  {"name": "normal_temperature", "description": "What is usual.", "type": "number"}]})";

constexpr std::uint64_t kLargestFile = std::uint64_t{16} << 20U;

template <class Parse>
auto read_with(files::FileSystem& files, const std::string& path, Parse parse)
    -> decltype(parse(std::string_view(), path)) {
  const Result<std::string> text = files.read(path, kLargestFile);
  if (!text) return std::unexpected(files::Faults{text.error()});
  return parse(*text, path);
}

Error fault(std::string what, std::string where, std::string mend) {
  return {ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)};
}

class WeatherCheck {
 public:
  void row(const files::TableRow& row, const MonthWeather& month) {
    if (!months_.insert({month.site, month.year, month.month}).second)
      add("this month of " + month.site + " stands twice", row, "keep one of the rows");
    one_unit(row, month.site, "rain", month.rain_unit,
             !month.rain.empty() || !month.normal_rain.empty());
    one_unit(row, month.site, "temperature", month.temperature_unit,
             !month.temperature.empty() || !month.normal_temperature.empty());
  }
  files::Faults faults;

 private:
  void one_unit(const files::TableRow& row, const std::string& site, const std::string& what,
                const std::string& unit, bool given) {
    if (!given) return;
    if (unit.empty()) {
      add("the " + what + " has no unit", row, "fill in " + what + "_unit");
      return;
    }
    const std::string& first = units_.try_emplace({site, what}, unit).first->second;
    if (first != unit)
      add("the " + what + " of " + site + " is in " + unit + " here and in " + first + " above",
          row, "give all months of a site in one unit");
  }
  void add(std::string what, const files::TableRow& row, std::string mend) {
    faults.push_back(fault(std::move(what), row.place(), std::move(mend)));
  }

  std::set<std::tuple<std::string, int, int>> months_;
  std::map<std::pair<std::string, std::string>, std::string> units_;
};

// Where a reader looks for it; what is not listed follows in the order it was stated.
constexpr std::array<std::string_view, 16> kOrder{"Soil",          kSoilTestFact,
                                                  kSoilJudgedFact, "Sown",
                                                  "Sowing rate",   "Plots",
                                                  "Design",        "Fertilizer, lime",
                                                  "Sprays",        "Irrigation",
                                                  "Cut on",        "Cut with",
                                                  "Stubble",       "Stage at first cutting",
                                                  "Rated by",      "Plot yields"};
constexpr std::array<std::string_view, 3> kAskedFor{"Soil", kSoilTestFact, "Sowing rate"};

void order_facts(std::vector<Fact>& facts) {
  std::ranges::stable_sort(facts, {}, [](const Fact& fact) {
    return std::ranges::find(kOrder, fact.name) - kOrder.begin();
  });
}

}  // namespace

files::Checked<std::vector<StatedFact>> parse_site_notes(std::string_view text,
                                                         const std::string& name) {
  const auto table = checked_table(text, name, kNotesSchema);
  if (!table) return std::unexpected(table.error());
  std::vector<StatedFact> facts;
  std::set<std::pair<std::string, std::string>> seen;
  files::Faults faults;
  for (const files::CsvRow& csv : table->rows()) {
    const files::TableRow row(*table, csv);
    StatedFact stated{row.text("test"), row.text("fact"), row.text("value")};
    if (!seen.emplace(stated.test, stated.name).second) {
      faults.push_back(fault("\"" + stated.name + "\" of " + stated.test + " stands twice",
                             row.place(), "put both into one row"));
    }
    facts.push_back(std::move(stated));
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return facts;
}

files::Checked<std::vector<MonthWeather>> parse_weather(std::string_view text,
                                                        const std::string& name) {
  const auto table = checked_table(text, name, kWeatherSchema);
  if (!table) return std::unexpected(table.error());
  std::vector<MonthWeather> months;
  WeatherCheck check;
  for (const files::CsvRow& csv : table->rows()) {
    const files::TableRow row(*table, csv);
    months.push_back({row.text("site"), row.integer("year"), row.integer("month"), row.text("rain"),
                      row.text("rain_unit"), row.text("normal_rain"), row.text("temperature"),
                      row.text("temperature_unit"), row.text("normal_temperature")});
    check.row(row, months.back());
  }
  if (!check.faults.empty()) return std::unexpected(std::move(check.faults));
  std::ranges::sort(months, [](const MonthWeather& a, const MonthWeather& b) {
    return std::tie(a.site, a.year, a.month) < std::tie(b.site, b.year, b.month);
  });
  return months;
}

files::Checked<std::vector<StatedFact>> read_site_notes(files::FileSystem& files,
                                                        const std::string& path) {
  return read_with(files, path, parse_site_notes);
}

files::Checked<std::vector<MonthWeather>> read_weather(files::FileSystem& files,
                                                       const std::string& path) {
  return read_with(files, path, parse_weather);
}

void add_stated(const std::vector<StatedFact>& stated, std::vector<TestFacts>& tests) {
  for (const StatedFact& fact : stated) {
    auto test = std::ranges::find(tests, fact.test, &TestFacts::test);
    if (test == tests.end()) {
      tests.push_back({.test = fact.test});
      test = tests.end() - 1;
    }
    // What was made of the plan's soil test is not of the one that is stated in its place.
    if (fact.name == kSoilTestFact) {
      std::erase_if(test->facts, [](const Fact& made) { return made.name == kSoilJudgedFact; });
    }
    const auto there = std::ranges::find(test->facts, fact.name, &Fact::name);
    if (there != test->facts.end()) {
      there->value = fact.value;
    } else {
      test->facts.push_back({fact.name, fact.value});
    }
  }
  for (TestFacts& test : tests) {
    for (const std::string_view name : kAskedFor) {
      if (std::ranges::find(test.facts, name, &Fact::name) == test.facts.end())
        test.facts.push_back({std::string(name), "not stated"});
    }
    order_facts(test.facts);
  }
}

}  // namespace ligule::results
