#include "sync/results/variety_lines.h"

#include <algorithm>
#include <tuple>

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

}  // namespace

void add_varieties(const TrialFacts& trial, const std::string& test, const Definitions& definitions,
                   std::vector<VarietyLine>& lines) {
  for (const PlanEntry& entry : trial.plan.entries) {
    if (entry.role == EntryRole::kFiller) continue;
    const Species* const species = definitions.find_species(entry.species);
    const bool said = entry.endophyte != Endophyte::kNotStated ||
                      !entry.endophyte_percent.empty() || entry.endophyte_tested;
    VarietyLine line;
    line.species = species != nullptr ? species->name : entry.species;
    line.entry = entry.label();
    if (said || (species != nullptr && species->endophyte)) {
      line.endophyte = endophyte_told(entry);
      line.known_by = known_by(entry);
    }
    const auto at = std::ranges::lower_bound(
        lines, line, [](const VarietyLine& a, const VarietyLine& b) { return key(a) < key(b); });
    const bool there = at != lines.end() && key(*at) == key(line);
    const auto into = there ? at : lines.insert(at, std::move(line));
    if (into->tests.empty() || into->tests.back() != test) into->tests.push_back(test);
  }
}

}  // namespace ligule::results
