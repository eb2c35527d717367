// What was asked about is settled one value after the other.
#include <algorithm>

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::SizeIs;

// Three plots of "stand" are rated: 101 kept anyway, 102 without a question, 103 kept anyway.
class QuestionsTest : public ::testing::Test {
 protected:
  QuestionsTest() {
    Definitions& definitions = tablet.model.setup.definitions;
    const Scale* const scale = definitions.scale_for(measure, grass_plan().entries.front().species);
    definitions.limits.push_back(
        {measure, "", "", scale->units.empty() ? "" : scale->units.front(), 50, {}, "s"});
    tablet.open(grass_plan(), "stand");
    for (const char* stand : {"45", "80", "40"}) rate(stand);
  }
  void rate(std::string_view stand) {
    const std::string plot = plots.at(rated_++);
    tablet.tap(GoToPlot{plot});
    tablet.choose(measure, stand);
    if (!tablet.question().empty()) tablet.answer("measured_so");
    tablet.settle();
  }
  void look() {
    tablet.look_over(grass_plan(), "stand");
    tablet.tap(ShowQuestions{});
  }
  QuestionsView questions() { return std::get<QuestionsView>(tablet.review().page); }
  void settle(std::string_view reason) {
    tablet.tap(SettleQuestion{questions().claim.id, std::string(reason)});
    tablet.settle();
  }

  std::string measure = "percent_stand";
  std::vector<std::string> plots{"101", "102", "103"};
  std::size_t rated_ = 0;
  Tablet tablet;
};

TEST_F(QuestionsTest, EachIsShownWithWhatWasAskedAndWhatLiesBesideIt) {
  tablet.look_over(grass_plan(), "stand");
  EXPECT_EQ(tablet.review().questions, 2U);
  tablet.tap(ShowQuestions{});
  const QuestionsView view = questions();
  EXPECT_EQ(view.count, 2U);
  EXPECT_EQ(view.place, 1U);
  EXPECT_EQ(view.plot, "101");
  EXPECT_EQ(view.measure, measure);
  EXPECT_THAT(view.claim.shown, ::testing::StartsWith("45"));
  EXPECT_EQ(view.claim.who, "AB");
  ASSERT_THAT(view.asked, SizeIs(1));
  EXPECT_EQ(view.asked.front().rule, "unusual");
  EXPECT_EQ(view.asked.front().answer, "measured_so");
  std::vector<std::string> beside;
  for (const NeighbourView& plot : view.beside)
    if (!plot.across) beside.push_back(plot.plot);
  EXPECT_THAT(beside, ElementsAre("101", "102", "103"));
  EXPECT_TRUE(view.beside.front().here);
  EXPECT_THAT(view.beside[1].shown, ::testing::StartsWith("80"));
  EXPECT_FALSE(view.before);
  ASSERT_TRUE(view.after);
  tablet.tap(ShowQuestion{*view.after});
  EXPECT_EQ(questions().plot, "103");
  EXPECT_EQ(questions().place, 2U);
}

TEST_F(QuestionsTest, SettledItStandsAsARecordAndTheNextComesUp) {
  look();
  const RecordId asked = questions().claim.id;
  settle("agreed");
  const Record& settled = tablet.ledger.back();
  EXPECT_EQ(settled.kind, kind::kSettlement);
  EXPECT_THAT(settled.targets, ElementsAre(asked));
  EXPECT_EQ(settled.entered, "45");
  EXPECT_EQ(settled.reason, "agreed");
  EXPECT_THAT(settled.answers, SizeIs(1)) << "what was asked stays to be read";
  EXPECT_EQ(questions().plot, "103");
  EXPECT_EQ(questions().count, 1U);
  settle("looked_again");
  EXPECT_EQ(questions().count, 0U);
  EXPECT_EQ(tablet.review().questions, 0U);
  const std::size_t kept = tablet.ledger.size();
  tablet.tap(SettleQuestion{asked, "agreed"});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), kept) << "a late tap";
}

TEST_F(QuestionsTest, ReasonsOfOthersAreNotTaken) {
  look();
  const std::size_t kept = tablet.ledger.size();
  settle("mistap");
  EXPECT_EQ(tablet.ledger.size(), kept);
}

TEST_F(QuestionsTest, PutRightItGoesBackToTheQuestions) {
  look();
  tablet.tap(MendQuestion{questions().claim.id});
  tablet.settle();
  ASSERT_TRUE(std::holds_alternative<MendView>(tablet.review().page));
  tablet.type("85");
  tablet.tap(MendFor{"misread"});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kCorrection);
  EXPECT_EQ(tablet.ledger.back().entered, "85");
  EXPECT_EQ(questions().plot, "103");
  tablet.tap(MendQuestion{questions().claim.id});
  tablet.settle();
  tablet.tap(ReviewBack{});
  EXPECT_EQ(questions().plot, "103") << "nothing was done: it is still there";
  tablet.tap(ReviewBack{});
  EXPECT_TRUE(std::holds_alternative<MapView>(tablet.review().page));
}

// Proves: where two tablets disagree somebody chooses among the values first.
TEST_F(QuestionsTest, ContradictingValuesAreNotSettledUnseen) {
  Record other = *std::ranges::find(tablet.ledger, measure, &Record::measure);
  other.id.uuid.bytes[0] = 0x77;
  other.entered = "50";
  other.value = 50;
  tablet.ledger.push_back(other);
  look();
  EXPECT_THAT(questions().reasons, IsEmpty());
  const std::size_t kept = tablet.ledger.size();
  settle("agreed");
  EXPECT_EQ(tablet.ledger.size(), kept);
}

TEST_F(QuestionsTest, OnHoldItCountsAgainOnceSettled) {
  Record& held = *std::ranges::find(tablet.ledger, measure, &Record::measure);
  held.state = ValueState::kOnHold;
  look();
  EXPECT_EQ(questions().claim.mark, Mark::kOnHold);
  settle("on_paper");
  EXPECT_EQ(tablet.ledger.back().state, ValueState::kValue);
}

TEST_F(QuestionsTest, TheDaysEndLeadsThere) {
  tablet.tap(ShowDaysEnd{});
  tablet.settle();
  const Plan plan = grass_plan();
  const auto& occasion = *std::ranges::find(plan.occasions, "stand", &PlanOccasion::code);
  tablet.tap(ReviewOccasion{plan.id(), plan.occasion(occasion), true});
  tablet.settle();
  EXPECT_EQ(questions().count, 2U);
}

}  // namespace
}  // namespace ligule::flow
