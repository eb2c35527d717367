// A tablet that knows measures of several numbers, and a trial that records them.
#pragma once

#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {

class Pads : public ::testing::Test {
 protected:
  Pads() { teach(); }

  static Scale scale(const std::string& code, ScaleKind kind) {
    Scale made;
    made.code = code;
    made.kind = kind;
    made.definition = "for tests";
    made.source = "common practice, no source";
    return made;
  }
  static Plan plan() {
    Plan plan = grass_plan();
    plan.codes.trial = "P1";
    plan.occasions.clear();
    for (const char* code : {"height", "cover", "grid", "counts", "heading"})
      plan.occasions.push_back({code, Job::kRate, 2026, 0, {code}, std::nullopt});
    return plan;
  }
  // After every start of the program.
  void teach() {
    Definitions& known = tablet.model.setup.definitions;
    Scale height = scale("height", ScaleKind::kLength);
    height.units = {"in", "cm"};
    height.minimum = 0;
    height.maximum = 100;
    height.readings = 3;
    Scale cover = scale("cover", ScaleKind::kShares);
    cover.units = {"%"};
    cover.step = 5;
    cover.steps = {{"sown", 1, "sown"}, {"weed", 2, "weeds"}, {"bare", 3, "bare"}};
    Scale grid = scale("grid", ScaleKind::kCells);
    grid.units = {"%"};
    grid.minimum = 0;
    grid.maximum = 25;
    grid.readings = 4;
    grid.plants_per_percent = 0.4;
    Scale counts = scale("counts", ScaleKind::kCounts);
    counts.steps = {{"V", 1.5, "leaves"}, {"R0", 3, "boot"}, {"R1", 3.1, ""}};
    Scale heading = scale("heading", ScaleKind::kReached);
    heading.steps = {{"not_yet", 0, "not yet"}, {"reached", 1, "reached"}};
    for (const Scale& each : {height, cover, grid, counts, heading}) {
      known.scales.push_back(each);
      known.measures.push_back({each.code, Subject::kPlot, {{"", each.code}}});
      tablet.model.setup.definition_digests[each.code] = "digest of " + each.code;
    }
    tablet.model.trials.push_back({plan(), "plan digest P1", {}});
  }
  void open(const std::string& occasion) { tablet.open(plan(), occasion); }
  void look_back(const PlanOccasion& occasion) { tablet.look_over(plan(), occasion.code); }
  void pad(Intent intent) { tablet.tap(std::move(intent)); }
  [[nodiscard]] MeasureView measure() const { return tablet.rate().measures.front(); }
  [[nodiscard]] GatherView gather() const { return measure().gather.value_or(GatherView{}); }
  [[nodiscard]] VisitsView visits() const { return measure().visits.value_or(VisitsView{}); }
  [[nodiscard]] const Record& last() const { return tablet.ledger.back(); }
  // Records kept since the last call, readings and what replaces them.
  std::size_t fresh() {
    tablet.settle();
    const std::size_t now = tablet.ledger.size() - counted_;
    counted_ = tablet.ledger.size();
    return now;
  }

  Tablet tablet;

 private:
  std::size_t counted_ = 0;
};

}  // namespace ligule::flow
