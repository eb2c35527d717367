#include "storage/files/design_check.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace ligule::files {
namespace {

class DesignCheck {
 public:
  DesignCheck(const Plan& plan, const PlanPlaces& places) : plan_(plan), places_(places) {
    for (std::size_t i = 0; i < plan.plots.size(); ++i) {
      const PlanEntry* entry = plan.find_entry(plan.plots[i].entry);
      if (entry != nullptr && entry->role != EntryRole::kFiller) sown_.push_back(i);
    }
  }

  void parts();
  void parts_of_others();
  void neighbors();
  void columns();

  PlanFindings found;

 private:
  [[nodiscard]] std::string trial_place() const {
    return places_.trial.empty() ? "trial " + plan_.codes.trial : places_.trial;
  }
  [[nodiscard]] std::string plot_place(std::size_t i) const {
    return i < places_.plots.size() ? places_.plots[i] : "plot " + plan_.plots[i].number;
  }
  void fault(std::string where, std::string what, std::string mend) {
    found.faults.push_back(
        {ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)});
  }
  void notice(std::string where, std::string what, std::string mend) {
    found.notices.push_back(
        {ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)});
  }

  const Plan& plan_;
  const PlanPlaces& places_;
  std::vector<std::size_t> sown_;  // plots that are no fillers
};

void DesignCheck::parts() {
  std::map<int, std::map<int, std::set<std::string>>> entries;  // by block and incomplete block
  std::map<std::pair<int, int>, std::size_t> sizes;
  bool told = false;
  for (const std::size_t i : sown_) {
    const PlanPlot& plot = plan_.plots[i];
    if (plot.incomplete_block < 1)
      return fault(plot_place(i), "plot " + plot.number + " lies in no incomplete block",
                   "number those of each block from 1, or state design rcb");
    ++sizes[{plot.block, plot.incomplete_block}];
    const bool fresh = entries[plot.block][plot.incomplete_block].insert(plot.entry).second;
    if (!fresh && !std::exchange(told, true))
      notice(plot_place(i),
             "entry " + plot.entry + " stands twice in incomplete block " +
                 std::to_string(plot.incomplete_block) + " of block " + std::to_string(plot.block),
             "put its repeats into different ones, unless there are more repeats than those");
  }
  for (const auto& [block, of_block] : entries) {
    int next = 1;
    for (const auto& [part, standing] : of_block)
      if (part != next++)
        return fault(trial_place(),
                     "incomplete block " + std::to_string(next - 1) + " of block " +
                         std::to_string(block) + " has no plot",
                     "number those of each block 1, 2, 3 ...");
  }
  const auto [least, most] =
      std::ranges::minmax_element(sizes, {}, [](const auto& part) { return part.second; });
  if (sizes.empty() || most->second <= least->second + 1) return;
  fault(trial_place(),
        "incomplete blocks have " + std::to_string(least->second) + " to " +
            std::to_string(most->second) + " plots",
        "make them alike, or one plot apart");
}

void DesignCheck::parts_of_others() {
  const auto at = std::ranges::find_if(
      sown_, [&](std::size_t i) { return plan_.plots[i].incomplete_block != 0; });
  if (at == sown_.end()) return;
  notice(plot_place(*at), "incomplete blocks are numbered, but the design is " + plan_.design,
         "state design alpha, or leave incomplete_block empty");
}

void DesignCheck::neighbors() {
  std::map<std::pair<int, int>, std::size_t> ground;
  for (const std::size_t i : sown_) ground[{plan_.plots[i].row, plan_.plots[i].column}] = i;
  for (const auto& [place, i] : ground) {
    for (const auto& beside :
         {std::pair(place.first + 1, place.second), std::pair(place.first, place.second + 1)}) {
      const auto at = ground.find(beside);
      if (at == ground.end() || plan_.plots[at->second].entry != plan_.plots[i].entry) continue;
      return notice(plot_place(i),
                    "entry " + plan_.plots[i].entry + " stands in plots " + plan_.plots[i].number +
                        " and " + plan_.plots[at->second].number + ", which touch",
                    "exchange plots within a block, or state design rcb");
    }
  }
}

void DesignCheck::columns() {
  std::set<int> columns;
  std::map<std::string, std::size_t> stands;
  std::map<std::pair<std::string, int>, std::size_t> in_column;
  for (const std::size_t i : sown_) {
    const PlanPlot& plot = plan_.plots[i];
    columns.insert(plot.column);
    ++stands[plot.entry];
    ++in_column[{plot.entry, plot.column}];
  }
  for (const auto& [at, times] : in_column) {
    const std::size_t needed = (stands[at.first] + columns.size() - 1) / columns.size();
    if (times <= needed) continue;
    return notice(trial_place(),
                  "entry " + at.first + " stands in column " + std::to_string(at.second) + " " +
                      std::to_string(times) + " times",
                  "exchange plots within a block, or state design rcb");
  }
}

}  // namespace

PlanFindings check_design(const Plan& plan, const PlanPlaces& places) {
  DesignCheck check(plan, places);
  if (places.incomplete) return {};
  if (plan.design == "alpha")
    check.parts();
  else
    check.parts_of_others();
  if (plan.design == "row_column") {
    check.neighbors();
    check.columns();
  }
  return std::move(check.found);
}

}  // namespace ligule::files
