#include "sync/results/variety_lines.h"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

namespace ligule::results {
namespace {

std::string known_by(const PlanEntry& entry) {
  const std::string on =
      entry.endophyte_tested ? " on " + format_date(*entry.endophyte_tested) : std::string();
  if (!entry.endophyte_percent.empty())
    return "found in " + entry.endophyte_percent + " % of what was tested" +
           (on.empty() ? ", on a date that is not stated" : on);
  if (!on.empty()) return "tested" + on + ", what was found is not stated";
  if (entry.endophyte != Endophyte::kNotStated) return "as the entrant states, not tested";
  return "not stated";
}

std::string endophyte_told(const PlanEntry& entry) {
  if (entry.endophyte == Endophyte::kNotStated) return "not stated";
  return std::string(name_of(entry.endophyte)) + (entry.strain.empty() ? "" : " " + entry.strain);
}

auto key(const VarietyLine& line) {
  return std::tie(line.species, line.entry, line.known_by);
}

// The line of its key, made where there is none.
VarietyLine& line_for(VarietyLine line, std::vector<VarietyLine>& lines) {
  const auto at = std::ranges::lower_bound(
      lines, line, [](const VarietyLine& a, const VarietyLine& b) { return key(a) < key(b); });
  if (at != lines.end() && key(*at) == key(line)) return *at;
  return *lines.insert(at, std::move(line));
}

std::vector<std::string> tests_of(const std::string& entry, std::span<const Analysis> analyses) {
  std::set<std::string> tests;
  for (const Analysis& analysis : analyses) {
    if (std::ranges::binary_search(analysis.means, entry, {}, &EntryMean::entry))
      tests.insert(analysis.test);
  }
  return {tests.begin(), tests.end()};
}

void complete(VarietyLine& line, const Variety& variety) {
  line.type = variety.type;
  line.market = variety.market;
  line.note = variety.note;
  if (line.endophyte.empty() || line.endophyte == "not stated") line.endophyte = variety.endophyte;
  if (!variety.endophyte_stated_by.empty() &&
      (line.known_by.empty() || line.known_by == "not stated"))
    line.known_by = "as " + variety.endophyte_stated_by + " states";
}

}  // namespace

void add_varieties(const TrialFacts& trial, const std::string& test, const Definitions& definitions,
                   const PrintedName& printed, std::vector<VarietyLine>& lines) {
  for (const PlanEntry& entry : trial.plan.entries) {
    const auto name = name_in_print(printed, entry.label());
    if (entry.role == EntryRole::kFiller || !name) continue;
    const Species* const species = definitions.find_species(entry.species);
    const bool said = entry.endophyte != Endophyte::kNotStated ||
                      !entry.endophyte_percent.empty() || entry.endophyte_tested;
    VarietyLine line;
    line.species = species != nullptr ? species->name : entry.species;
    line.entry = *name;
    if (said || (species != nullptr && species->endophyte)) {
      line.endophyte = endophyte_told(entry);
      line.known_by = known_by(entry);
    }
    VarietyLine& into = line_for(std::move(line), lines);
    if (into.tests.empty() || into.tests.back() != test) into.tests.push_back(test);
  }
}

void complete_varieties(std::vector<VarietyLine>& lines, const Varieties& known,
                        std::span<const Analysis> analyses) {
  std::set<std::string> planned;
  for (VarietyLine& line : lines) {
    planned.insert(line.entry);
    if (const Variety* const variety = known.find(line.entry)) complete(line, *variety);
  }
  for (const Variety& variety : known.all()) {
    if (planned.contains(variety.name)) continue;
    std::vector<std::string> tests = tests_of(variety.name, analyses);
    if (tests.empty()) continue;
    VarietyLine line;
    line.species = variety.species;
    line.entry = variety.name;
    line.tests = std::move(tests);
    complete(line, variety);
    line_for(std::move(line), lines);
  }
}

}  // namespace ligule::results
