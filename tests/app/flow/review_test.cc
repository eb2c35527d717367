// Looking back: the plot map and a plot's history.
#include <algorithm>

#include "app/flow/book.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::SizeIs;

class Reviewing : public ::testing::Test {
 protected:
  static OccasionId occasion(std::string_view code) {
    const Plan plan = grass_plan();
    return plan.occasion(*std::ranges::find(plan.occasions, code, &PlanOccasion::code));
  }
  void progress(std::string_view code, int done, int today) {
    OccasionProgress made;
    made.trial = grass_plan().id();
    made.occasion = occasion(code);
    made.total = 6;
    made.done = done;
    made.values_today = today;
    tablet.today_answer.progress.push_back(made);
  }
  void review(std::string_view code) { tablet.look_over(grass_plan(), code); }
  void look_at(std::string_view plot) {
    tablet.tap(ShowHistory{std::string(plot)});
    tablet.settle();
  }
  // A value another tablet gave, as gather would bring it.
  Record from_elsewhere(std::string_view entered, double value) {
    Record record = *std::ranges::find(tablet.ledger, measure, &Record::measure);
    record.id.uuid.bytes[0] = static_cast<std::uint8_t>(tablet.ledger.size());
    record.entered = entered;
    record.value = value;
    record.person = person_id("CD");
    tablet.ledger.push_back(record);
    return record;
  }

  std::string measure = "percent_stand";
  Tablet tablet;
};

TEST_F(Reviewing, BeginsWithWhatWasWorkedOnLast) {
  progress("stand", 6, 0);
  progress("cut1", 2, 3);
  progress("late", 0, 0);
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.tap(ShowReview{});
  tablet.settle();
  EXPECT_EQ(tablet.review().occasion, "cut1");
  tablet.tap(ListOccasions{});
  const auto list = std::get<OccasionListView>(tablet.review().page);
  ASSERT_THAT(list.rows, SizeIs(5));
  EXPECT_EQ(list.rows[0].done, 6);
  EXPECT_TRUE(list.rows[1].chosen);
  tablet.tap(ReviewBack{});
  EXPECT_EQ(tablet.map().rows, 2);
  tablet.tap(ReviewBack{});
  EXPECT_TRUE(std::holds_alternative<TodayView>(view_of(tablet.model)));
}

TEST_F(Reviewing, WithoutAPlanThereIsNothingToLookBackOn) {
  tablet.model.trials.clear();
  tablet.tap(ShowReview{});
  EXPECT_EQ(tablet.notice(), "notice.nothing_to_review");
}

TEST_F(Reviewing, TheMapHasEveryPlotInItsPlaceWithItsValueAndShare) {
  tablet.open(grass_plan(), "stand");
  tablet.choose("percent_stand", "80");
  tablet.tap(PutOff{});
  tablet.choose("percent_stand", "25");
  review("stand");
  const MapView map = tablet.map();
  EXPECT_EQ(map.rows, 2);
  EXPECT_EQ(map.columns, 3);
  ASSERT_THAT(map.cells, SizeIs(6));
  const MapCell first = tablet.on_map("101");
  EXPECT_EQ(first.row, 1);
  EXPECT_EQ(first.column, 1);
  EXPECT_EQ(first.shown, "80");
  EXPECT_EQ(first.mark, Mark::kKept);
  EXPECT_DOUBLE_EQ(first.share.value(), 0.8);
  EXPECT_DOUBLE_EQ(tablet.on_map("102").share.value(), 0.25);
  EXPECT_EQ(tablet.on_map("202").mark, Mark::kOpen);
  EXPECT_FALSE(tablet.on_map("202").share);
  ASSERT_THAT(map.legend, SizeIs(3));
  EXPECT_EQ(map.legend.front().text, "0");
  EXPECT_EQ(map.legend.back().text, "100");
  tablet.tap(ReviewMeasure{"seedling_vigor"});
  EXPECT_EQ(tablet.on_map("101").mark, Mark::kLater);
  EXPECT_THAT(tablet.map().legend, IsEmpty());
  tablet.tap(ReviewMeasure{"no such"});
  EXPECT_EQ(tablet.review().measure, "seedling_vigor");
}

