#include "sync/results/yields.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "storage/trial/as_sown.h"
#include "storage/trial/unit_names.h"
#include "sync/results/no_weight.h"
#include "sync/results/sown_yield.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::HasSubstr;

double pounds_per_acre(const PlotYield& row) {
  return row.yield ? *yield_in(*row.yield, "lb/acre") : -1.0;
}

// Maine bulletin, appendix E: 2.07 lb fresh from 9 ft2 at a dry-matter share of 0.25 is 2,505 lb an
// acre. Here the same per area, 13.8 lb from 60 ft2; the sample is 0.40 kg fresh, 0.10 dry, net.
TEST(Yields, AreMadeOfWeightsSampleAndSwath) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  const TrialYields yields = yields_of(trial.facts(), "T");
  ASSERT_EQ(yields.plots.size(), 4U);
  EXPECT_TRUE(yields.left_out.empty());
  const PlotYield& row = row_of(yields, "101");
  EXPECT_NEAR(pounds_per_acre(row), 13.8 * 0.25 * 43560.0 / 60.0, 1e-9);
  EXPECT_NEAR(pounds_per_acre(row), 2505.0, 0.5);
  EXPECT_EQ(row.entry, trial.facts().plan.find_entry("A")->label());
  EXPECT_EQ(row.records.size(), 4U);
  EXPECT_EQ(yields.plots[2].plot, "202");  // along the path, not by number
}

TEST(Yields, PlotValuesLieWhereThePlanHasTheirPlots) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  const TrialYields yields = yields_of(trial.facts(), "T");
  for (const auto& values : {plot_values(yields.plots, "ton/acre"),
                             sown_values(yields.plots, "ton/acre", SownBasis::kSeparated)}) {
    ASSERT_TRUE(values);
    ASSERT_EQ(values->size(), 4U);
    EXPECT_EQ((*values)[1].plot, "102");
    EXPECT_EQ((*values)[1].place, (PlotPlace{1, 2}));
    EXPECT_EQ((*values)[2].plot, "202");
    EXPECT_EQ((*values)[2].place, (PlotPlace{2, 2}));
    EXPECT_EQ((*values)[3].place, (PlotPlace{2, 1}));
  }
}

TEST(Yields, BagsOfAPlotAndTheirTaresAreAddedUp) {
  WeighedTrial trial;
  trial.weigh("101", "cut-1", 10.0, 0.45, 0.15);
  trial.reading(trial.plot("101"), measure::kGrossWeight, "cut-1", 5.8, "lb").part = 2;
  trial.reading(trial.plot("101"), measure::kTareWeight, "cut-1", 1.0, "lb");
  trial.reading(trial.plot("101"), measure::kTareWeight, "cut-1", 1.0, "lb").part = 2;
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_NEAR(pounds_per_acre(row_of(yields, "101")), 13.8 * 0.25 * 43560.0 / 60.0, 1e-9);
}

TEST(Yields, SamplesOfAPlotCountAsOne) {
  WeighedTrial trial;
  trial.weigh("101", "cut-1", 13.8, 0.45, 0.15);
  const RecordId second = trial.number_bag("101", "cut-1", 2);
  trial.reading(second.uuid, measure::kSampleFresh, "cut-1", 850, "g");
  trial.reading(second.uuid, measure::kSampleDry, "cut-1", 450, "g");
  const TrialYields yields = yields_of(trial.facts(), "T");
  // (0.10 + 0.40) / (0.40 + 0.80)
  EXPECT_NEAR(row_of(yields, "101").dry_matter.fraction->value(), 0.5 / 1.2, 1e-12);
}

TEST(Yields, AWeighedBagTareReplacesThePlans) {
  WeighedTrial trial;
  const RecordId bag = trial.weigh("101", "cut-1", 13.8, 0.45, 0.15);
  trial.reading(bag.uuid, measure::kBagTare, "cut-1", 100, "g");
  EXPECT_NEAR(row_of(yields_of(trial.facts(), "T"), "101").dry_matter.fraction->value(),
              0.05 / 0.35, 1e-12);
}

