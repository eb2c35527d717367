#include "sync/results/entry_lines.h"

#include <algorithm>

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

}  // namespace

std::vector<EntryLine> entry_lines(
    const TrialFacts& trial, const std::string& test, const Definitions& definitions,
    const std::function<std::optional<std::string>(const std::string&)>& printed) {
  std::vector<EntryLine> lines;
  for (const PlanEntry& entry : trial.plan.entries) {
    const Species* const species = definitions.find_species(entry.species);
    const bool has = species != nullptr && species->endophyte;
    const bool said = entry.endophyte != Endophyte::kNotStated ||
                      !entry.endophyte_percent.empty() || entry.endophyte_tested;
    if (entry.role == EntryRole::kFiller || (!has && !said)) continue;
    const auto name = printed ? printed(entry.label()) : std::optional(entry.label());
    if (name) lines.push_back({test, *name + ": " + known_by(entry)});
  }
  std::ranges::sort(lines, {}, &EntryLine::text);
  return lines;
}

}  // namespace ligule::results