TEST_F(Reviewing, AmountsAreComparedInOneUnitWhateverTheyWereEnteredIn) {
  tablet.open(grass_plan(), "stand");
  tablet.choose("stubble_height", "4");
  tablet.settle();
  Record other = tablet.ledger.back();
  other.id.uuid.bytes[0] = 7;
  other.subject = plot_id(grass_plan().id(), "102").uuid;
  other.entered = "20.32";  // 8 in
  other.unit = "cm";
  other.value = 20.32;
  tablet.ledger.push_back(other);
  other.id.uuid.bytes[0] = 8;
  other.subject = plot_id(grass_plan().id(), "103").uuid;
  other.entered = "12.7";  // 5 in
  other.value = 12.7;
  tablet.ledger.push_back(other);
  review("stand");
  tablet.tap(ReviewMeasure{"stubble_height"});
  EXPECT_EQ(tablet.map().unit, "in");
  EXPECT_DOUBLE_EQ(tablet.on_map("101").share.value(), 0);
  EXPECT_DOUBLE_EQ(tablet.on_map("102").share.value(), 1);
  EXPECT_NEAR(tablet.on_map("103").share.value(), 0.25, 1e-12);
  EXPECT_EQ(tablet.map().legend.front().text, "4.00");
  EXPECT_EQ(tablet.map().legend.back().text, "8.00");
}

TEST_F(Reviewing, WeightsOfBagsStandOnTheirPlot) {
  tablet.open(grass_plan(), "cut1");
  tablet.fill(Field::kMachine, "mower");
  tablet.tap(StartRun{});
  tablet.fill(Field::kGross, "30.5");
  tablet.fill(Field::kBag, "12");
  tablet.fill(Field::kSampleFresh, "512");
  tablet.tap(KeepPlot{});
  tablet.settle();
  review("cut1");
  EXPECT_EQ(tablet.review().measure, "gross_weight");
  EXPECT_EQ(tablet.on_map("101").shown, "30.5");
  EXPECT_DOUBLE_EQ(tablet.on_map("101").share.value(), 0.5) << "alone it is in the middle";
  tablet.tap(ReviewMeasure{"sample_fresh"});
  EXPECT_EQ(tablet.on_map("101").shown, "512");
  EXPECT_EQ(tablet.on_map("102").mark, Mark::kOpen);
  tablet.tap(ReviewMeasure{"bag_number"});
  EXPECT_EQ(tablet.on_map("101").shown, "12");
  EXPECT_FALSE(tablet.on_map("101").share) << "a label is no amount";
  look_at("101");
  std::vector<std::string> measures;
  for (const HistoryRow& row : tablet.history().rows) measures.push_back(row.measure);
  EXPECT_THAT(measures, ElementsAre("sample_fresh", "bag_number", "gross_weight"));
}

TEST_F(Reviewing, APlotThatWasGivenUpStaysInItsPlaceWithoutAValue) {
  tablet.model.trials.front().as_sown.push_back({plot_id(grass_plan().id(), "103"),
                                                 AsSownStatus::kAbandoned, std::nullopt,
                                                 date::year{2026} / 4 / 1, "washed out"});
  const Plan plan = grass_plan();
  OccasionLoaded loaded{
      plan.id(), occasion("stand"), {}, {}, tablet.model.trials.front().as_sown, {}, {}};
  tablet.tap(ShowReview{});
  tablet.tap(loaded);
  ASSERT_EQ(tablet.review().occasion, "stand");
  EXPECT_EQ(tablet.on_map("103").mark, Mark::kAbandoned);
}

TEST_F(Reviewing, TheHistoryTellsTheWholeChainNewestFirst) {
  tablet.open(grass_plan(), "stand");
  tablet.choose("percent_stand", "35");
  tablet.tap(ChooseValue{"percent_stand", "85", "mistap"});
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.settle();
  review("stand");
  look_at("101");
  const HistoryView history = tablet.history();
  EXPECT_EQ(history.plot, "101");
  EXPECT_EQ(history.block, 1);
  ASSERT_TRUE(history.loaded);
  ASSERT_THAT(history.rows, SizeIs(4));
  EXPECT_EQ(history.rows[0].kind, "withdrawal");
  EXPECT_EQ(history.rows[0].reason, "taken_back");
  EXPECT_THAT(history.rows[0].replaced, ElementsAre("35\u00A0%"));
  EXPECT_EQ(history.rows[1].kind, "correction");
  EXPECT_EQ(history.rows[1].shown, "35\u00A0%");
  EXPECT_EQ(history.rows[2].reason, "mistap");
  EXPECT_THAT(history.rows[2].replaced, ElementsAre("35\u00A0%"));
  EXPECT_EQ(history.rows[3].kind, "reading");
  EXPECT_EQ(history.rows[3].initials, "AB");
  EXPECT_EQ(history.rows[3].date, "2026-05-04");
  EXPECT_EQ(history.rows[3].occasion, "stand");
  for (const HistoryRow& row : history.rows) EXPECT_FALSE(row.standing) << row.kind;
  tablet.tap(ShowHistory{"999"});
  EXPECT_EQ(tablet.notice(), "notice.unknown_plot");
}

