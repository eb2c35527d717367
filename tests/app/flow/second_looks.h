// What the tests of second looks stand on: a rating of one score by eye. Included by them only.
#pragma once

#include <algorithm>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "app/flow/book.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {

// Sixteen plots in two rows: from the tenth on the path comes by earlier ones.
class SecondLookTest : public ::testing::Test {
 protected:
  explicit SecondLookTest() {
    plan = wide_plan();
    plan.occasions.back().measures = {"percent_stand"};
    tablet.model.trials.push_back({plan, "plan digest", {}});
    tablet.goes_on = false;
    tablet.tap(Choose{Preference::kRepeats, "10"});
    tablet.open(plan, "late");
  }
  // Rates until a plot comes back, or all is done; whether one came back.
  bool rate_until_one_comes_back(std::string_view stand = "85") {
    while (!tablet.rate().all_done) {
      if (looking()) return true;
      tablet.choose("percent_stand", stand);
      tablet.settle();
    }
    return looking();
  }
  bool looking() const {
    const Book* const book = book_of(tablet.model.screen);
    return book != nullptr && book->looks.look;
  }
  std::vector<Record> of(Purpose purpose) const {
    std::vector<Record> found;
    std::ranges::copy_if(tablet.ledger, std::back_inserter(found), [&](const Record& record) {
      return record.purpose == purpose && record.is_claim();
    });
    return found;
  }
  void hand_to(const std::string& initials) {
    tablet.tap(HandOver{});
    tablet.type(initials);
    tablet.tap(KeyDone{});
    tablet.settle();
  }
  void answer_as(RateAs as) {
    ASSERT_TRUE(tablet.above().as_second);
    tablet.tap(AnswerAsSecond{as});
    tablet.settle();
  }

  Plan plan;
  Tablet tablet;
};

}  // namespace ligule::flow