TEST(Yields, AMeasuredSwathReplacesThePlans) {
  WeighedTrial trial;
  trial.weigh("101", "cut-1", 13.8, 0.45, 0.15);
  trial.reading(trial.plot("101"), measure::kSwathLength, "cut-1", 10, "ft");
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_NEAR(row_of(yields, "101").area->value(), 30.0 * 0.3048 * 0.3048, 1e-12);
}

TEST(Yields, NothingThereIsAYieldOfZeroWithoutASample) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  Record& gross = trial.claim(trial.plot("101"), measure::kGrossWeight).record;
  gross.state = ValueState::kZero;
  gross.value.reset();
  EXPECT_EQ(row_of(yields_of(trial.facts(), "T"), "101").yield, KilogramsPerHectare(0.0));
}

// Weeds only: nothing of what was sown, the total as weighed.
TEST(Yields, WeedsOnlyIsAZeroWithATotal) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  trial.claim(trial.plot("101"), measure::kGrossWeight).record.details = R"({"weeds":"only"})";
  const TrialYields yields = yields_of(trial.facts(), "T");
  const PlotYield& row = row_of(yields, "101");
  EXPECT_EQ(row.yield, KilogramsPerHectare(0.0));
  ASSERT_TRUE(row.total);
  EXPECT_NEAR(*yield_in(*row.total, "lb/acre"), 13.8 * 0.25 * 43560.0 / 60.0, 1e-9);
  EXPECT_EQ(row_of(yields, "102").total, row_of(yields, "102").yield);
  EXPECT_EQ(no_weight_footings(yields.plots),
            (std::vector<Footing>{
                {"T", 2026, 1, "1 plot counts as zero: weeds only 1; none confirmed yet."}}));
  ASSERT_EQ(yields.notices.size(), 1U) << "for whoever answers for the trial to confirm";
  EXPECT_EQ(yields.notices.front().what, "1 plot counts as zero: weeds only");
}

// 13.8 lb in two bags, one of 9.2 lb of nothing but weeds: a third is left of what was sown.
TEST(Yields, OneBagOfWeedsIsNoPlotOfWeeds) {
  WeighedTrial trial;
  trial.weigh("101", "cut-1", 10.2, 0.45, 0.15);
  Record& weeds = trial.reading(trial.plot("101"), measure::kGrossWeight, "cut-1", 5.6, "lb");
  weeds.part = 2;
  trial.claim(trial.plot("101"), measure::kGrossWeight).record.details = R"({"weeds":"only"})";
  trial.reading(trial.plot("101"), measure::kTareWeight, "cut-1", 1.0, "lb");
  trial.reading(trial.plot("101"), measure::kTareWeight, "cut-1", 1.0, "lb").part = 2;
  const TrialYields yields = yields_of(trial.facts(), "T");
  const PlotYield& row = row_of(yields, "101");
  ASSERT_TRUE(row.total);
  const double all = 13.8 * 0.25 * 43560.0 / 60.0;
  EXPECT_NEAR(*yield_in(*row.total, "lb/acre"), all, 1e-9);
  EXPECT_NEAR(pounds_per_acre(row), all / 3, 1e-9);
  EXPECT_FALSE(row.no_weight);
  EXPECT_TRUE(no_weight_footings(yields.plots).empty());
}

TEST(Yields, EveryBagOfWeedsIsAZeroABagThatHeldNothingAside) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  for (const int part : {2, 3})
    trial.reading(trial.plot("101"), measure::kGrossWeight, "cut-1", 1.1, "lb").part = part;
  for (ledger::Claim& claim : trial.facts().claims) {
    if (claim.record.subject == trial.plot("101") && claim.record.measure == measure::kGrossWeight)
      claim.record.details = R"({"weeds":"only"})";
  }
  Record& none = trial.facts().claims.back().record;
  none.state = ValueState::kZero;
  none.value.reset();
  none.details.clear();
  const PlotYield row = row_of(yields_of(trial.facts(), "T"), "101");
  EXPECT_EQ(row.yield, KilogramsPerHectare(0.0));
  EXPECT_EQ(row.no_weight, (NoWeight{true, "weeds_only"}));
}

