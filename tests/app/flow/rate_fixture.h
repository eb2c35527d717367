// A tablet whose first rating is open: what the tests of rating share.
#pragma once

#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {

class Rate : public ::testing::Test {
 protected:
  Rate() { tablet.open(grass_plan(), "stand"); }

  // Every measure of the plot shown, one tap each.
  void rate_plot(std::string_view stand = "85") {
    tablet.choose("percent_stand", stand);
    tablet.choose("seedling_vigor", "4");
    const bool legume = tablet.rate().measures.at(2).scale == "maturity_legume";
    tablet.choose("maturity", legume ? "3" : "R0");
    tablet.choose("stubble_height", "3.5");
  }
  const MeasureView& measure(std::string_view code) {
    view = tablet.rate();
    return *std::ranges::find(view.measures, code, &MeasureView::measure);
  }
  const Record& last() { return tablet.ledger.back(); }

  Tablet tablet;
  RateView view;
};

}  // namespace ligule::flow
