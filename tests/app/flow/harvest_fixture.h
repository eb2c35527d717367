// A tablet whose first cutting is open: what the tests of harvest share.
#pragma once

#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {

class HarvestTest : public ::testing::Test {
 protected:
  HarvestTest() { tablet.open(grass_plan(), "cut1"); }
  // Of a plan that the tablet does not have yet.
  explicit HarvestTest(const Plan& plan) {
    tablet.model.trials.push_back({plan, "plan digest", {}});
    tablet.open(plan, "cut1");
  }

  void start() {
    tablet.type("Mower 1");
    tablet.tap(StartRun{});
    tablet.settle();
  }
  void weigh(std::string_view gross, std::string_view bag = "", std::string_view sample = "") {
    tablet.fill(Field::kGross, gross);
    if (!bag.empty()) tablet.fill(Field::kBag, bag);
    if (!sample.empty()) tablet.fill(Field::kSampleFresh, sample);
    tablet.tap(KeepPlot{});
  }
  // Whoever weighed stands by what is asked about.
  void stand_by() {
    for (int asked = 0; asked < 4; ++asked) {
      const std::string question = tablet.question();
      if (question == "check.weight_unexpected") tablet.answer("measured_so");
      if (question == "check.weighed_twice") tablet.answer("earlier_was_wrong");
      if (question == "check.same_weight") tablet.answer("weights_equal");
    }
    tablet.settle();
  }
  RunHeadView head() const {
    return std::get<RunHeadView>(std::get<HarvestView>(view_of(tablet.model)).step);
  }
  // The last record of a measure.
  const Record& last_of(std::string_view measure) {
    return *std::ranges::find(tablet.ledger.rbegin(), tablet.ledger.rend(), measure,
                              &Record::measure);
  }

  Tablet tablet;
};

// A wide plan's weights, 2 lb heavier in block 2: D to H, whose order is theirs there.
inline const std::vector<std::string> rest_of_block_one{"30.5", "33.5", "29.2", "27.1", "35.9"};
inline const std::vector<std::string> start_of_block_two{"32.5", "35.5", "31.2", "29.1", "37.9"};

// The same with a scale plugged in that weighs in pounds.
class ScaleHarvestTest : public HarvestTest {
 protected:
  ScaleHarvestTest() { plug_in(); }
  explicit ScaleHarvestTest(const Plan& plan) : HarvestTest(plan) { plug_in(); }
  void plug_in() {
    tablet.model.preferences.scale.port = "/dev/serial/by-id/usb-one";
    start();
  }
  void on_the_scale(LoadSeen seen) { tablet.tap(LoadTold{std::move(seen)}); }
  void on_the_scale(const std::string& weight) {
    LoadSeen seen;
    seen.state = LoadState::kStill;
    seen.entered = weight;
    seen.unit = "lb";
    seen.raw = "S G + " + weight + " lb";
    on_the_scale(std::move(seen));
  }
  void take(const std::string& weight) {
    on_the_scale(weight);
    tablet.tap(TakeWeight{});
    tablet.settle();
  }
  void bag(const std::string& number) {
    tablet.fill(Field::kBag, number);
    tablet.tap(KeepPlot{});
    tablet.settle();
  }
};

}  // namespace ligule::flow