TEST(Yields, WeedsOnlySaidByOneOfTwoTabletsIsAConflict) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  Record weeds = trial.claim(trial.plot("101"), measure::kGrossWeight).record;
  weeds.id.uuid.bytes[0] = 0x77;
  weeds.details = R"({"weeds":"only"})";
  trial.facts().claims.push_back({weeds, 0});
  const PlotYield row = row_of(yields_of(trial.facts(), "T"), "101");
  EXPECT_FALSE(row.yield);
  EXPECT_EQ(row.why, "the gross weight stands in conflict");
}

// "80" and "80.0" say the same.
TEST(Yields, TwoThatWriteOneWeightInTwoWaysAgree) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  Record again = trial.claim(trial.plot("101"), measure::kGrossWeight).record;
  again.id.uuid.bytes[0] = 0x77;
  again.entered = "13.80";
  trial.facts().claims.push_back({again, 0});
  EXPECT_TRUE(row_of(yields_of(trial.facts(), "T"), "101").yield);
}

TEST(Yields, WeedsOnlyWithoutASampleIsAZeroOfAnUnknownTotal) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  trial.reading(trial.plot("101"), measure::kGrossWeight, "cut-2", 9.0, "lb").details =
      R"({"weeds":"only"})";
  const TrialYields yields = yields_of(trial.facts(), "T");
  const auto row = std::ranges::find_if(
      yields.plots, [](const PlotYield& each) { return each.plot == "101" && each.cutting == 2; });
  ASSERT_NE(row, yields.plots.end());
  EXPECT_EQ(row->yield, KilogramsPerHectare(0.0));
  EXPECT_FALSE(row->total);
  EXPECT_EQ(row->why, "");
}

TEST(Yields, ACuttingWithoutWeightsIsNotThereYet) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  for (const PlotYield& row : yields_of(trial.facts(), "T").plots) EXPECT_EQ(row.cutting, 1);
}

TEST(Yields, OnlySurveyValuesCount) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  Record& again = trial.reading(trial.plot("101"), measure::kGrossWeight, "cut-1", 99, "lb");
  again.purpose = Purpose::kRepeat;
  EXPECT_NEAR(pounds_per_acre(row_of(yields_of(trial.facts(), "T"), "101")), 2504.7, 0.01);
}

struct Spoiled {
  const char* name;
  std::function<void(WeighedTrial&)> how;
  const char* why;
  bool listed;  // a person has to decide something
};

class YieldsOfSpoiledPlots : public ::testing::TestWithParam<Spoiled> {};

TEST_P(YieldsOfSpoiledPlots, AreMissingAndSayWhy) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  GetParam().how(trial);
  const TrialYields yields = yields_of(trial.facts(), "T");
  const PlotYield& row = row_of(yields, "101");
  EXPECT_FALSE(row.yield);
  EXPECT_FALSE(row.entry.empty());
  EXPECT_THAT(row.why, HasSubstr(GetParam().why));
  EXPECT_TRUE(row_of(yields, "102").yield);
  EXPECT_EQ(yields.left_out.size(), GetParam().listed ? 1U : 0U);
  for (const Error& fault : yields.left_out) {
    EXPECT_EQ(fault.where, "T 2026 cutting 1 plot 101");
    EXPECT_FALSE(fault.mend.empty());
  }
}

void set_state(WeighedTrial& trial, std::string_view measure, ValueState state) {
  trial.claim(trial.plot("101"), measure).record.state = state;
}
Uuid bag_of_101(WeighedTrial& trial) {
  return trial.claim(trial.plot("101"), measure::kBagNumber).record.id.uuid;
}
void forget(WeighedTrial& trial, const Uuid& subject, std::string_view measure) {
  std::erase_if(trial.facts().claims, [&](const ledger::Claim& claim) {
    return claim.record.subject == subject && claim.record.measure == measure;
  });
}

