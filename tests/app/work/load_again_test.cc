// Values that were put right, and second ratings, as they are read.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "app/work/load.h"
#include "storage/files/definitions.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;

class LoadAgain : public testing::Test {
 protected:
  std::vector<PersonId> not_done() {
    const flow::Today today = need(load_today(ledger_, definitions_, at(0).local_date, known_));
    return std::ranges::find(today.progress, rating(), &flow::OccasionProgress::occasion)
        ->second_open;
  }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Definitions definitions_ = files::load_definitions(*files_, LIGULE_SOURCE_ASSETS).value();
  Folder folder_{true};
  ledger::Ledger ledger_ = started(folder_.file("a.ledger"), 1, "tablet 3");
  TrialsProgress known_;
};

// Proves: a visit is when a value was given first, not when it was put off or put right.
TEST_F(LoadAgain, AClaimKnowsWhenAValueWasGivenFirst) {
  Record put_off = reading(10, "101", "percent_stand", "");
  put_off.state = ValueState::kLater;
  Record first = correction(11, put_off, "80");
  first.state = ValueState::kValue;
  const Record second = correction(12, first, "85");
  const Record only = reading(14, "102", "percent_stand", "70");
  need(ledger_.append(
      {plan_record(9, plan()), put_off, first, second, correction(13, second, "90"), only}));
  const auto loaded = need(load_occasion(ledger_, trial(), rating()));
  ASSERT_EQ(loaded.claims.size(), 2U);
  for (const flow::KnownClaim& claim : loaded.claims)
    EXPECT_EQ(claim.given, claim.record.id == only.id ? std::nullopt : std::optional(first.at));
}

// Proves: who rates as second person is known until all that others rated is rated, or closed.
TEST_F(LoadAgain, TodayKnowsWhoIsNotDoneAsSecondPerson) {
  need(ledger_.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80"),
                       reading(11, "102", "percent_stand", "80")}));
  EXPECT_THAT(not_done(), testing::IsEmpty());
  Record second = reading(20, "101", "percent_stand", "70");
  second.person = person_id("CD");
  second.purpose = Purpose::kSecond;
  need(ledger_.append({second}));
  EXPECT_THAT(not_done(), testing::ElementsAre(person_id("CD")));
  Record closing;
  closing.id = {id(30)};
  closing.kind = kind::kClosed;
  closing.at = at(6000);
  closing.person = person_id("AB");
  closing.trial = plan().id();
  closing.plan = sha256(plan_text(plan())).hex();
  closing.occasion = rating();
  closing.reason = "left_open";
  need(ledger_.append({closing}));
  EXPECT_THAT(not_done(), testing::IsEmpty()) << "closed since";
}

}  // namespace
}  // namespace ligule::work
