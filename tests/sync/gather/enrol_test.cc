#include "sync/gather/enrol.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"

namespace ligule::gather {
namespace {

using ledger::Ledger;
using ledger::sample::need;
using testing::HasSubstr;
using testing::SizeIs;

class Enrolling : public testing::Test {
 protected:
  Enrolling() {
    Scale stand;
    stand.code = "percent_stand";
    stand.kind = ScaleKind::kPercent;
    Scale grass;
    grass.code = "maturity_grass";
    Scale legume;
    legume.code = "maturity_legume";
    definitions_.scales = {stand, grass, legume};
    definitions_.measures = {
        {"percent_stand", Subject::kPlot, {{"", "percent_stand"}}},
        {"maturity",
         Subject::kPlot,
         {{"cool_season_grass", "maturity_grass"}, {"legume", "maturity_legume"}}}};
    definitions_.species = {{"tall_fescue", "Tall fescue", "cool_season_grass", true}};
  }
  files::Checked<std::vector<Enrolled>> enrol_all(const std::vector<Plan>& plans) {
    return enrol(ledger_, plans, definitions_, ids_, ledger::sample::at(50));
  }
  static Plan revision(const Plan& of) {
    Plan next = of;
    next.parent = sha256(plan_text(of)).hex();
    next.reason = "a plot was lost";
    next.title = "Tall fescue, mended";
    return next;
  }

  ledger::sample::Folder folder_{true};
  Ledger ledger_ = ledger::sample::started(folder_.file("n.ligule"), 1);
  Definitions definitions_;
  UuidSequence ids_{[n = std::uint64_t{0}]() mutable { return ++n; }};
};

TEST_F(Enrolling, KeepsThePlanAndTheScalesItsSpeciesAreGivenOn) {
  const auto enrolled = enrol_all({ledger::sample::plan()});
  ASSERT_TRUE(enrolled) << one_line(enrolled.error().front());
  EXPECT_EQ((*enrolled)[0].outcome, EnrolOutcome::kNew);
  EXPECT_EQ((*enrolled)[0].scales, 2U) << "no legume stands in this trial";
  EXPECT_EQ(plan_text(need(ledger_.plan(ledger::sample::trial())).plan),
            plan_text(ledger::sample::plan()));
  const auto scale = need(ledger_.definition(sha256(scale_text(definitions_.scales[1])).hex()));
  EXPECT_EQ(scale, definitions_.scales[1]);
}

TEST_F(Enrolling, ASecondTimeChangesNothing) {
  ASSERT_TRUE(enrol_all({ledger::sample::plan()}));
  const Digest before = need(ledger_.digest());
  const auto again = enrol_all({ledger::sample::plan()});
  ASSERT_TRUE(again);
  EXPECT_EQ((*again)[0].outcome, EnrolOutcome::kHeld);
  EXPECT_EQ(need(ledger_.digest()), before);
}

TEST_F(Enrolling, ARevisionFollowsAndCopiesNoScaleTwice) {
  ASSERT_TRUE(enrol_all({ledger::sample::plan()}));
  const Plan next = revision(ledger::sample::plan());
  const auto enrolled = enrol_all({next});
  ASSERT_TRUE(enrolled) << one_line(enrolled.error().front());
  EXPECT_EQ((*enrolled)[0].outcome, EnrolOutcome::kRevised);
  EXPECT_EQ((*enrolled)[0].scales, 0U);
  EXPECT_EQ(plan_text(need(ledger_.plan(ledger::sample::trial())).plan), plan_text(next));
}

// Who takes an older folder for the plan is not told that it stands.
TEST_F(Enrolling, ThePlanThatWasRevisedIsHeldButNotInForce) {
  const Plan next = revision(ledger::sample::plan());
  ASSERT_TRUE(enrol_all({ledger::sample::plan()}));
  ASSERT_TRUE(enrol_all({next}));
  const Digest before = need(ledger_.digest());
  const auto old = enrol_all({ledger::sample::plan()});
  ASSERT_TRUE(old) << one_line(old.error().front());
  EXPECT_EQ((*old)[0].outcome, EnrolOutcome::kNotInForce);
  const auto again = enrol_all({next});
  ASSERT_TRUE(again);
  EXPECT_EQ((*again)[0].outcome, EnrolOutcome::kHeld);
  EXPECT_EQ(need(ledger_.digest()), before);
}

TEST_F(Enrolling, TwoTrialsShareTheirScales) {
  Plan second = ledger::sample::plan();
  second.codes.trial = "TF27";
  const auto enrolled = enrol_all({ledger::sample::plan(), second});
  ASSERT_TRUE(enrolled);
  EXPECT_EQ((*enrolled)[0].scales, 2U);
  EXPECT_EQ((*enrolled)[1].scales, 0U);
}

TEST_F(Enrolling, AnotherPlanUnderTheSameCodesIsRefusedWithAllOthers) {
  ASSERT_TRUE(enrol_all({ledger::sample::plan()}));
  const Digest before = need(ledger_.digest());
  Plan other = ledger::sample::plan();
  other.title = "not a revision";
  Plan fine = ledger::sample::plan();
  fine.codes.trial = "TF27";
  const auto enrolled = enrol_all({fine, other});
  ASSERT_FALSE(enrolled);
  ASSERT_THAT(enrolled.error(), SizeIs(1));
  EXPECT_EQ(enrolled.error()[0].kind, ErrorKind::kConflict);
  EXPECT_EQ(need(ledger_.digest()), before);
}

TEST_F(Enrolling, TwoPlansOfTheSameCodesAreRefused) {
  const std::vector<Plan> twice{ledger::sample::plan(), ledger::sample::plan()};
  const auto enrolled = enrol_all(twice);
  ASSERT_FALSE(enrolled);
  EXPECT_THAT(enrolled.error()[0].what, HasSubstr("same codes"));
  EXPECT_EQ(enrolled.error()[0].where, "north/home/TF26");
  EXPECT_THAT(enrol_faults(nullptr, twice, {}), SizeIs(1));
}

TEST_F(Enrolling, ALedgerWithoutAStreamTakesNoPlan) {
  Ledger empty = need(Ledger::create(folder_.file("e.ligule")));
  const std::vector<Plan> plans{ledger::sample::plan()};
  const auto enrolled = enrol(empty, plans, definitions_, ids_, ledger::sample::at(0));
  ASSERT_FALSE(enrolled);
  EXPECT_EQ(enrolled.error()[0].kind, ErrorKind::kNotFound);
}

}  // namespace
}  // namespace ligule::gather