INSTANTIATE_TEST_SUITE_P(
    Each, YieldsOfSpoiledPlots,
    ::testing::Values(
        Spoiled{"GrossOnHold",
                [](auto& trial) { set_state(trial, measure::kGrossWeight, ValueState::kOnHold); },
                "the gross weight is on hold", true},
        Spoiled{"GrossMissing",
                [](auto& trial) { set_state(trial, measure::kGrossWeight, ValueState::kMissing); },
                "the gross weight is missing", false},
        Spoiled{"GrossPutOff",
                [](auto& trial) { set_state(trial, measure::kGrossWeight, ValueState::kLater); },
                "the gross weight is missing", false},
        Spoiled{
            "GrossInConflict",
            [](auto& trial) { trial.claim(trial.plot("101"), measure::kGrossWeight).others = 1; },
            "the gross weight stands in conflict", true},
        Spoiled{"GrossNeverTaken",
                [](auto& trial) { forget(trial, trial.plot("101"), measure::kGrossWeight); },
                "no gross weight was recorded", false},
        Spoiled{"GrossInAnUnknownUnit",
                [](auto& trial) {
                  trial.claim(trial.plot("101"), measure::kGrossWeight).record.unit = "st";
                },
                "'st' is not a unit of weight", true},
        Spoiled{"UnderTare",
                [](auto& trial) {
                  trial.reading(trial.plot("101"), measure::kTareWeight, "cut-1", 20, "lb");
                },
                "the plot weighs less than its tare", true},
        Spoiled{"TareOnHold",
                [](auto& trial) {
                  trial.reading(trial.plot("101"), measure::kTareWeight, "cut-1", 2, "lb").state =
                      ValueState::kOnHold;
                },
                "the tare is on hold", true},
        Spoiled{"SwathOnHold",
                [](auto& trial) {
                  trial.reading(trial.plot("101"), measure::kSwathWidth, "cut-1", 2, "ft").state =
                      ValueState::kOnHold;
                },
                "the swath width is on hold", true},
        Spoiled{"SwathOfNoWidth",
                [](auto& trial) {
                  trial.reading(trial.plot("101"), measure::kSwathWidth, "cut-1", 0, "ft");
                },
                "the harvested area is not above zero", true},
        Spoiled{"NoBagAnywhere",
                [](auto& trial) {
                  forget(trial, trial.plot("101"), measure::kBagNumber);
                  for (const char* other : {"102", "201", "202"}) {
                    const auto& bag = trial.claim(trial.plot(other), measure::kBagNumber).record;
                    forget(trial, Uuid(bag.id.uuid), measure::kSampleDry);
                  }
                  trial.claim(trial.plot("102"), measure::kGrossWeight).record.state =
                      ValueState::kZero;
                },
                "no sample bag was recorded", false},
        Spoiled{"BagNumberInConflict",
                [](auto& trial) { trial.claim(trial.plot("101"), measure::kBagNumber).others = 1; },
                "the bag number stands in conflict", true},
        Spoiled{"StillInTheOven",
                [](auto& trial) { forget(trial, bag_of_101(trial), measure::kSampleDry); },
                "there is no dried sample weight", false},
        Spoiled{"NotWeighedFresh",
                [](auto& trial) { forget(trial, bag_of_101(trial), measure::kSampleFresh); },
                "there is no fresh sample weight", false},
        Spoiled{"DriedTwice",
                [](auto& trial) {
                  trial.reading(bag_of_101(trial), measure::kSampleDry, "cut-1", 0.15, "kg").part =
                      2;
                },
                "the dried sample weight stands more than once", true},
        Spoiled{"DriedHeavierThanFresh",
                [](auto& trial) {
                  trial.claim(bag_of_101(trial), measure::kSampleDry).record.value = 0.5;
                },
                "the dried sample weighs more than the fresh one", true},
        Spoiled{"BagTareOnHold",
                [](auto& trial) {
                  trial.reading(bag_of_101(trial), measure::kBagTare, "cut-1", 0.05, "kg").state =
                      ValueState::kOnHold;
                },
                "the sample bag's tare is on hold", true}),
    [](const auto& test) { return test.param.name; });

