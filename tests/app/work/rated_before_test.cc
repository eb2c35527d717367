// What the rules of an occasion look back to.
#include "storage/ledger/rated_before.h"

#include <gtest/gtest.h>

#include "app/work/load.h"
#include "storage/trial/details.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;

class LoadPast : public testing::Test {
 protected:
  Folder folder_{true};
  ledger::Ledger ledger_ = started(folder_.file("a.ledger"), 1, "tablet 3");
};

// Proves: a rating looks back to what came before it, and not to what was rated since.
TEST_F(LoadPast, WhatWasRatedAfterwardsIsNotBefore) {
  Record earlier = reading(25, "101", "percent_stand", "60");
  earlier.at = at(1);
  earlier.occasion = cutting();  // of another occasion than the one that is loaded
  Record own = reading(26, "101", "seedling_vigor", "4");
  own.at = at(5);
  Record later = reading(27, "101", "percent_stand", "95");
  later.at = at(9);
  later.occasion = cutting();
  need(ledger_.append({plan_record(9, plan()), earlier, own, later}));
  const auto loaded = need(load_occasion(ledger_, trial(), rating()));
  ASSERT_TRUE(loaded.before.contains("101"));
  EXPECT_EQ(loaded.before.at("101").stand->value, 60);
}

// Proves: a value put right or settled later is as old as what it replaces: it is no newer rating,
// and still one from before this occasion.
TEST_F(LoadPast, WhatWasPutRightLaterWasNotRatedLater) {
  Record april = reading(25, "101", "percent_stand", "60");
  april.at = at(1);
  april.occasion = cutting();
  Record july = reading(26, "102", "percent_stand", "50");
  july.at = at(2);
  july.occasion = cutting();
  Record own = reading(27, "101", "seedling_vigor", "4");
  own.at = at(5);
  Record put_right = april;
  put_right.id = {id(28)};
  put_right.kind = kind::kCorrection;
  put_right.reason = "misread";
  put_right.targets = {april.id};
  put_right.value = 70;
  put_right.entered = "70";
  put_right.at = at(9);
  need(ledger_.append({plan_record(9, plan()), april, july, own, put_right}));
  const auto loaded = need(load_occasion(ledger_, trial(), rating()));
  ASSERT_TRUE(loaded.before.contains("101"));
  EXPECT_EQ(loaded.before.at("101").stand, (RatedBefore::Value{70, april.at.local_date}));
}

// Proves: what was clipped or grazed grows anew, as what was cut; a block of it alone does not
// tell.
TEST_F(LoadPast, WhatWasClippedGrowsAnew) {
  Record clipped;
  clipped.id = {id(30)};
  clipped.kind = kind::kEvent;
  clipped.at = at(30);
  clipped.person = person_id("AB");
  clipped.trial = trial();
  clipped.entered = "clipped";
  clipped.details = details_text({{"on", "2026-05-20"}});
  Record of_block = clipped;
  of_block.id = {id(31)};
  of_block.details = details_text({{"block", "2"}, {"on", "2026-06-20"}});
  Record spray = clipped;
  spray.id = {id(32)};
  spray.entered = "spray";
  spray.details = details_text({{"on", "2026-06-25"}});
  need(ledger_.append({plan_record(9, plan()), clipped, of_block, spray}));
  EXPECT_EQ(need(load_occasion(ledger_, trial(), rating())).last_cut,
            parse_date("2026-05-20").value());
  EXPECT_EQ(need(load_occasion(ledger_, trial(), cutting())).last_cut, std::nullopt)
      << "it is no cutting that another one follows too soon";
}

}  // namespace
}  // namespace ligule::work