TEST_F(Reviewing, TwoValuesThatDifferAreAConflictUntilTheyAgree) {
  tablet.open(grass_plan(), "stand");
  tablet.choose("percent_stand", "35");
  tablet.settle();
  from_elsewhere("85", 85);
  review("stand");
  EXPECT_TRUE(tablet.on_map("101").conflict);
  look_at("101");
  for (const HistoryRow& row : tablet.history().rows) {
    EXPECT_TRUE(row.standing);
    EXPECT_TRUE(row.conflict);
  }
  EXPECT_EQ(tablet.history().rows.front().initials, "") << "nobody this tablet knows";
}

TEST_F(Reviewing, NamesStayHiddenUntilTheyAreUnlockedWhileRating) {
  tablet.open(grass_plan(), "stand");
  review("stand");
  tablet.tap(ShowNames{});
  look_at("101");
  EXPECT_EQ(tablet.history().names, "");
  tablet.open(grass_plan(), "stand");
  tablet.tap(ShowNames{});
  tablet.settle();
  review("stand");
  look_at("101");
  EXPECT_EQ(tablet.history().names, "Alder Brook");
}

// Proves: what a plot really holds is said without the entry's name.
TEST_F(Reviewing, WhatAPlotHoldsNamesNoEntry) {
  Record sown;
  sown.id.uuid.bytes[0] = 9;
  sown.trial = grass_plan().id();
  sown.at = tablet.model.now;
  write_as_sown({plot_id(grass_plan().id(), "101"), AsSownStatus::kHolds,
                 grass_plan().entry(grass_plan().entries[1]), date::year{2026} / 4 / 1, ""},
                sown);
  tablet.ledger.push_back(sown);
  review("stand");
  look_at("101");
  ASSERT_THAT(tablet.history().rows, SizeIs(1));
  const HistoryRow row = tablet.history().rows[0];
  EXPECT_EQ(row.shown, "holds");
  EXPECT_EQ(row.measure, "");
}

TEST_F(Reviewing, WhatBelongsToARatingDoesNothingHere) {
  tablet.open(grass_plan(), "stand");
  review("stand");
  const std::size_t kept = tablet.ledger.size();
  for (const Intent& intent :
       {Intent{PutOff{}}, Intent{DeclareDone{}}, Intent{ShowNames{}}, Intent{TakeBack{}},
        Intent{ChooseValue{"percent_stand", "80"}}, Intent{KeyText{"5"}}, Intent{KeyDone{}}}) {
    tablet.tap(intent);
    tablet.settle();
  }
  EXPECT_EQ(tablet.ledger.size(), kept);
  EXPECT_EQ(tablet.review().occasion, "stand");
}

TEST_F(Reviewing, AHistoryThatCannotBeReadLeavesTheMapAndSaysSo) {
  review("stand");
  tablet.tap(ShowHistory{"101"});
  tablet.tap(Failed{{ErrorKind::kDamaged, "a page is torn", "ledger", "restore a copy"}});
  EXPECT_EQ(tablet.notice(), "notice.load_failed");
  EXPECT_EQ(tablet.map().rows, 2);
  // An answer that comes late belongs to nothing any more.
  tablet.tap(HistoryLoaded{grass_plan().id(), "101", {}});
  EXPECT_EQ(tablet.map().rows, 2);
}

// Proves: a program's own score goes by its name, in Today, Review and where its value is put
// right.
TEST_F(Reviewing, AnOwnScoreGoesByItsName) {
  Plan& plan = tablet.model.trials.at(0).plan;
  Scale texture;
  texture.code = "texture";
  texture.name = "Leaf texture";
  texture.kind = ScaleKind::kScore;
  texture.minimum = 1;
  texture.maximum = 2;
  texture.steps = {{"1", 1, "soft"}, {"2", 2, "harsh"}};
  plan.scores = {texture};
  plan.occasions.front().measures = {"texture"};
  const auto today = std::get<TodayView>(view_of(tablet.model));
  const auto row = std::ranges::find(today.due, occasion("stand"), &DueRow::occasion);
  ASSERT_NE(row, today.due.end());
  EXPECT_EQ(row->name.own_names.at("texture"), "Leaf texture");
  tablet.open(grass_plan(), "stand");
  tablet.choose("texture", "2");
  tablet.settle();
  review("stand");
  EXPECT_EQ(tablet.review().own_names.at("texture"), "Leaf texture");
  look_at("101");
  tablet.tap(MendValue{tablet.ledger.back().id});
  tablet.tap(ChooseMended{"1"});
  const auto mend = std::get<MendView>(tablet.review().page);
  EXPECT_TRUE(mend.own_words);
  EXPECT_EQ(mend.choices.front().word, "soft");
}

}  // namespace
}  // namespace ligule::flow