TEST(Yields, APlanWithoutAreaOrBagTareIsNamed) {
  WeighedTrial trial;
  trial.weigh("101", "cut-1", 13.8, 0.45, 0.15);
  trial.facts().plan.bag_tare = {};
  EXPECT_THAT(row_of(yields_of(trial.facts(), "T"), "101").why, HasSubstr("bag tare"));
  trial.facts().plan.swath_width = {"3", "yd"};
  EXPECT_THAT(row_of(yields_of(trial.facts(), "T"), "101").why, HasSubstr("swath width"));
}

TEST(Yields, ARenumberedBagKeepsItsWeights) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  ledger::Claim& standing = trial.claim(trial.plot("101"), measure::kBagNumber);
  const RecordId first = standing.record.id;
  standing.record.id.uuid.bytes[0] = 9;
  standing.record.kind = kind::kCorrection;
  standing.record.entered = "71";
  standing.record.targets = {first};
  trial.facts().bag_numbers.push_back(standing.record);
  EXPECT_TRUE(row_of(yields_of(trial.facts(), "T"), "101").yield);
}

TEST(Yields, ASettledBagIsTheOneTheSettlementAgreesWith) {
  WeighedTrial trial;
  const RecordId first = trial.weigh("101", "cut-1", 13.8, 0.45, 0.15);
  Record other = trial.facts().bag_numbers.front();
  other.id.uuid.bytes[0] = 7;
  other.entered = "99";
  trial.facts().bag_numbers.push_back(other);
  trial.reading(other.id.uuid, measure::kSampleFresh, "cut-1", 0.45, "kg");
  trial.reading(other.id.uuid, measure::kSampleDry, "cut-1", 0.25, "kg");
  Record& standing = trial.claim(trial.plot("101"), measure::kBagNumber).record;
  standing.id.uuid.bytes[0] = 9;
  standing.kind = kind::kSettlement;
  standing.targets = {first, other.id};
  standing.entered = "99";
  trial.facts().bag_numbers.push_back(standing);
  EXPECT_NEAR(row_of(yields_of(trial.facts(), "T"), "101").dry_matter.fraction->value(), 0.5,
              1e-12);
}

TEST(Yields, TwoTabletsThatAgreeOnTheBagUseTheOneThatWasWeighed) {
  WeighedTrial trial;
  trial.weigh("101", "cut-1", 13.8, 0.45, 0.15);
  trial.number_bag("101", "cut-1");  // the same number, from the other tablet, without weights
  EXPECT_TRUE(row_of(yields_of(trial.facts(), "T"), "101").yield);
  // When both weighed a bag nobody can say which is the sample.
  trial.reading(trial.facts().bag_numbers.back().id.uuid, measure::kSampleFresh, "cut-1", 1, "kg");
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_EQ(row_of(yields, "101").why, "two bags claim to be the sample");
  EXPECT_EQ(yields.left_out.size(), 1U);
}

TEST(Yields, UseWhatWasSown) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  trial.as_sown("101", AsSownStatus::kHolds, WeighedTrial::day(5, 1), "C");
  trial.as_sown("102", AsSownStatus::kAbandoned, WeighedTrial::day(5, 30));
  trial.as_sown("201", AsSownStatus::kUnknown, WeighedTrial::day(1, 1));
  trial.as_sown("202", AsSownStatus::kAbandoned, WeighedTrial::day(6, 2));  // after the cutting
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_EQ(row_of(yields, "101").entry, "Cedar");
  EXPECT_EQ(row_of(yields, "102").entry, "");
  EXPECT_EQ(row_of(yields, "102").why, "the plot was abandoned on 2026-05-30");
  EXPECT_EQ(row_of(yields, "201").entry, "");
  EXPECT_TRUE(row_of(yields, "202").yield);
  EXPECT_EQ(plot_values(yields.plots, "ton/acre")->size(), 2U);
}

