// A cutting whose samples are sorted by hand: what the tests of sorting share.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>

#include "app/flow/sorted_sample.h"
#include "tests/app/flow/slide_fixture.h"

namespace ligule::flow {

// Bags weigh 40 g.
class SortingTest : public SlideFixture {
 protected:
  // Plots 101 and 102 are cut; 101 has the sample bag 9.
  SortingTest() {
    OccasionProgress cut;
    cut.trial = grass_plan().id();
    cut.occasion = occasion("cut1");
    cut.done = 2;
    tablet.today_answer.progress = {cut};
    tablet.tap(ShowToday{});
    tablet.settle();
    tablet.open(grass_plan(), "cut1");
    tablet.type("Mower 1");
    tablet.tap(StartRun{});
    for (const char* const bag : {"9", ""}) {
      tablet.fill(Field::kGross, "30");
      if (*bag != 0) tablet.fill(Field::kBag, bag);
      tablet.tap(KeepPlot{});
      if (!tablet.question().empty()) tablet.answer("weights_equal");
      tablet.settle();
    }
    show();
  }
  void show() {
    tablet.tap(ShowDryWeights{});
    tablet.settle();
    tablet.tap(ShowSorting{});
    tablet.settle();
  }
  [[nodiscard]] SortingView sort() const { return std::get<SortingView>(view_of(tablet.model)); }
  [[nodiscard]] bool sorting() const {
    return std::holds_alternative<Sorting>(tablet.model.screen);
  }
  void put(std::string_view number) {
    tablet.type(number);
    tablet.tap(KeyDone{});
  }
  void whole(std::string_view weight) {
    tablet.type(weight);
    tablet.tap(KeyDone{});
    tablet.settle();
  }
  void part(std::string_view bag, std::string_view fresh) {
    tablet.type(bag);
    tablet.tap(KeyDone{});
    tablet.type(fresh);
    tablet.tap(KeyDone{});
    tablet.settle();
  }
  void none() {
    tablet.tap(SayNoneOfPart{});
    tablet.settle();
  }
  // 400 g net, of which 240 + 80 + 60 + 20 g.
  void sort_all(const std::string& plot, int bag) {
    put(plot);
    whole("440");
    part(std::to_string(bag), "280");
    none();
    part(std::to_string(bag + 1), "120");
    part(std::to_string(bag + 2), "100");
    part(std::to_string(bag + 3), "60");
  }
  void dry(const std::string& bag, const std::string& weight) {
    tablet.tap(ShowDryWeights{});
    tablet.settle();
    tablet.type(bag);
    tablet.tap(KeyDone{});
    tablet.type(weight);
    tablet.tap(KeepDry{});
    tablet.settle();
  }
  [[nodiscard]] const Record& last() const { return tablet.ledger.back(); }
  [[nodiscard]] const Record& last_of(std::string_view measure) const {
    const auto at = std::find_if(tablet.ledger.rbegin(), tablet.ledger.rend(),
                                 [&](const Record& each) { return each.measure == measure; });
    EXPECT_NE(at, tablet.ledger.rend()) << measure;
    return *at;
  }
};

}  // namespace ligule::flow
