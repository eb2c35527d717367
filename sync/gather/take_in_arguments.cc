#include <algorithm>
#include <array>
#include <utility>

#include "storage/trial/length_text.h"
#include "sync/gather/take_in.h"

namespace ligule::gather {
namespace {

// What is asked of a file and can be accepted. What stays on hold whatever is said can't; other
// rules look at what no file tells.
constexpr std::array<std::string_view, 14> kAsked{kLowStubble,
                                                  "same_weight",
                                                  "tare_differs",
                                                  "unusual",
                                                  "weight_without_stand",
                                                  "weight_abandoned",
                                                  "yield_unusual",
                                                  "season_yield_unusual",
                                                  "weight_unexpected",
                                                  "cut_again_soon",
                                                  "dry_matter_unusual",
                                                  "bag_in_use",
                                                  "before_sowing",
                                                  "in_future"};

bool can_accept(std::string_view rule) {
  return std::ranges::find(kAsked, rule) != kAsked.end();
}

std::string acceptable() {
  std::string list;
  for (const std::string_view rule : kAsked) list += (list.empty() ? "" : ", ") + std::string(rule);
  return list;
}

// The unit has to be one that every scale of a measure takes.
void look_at_unit(const TakeIn& wish, const Definitions& definitions, std::string_view measure,
                  const std::string& unit, const std::string& option, files::Faults& faults) {
  for (const PlanEntry& entry : wish.plan.plan.entries) {
    const Scale* const scale = definitions.scale_for(measure, entry.species);
    if (scale == nullptr || std::ranges::find(scale->units, unit) != scale->units.end()) continue;
    std::string known;
    for (const std::string& each : scale->units) known += (known.empty() ? "" : ", ") + each;
    faults.push_back({ErrorKind::kInvalid,
                      unit.empty() ? "the unit of the weights is not given"
                                   : "'" + unit + "' is no unit of these weights",
                      option, "give one of " + known});
    return;
  }
}

}  // namespace

files::Faults take_in_faults(const TakeIn& wish, const WeightColumns& columns,
                             const Definitions& definitions) {
  files::Faults faults;
  if (columns.contains(column::kGross) || columns.contains(column::kTare))
    look_at_unit(wish, definitions, measure::kGrossWeight, wish.unit, "--unit", faults);
  if (columns.contains(column::kSampleFresh) || columns.contains(column::kSampleDry))
    look_at_unit(wish, definitions, measure::kSampleFresh, wish.sample_unit, "--sample-unit",
                 faults);
  for (const std::string& rule : wish.accept) {
    if (!can_accept(rule))
      faults.push_back({ErrorKind::kInvalid, "'" + rule + "' asks nothing that can be accepted",
                        "--accept", "give one of " + acceptable()});
  }
  for (const auto& [key, option] :
       {std::pair("stubble", "--stubble"), std::pair("cut_width", "--cut-width")}) {
    const auto at = wish.run.find(key);
    if (at != wish.run.end() && !inches_of(at->second, ""))
      faults.push_back({ErrorKind::kInvalid, "'" + at->second + "' is no length", option,
                        "write it with its unit, as 3 in or 0.9 m"});
  }
  return faults;
}

}  // namespace ligule::gather