// Common practice, no source: entries that are late are cut less often in a year.
TEST(Yields, ACuttingThatIsNotForAnEntryIsNeitherZeroNorMissing) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  trial.facts().plan.occasions[1].entries = {"A"};
  trial.weigh("101", "cut-2", 13.8, 0.45, 0.15);
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_EQ(yields.plots.size(), 6U) << "four plots of the first cutting, A's two of the second";
  EXPECT_TRUE(yields.notices.empty());
  EXPECT_EQ(row_of(yields, "202", 2).why, "no gross weight was recorded") << "A is cut";
  const auto values = plot_values(yields.plots, "ton/acre");
  ASSERT_TRUE(values);
  EXPECT_EQ(std::ranges::count(*values, "Birch", &PlotValue::entry), 2);
}

TEST(Yields, AnEntryIsCutForWhatThePlotReallyHolds) {
  WeighedTrial trial;
  trial.facts().plan.occasions[1].entries = {"A", "C"};
  trial.weigh("101", "cut-2", 13.8, 0.45, 0.15);
  trial.as_sown("201", AsSownStatus::kHolds, WeighedTrial::day(5, 1), "C");
  trial.as_sown("202", AsSownStatus::kUnknown, WeighedTrial::day(5, 1));
  const TrialYields yields = yields_of(trial.facts(), "T");
  ASSERT_EQ(yields.plots.size(), 3U);
  EXPECT_EQ(row_of(yields, "201", 2).entry, "Cedar");
  EXPECT_EQ(row_of(yields, "202", 2).entry, "") << "out of results, and says why";
}

TEST(Yields, AWeightOfAnEntryTheCuttingIsNotForCountsAndIsNamed) {
  WeighedTrial trial;
  trial.facts().plan.occasions[1].entries = {"A"};
  trial.weigh("101", "cut-2", 13.8, 0.45, 0.15);
  trial.weigh("102", "cut-2", 13.8, 0.45, 0.15);
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_TRUE(row_of(yields, "102", 2).yield);
  ASSERT_EQ(yields.notices.size(), 1U);
  EXPECT_EQ(yields.notices.front().where, "T 2026 cutting 2 plots 102");
  EXPECT_THAT(yields.notices.front().what, HasSubstr("for other entries"));
}

TEST(Yields, WeightsOfADroppedCuttingAreNamed) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  trial.facts().plan.occasions.erase(trial.facts().plan.occasions.begin());
  const TrialYields yields = yields_of(trial.facts(), "T");
  EXPECT_TRUE(yields.plots.empty());
  ASSERT_EQ(yields.left_out.size(), 1U);
  EXPECT_THAT(yields.left_out.front().what, HasSubstr("does not name"));
}

TEST(Yields, BecomePlotValuesInTheUnitAskedFor) {
  WeighedTrial trial;
  trial.weigh_all("cut-1");
  const TrialYields yields = yields_of(trial.facts(), "T");
  const auto tons = plot_values(yields.plots, "ton/acre");
  ASSERT_TRUE(tons);
  EXPECT_NEAR(*tons->front().value, 2504.7 / 2000.0, 1e-9);
  EXPECT_EQ(tons->front().cutting, "1");
  EXPECT_EQ(tons->front().rep, "1");
  EXPECT_EQ(tons->front().plot, "101");
  EXPECT_FALSE(plot_values(yields.plots, "bu/acre"));
  EXPECT_FALSE(plots_csv(yields.plots, "bu/acre"));
}

TEST(Yields, PlotsCsvHoldsWhatAYieldCanBeMadeAgainFrom) {
  WeighedTrial trial;
  trial.weigh("101", "cut-1", 10.0, 0.45, 0.15);
  const std::string text = *plots_csv(yields_of(trial.facts(), "T").plots, "kg/ha");
  EXPECT_THAT(text, HasSubstr("T,2026,1,1,101,Amber (novel),4.5359237,,5.5741824,0.2499"));
  EXPECT_THAT(text, HasSubstr("no gross weight was recorded"));
  for (const ledger::Claim& claim : trial.facts().claims) {
    EXPECT_THAT(text, HasSubstr(claim.record.id.text()));
  }
}

}  // namespace
}  // namespace ligule::results
