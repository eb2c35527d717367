#include "sync/results/composition.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/unit_names.h"
#include "sync/results/analysis.h"
#include "sync/results/sown_yield.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::Field;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

// A weighed trial whose samples are sorted. Bags weigh 50 g.
class SortedTrial : public WeighedTrial {
 public:
  RecordId bag(const std::string& plot_number, const std::string& cutting, int part) {
    Record& number = reading(plot(plot_number), measure::kPartBag, cutting, 0, "");
    number.entered = std::to_string(100 * part);
    number.value.reset();
    number.part = part;
    facts().bag_numbers.push_back(number);
    return number.id;
  }
  void nothing(const std::string& plot_number, const std::string& cutting, int part) {
    Record& none = reading(plot(plot_number), measure::kPartBag, cutting, 0, "");
    none.entered.clear();
    none.value.reset();
    none.part = part;
    none.state = ValueState::kZero;
  }
  // Dry weights of the parts without their bags, kg; below zero: nothing of it. Fresh is three
  // times as much.
  void sort(const std::string& plot_number, const std::string& cutting,
            const std::array<double, 5>& dry) {
    double fresh = 0;
    for (int part = 1; part <= 5; ++part) {
      const double weight = dry.at(static_cast<std::size_t>(part - 1));
      if (weight < 0) {
        nothing(plot_number, cutting, part);
        continue;
      }
      const RecordId id = bag(plot_number, cutting, part);
      reading(id.uuid, measure::kSampleFresh, cutting, 3 * weight + 0.05, "kg");
      reading(id.uuid, measure::kSampleDry, cutting, weight + 0.05, "kg");
      fresh += 3 * weight;
    }
    reading(plot(plot_number), measure::kSeparatedFresh, cutting, fresh + 0.05, "kg");
  }
  void see_weeds(const std::string& plot_number, const std::string& occasion, double percent,
                 CalendarDate on) {
    Record& seen = reading(plot(plot_number), measure::kWeedsByEye, occasion, percent, "%");
    seen.at.local_date = on;
  }
  [[nodiscard]] Composition of(const std::string& number, const std::string& cutting = "cut-1") {
    const auto made = maybe(number, cutting);
    EXPECT_TRUE(made.has_value());
    return made.value_or(Composition{});
  }
  [[nodiscard]] std::optional<Composition> maybe(const std::string& number,
                                                 const std::string& cutting = "cut-1") {
    const Plan& plan = facts().plan;
    const auto at = std::ranges::find(plan.occasions, cutting, &PlanOccasion::code);
    return composition_of(facts(), SettledValues(facts().claims), *plan.find_plot(number),
                          plan.occasion(*at));
  }
};

constexpr std::array<double, 5> kParts{0.06, -1, 0.02, 0.015, 0.005};  // 100 g: 60 0 20 15 5 %

// Percents of dry matter, by hand: 60 g of 100 g and so on.
TEST(CompositionOf, IsTheDryShareOfEachPart) {
  SortedTrial trial;
  trial.sort("101", "cut-1", kParts);
  const Composition made = trial.of("101");
  ASSERT_EQ(made.state, SampleState::kGood) << made.why;
  const std::array<double, 5> by_hand{60, 0, 20, 15, 5};
  for (std::size_t part = 0; part < by_hand.size(); ++part)
    EXPECT_NEAR(made.percent.at(part), by_hand.at(part), 1e-12) << part;
  EXPECT_NEAR(made.sown_share(), 0.6, 1e-14);
  EXPECT_NEAR(*made.parts_percent(), 100, 1e-10);
  EXPECT_THAT(made.bags, ElementsAre("100", "300", "400", "500"));
}

// Dry weights of hand-sorted pasture, g: quadrat ID1011485656 (ryegrass and clover, 2015-09-04) of
// the CSIRO pasture biomass data, huggingface.co/datasets/jatinmehra/CSIRO-Cleaned-Data: green
// 16.2751, clover 0, dead 31.9984, total 48.2735. The shares are of the published total.
TEST(CompositionOf, GivesTheSharesOfPublishedHandSortedPasture) {
  SortedTrial trial;
  trial.sort("101", "cut-1", {0.0162751, -1, -1, -1, 0.0319984});
  const Composition made = trial.of("101");
  EXPECT_NEAR(made.percent[0], 100 * 16.2751 / 48.2735, 1e-9);
  EXPECT_NEAR(made.percent[4], 100 * 31.9984 / 48.2735, 1e-9);
  EXPECT_EQ(made.percent[1], 0.0);
}

TEST(CompositionOf, IsNoneWhereNothingWasSorted) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  EXPECT_FALSE(trial.maybe("101"));
  Record& later = trial.reading(trial.plot("102"), measure::kPartBag, "cut-1", 0, "");
  later.state = ValueState::kLater;
  EXPECT_FALSE(trial.maybe("102"));
}

TEST(CompositionOf, NeedsAllFivePartsAndNamesTheOneThatIsMissing) {
  SortedTrial trial;
  trial.sort("101", "cut-1", kParts);
  std::erase_if(trial.facts().claims, [](const ledger::Claim& claim) {
    return claim.record.measure == measure::kPartBag && claim.record.part == 2;
  });
  const Composition made = trial.of("101");
  EXPECT_EQ(made.state, SampleState::kWaiting);
  EXPECT_EQ(made.why, "nothing is said of other sown");
}

TEST(CompositionOf, WaitsForTheOvenAndGuessesNothingForWhatIsLost) {
  SortedTrial trial;
  trial.sort("101", "cut-1", kParts);
  const auto dried = [&]() -> Record& {
    for (ledger::Claim& claim : trial.facts().claims) {
      if (claim.record.measure == measure::kSampleDry) return claim.record;
    }
    return trial.facts().claims.front().record;
  };
  dried().state = ValueState::kLater;
  EXPECT_EQ(trial.of("101").state, SampleState::kWaiting);
  EXPECT_EQ(trial.of("101").why, "there is no dried weight of sown");
  dried().state = ValueState::kMissing;
  dried().reason = "bag_burst";
  EXPECT_EQ(trial.of("101").state, SampleState::kLost);
  EXPECT_EQ(trial.of("101").why, "the dried weight of sown is missing: bag burst");
  dried().state = ValueState::kOnHold;
  EXPECT_EQ(trial.of("101").state, SampleState::kUndecided);
  EXPECT_EQ(trial.of("101").mend, "correct or settle it");
  dried().state = ValueState::kValue;
  dried().value = 0.049;  // its bag weighs 0.05
  EXPECT_EQ(trial.of("101").why, "the dried weight of sown is less than its bag's");
}

TEST(CompositionOf, FreshWeightsOnlyCheckIt) {
  SortedTrial trial;
  trial.sort("101", "cut-1", kParts);
  std::erase_if(trial.facts().claims, [](const ledger::Claim& claim) {
    return claim.record.measure == measure::kSampleFresh;
  });
  const Composition made = trial.of("101");
  EXPECT_EQ(made.state, SampleState::kGood);
  EXPECT_FALSE(made.parts_percent());
}

TEST(CompositionOf, ABagWithATareOfItsOwnUsesThat) {
  SortedTrial trial;
  trial.sort("101", "cut-1", {0.06, -1, -1, -1, 0.04});
  RecordId bag{};
  for (const ledger::Claim& claim : trial.facts().claims) {
    if (claim.record.measure == measure::kPartBag && claim.record.part == 1) bag = claim.record.id;
  }
  trial.reading(bag.uuid, measure::kBagTare, "cut-1", 70, "g");  // 20 g less of sown: 40 to 40
  EXPECT_NEAR(trial.of("101").percent[0], 50, 1e-12);
}

// total: 13.8 lb on 60 sq ft at 25 % dry matter; by hand 13.8 x 0.25 lb / 60 sq ft x 43560 sq ft an
// acre / 2000 lb = 1.252350 ton/acre. Sown and other sown 70 %: 0.876645.
TEST(SownYield, IsTotalTimesTheDryShareOfWhatWasSown) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  trial.sort("101", "cut-1", {0.06, 0.01, 0.02, 0.01, -1});
  const TrialYields made = yields_of(trial.facts(), "T");
  const auto values = sown_values(made.plots, "ton/acre", SownBasis::kSeparated);
  ASSERT_TRUE(values);
  EXPECT_NEAR(*values->front().value, 0.876645, 1e-12);
  EXPECT_FALSE((*values)[1].value) << "never silently the total";
  const auto totals = plot_values(made.plots, "ton/acre");
  EXPECT_NEAR(*totals->front().value, 1.25235, 1e-12) << "the total stays as weighed";
  EXPECT_EQ(sown_yield(row_of(made, "102"), SownBasis::kSeparated).why, "no sample was separated");
}

TEST(SownYield, OfWeedsOnlyAndOfNothingIsZero) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  trial.claim(trial.plot("101"), measure::kGrossWeight).record.details = R"({"weeds":"only"})";
  Record& dead = trial.claim(trial.plot("102"), measure::kGrossWeight).record;
  dead.state = ValueState::kZero;
  dead.value.reset();
  dead.reason = "winterkill";
  const TrialYields made = yields_of(trial.facts(), "T");
  for (const char* plot : {"101", "102"}) {
    const SownYield sown = sown_yield(row_of(made, plot), SownBasis::kSeparated);
    EXPECT_EQ(sown.from, SownFrom::kNothingSown);
    EXPECT_EQ(sown.yield->value(), 0.0);
  }
  EXPECT_FALSE(has_sown_yields(made.plots, SownBasis::kSeparated))
      << "zeros alone make no table of sown species";
}

// Half of what was cut is a bag of weeds only; of the other half 60 % was sown.
TEST(SownYield, TheSampleIsOfTheBagsThatHoldWhatWasSown) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  Record& weeds = trial.reading(trial.plot("101"), measure::kGrossWeight, "cut-1", 13.8, "lb");
  weeds.part = 2;
  weeds.details = R"({"weeds":"only"})";
  trial.sort("101", "cut-1", kParts);
  const TrialYields made = yields_of(trial.facts(), "T");
  const auto values = sown_values(made.plots, "ton/acre", SownBasis::kSeparated);
  EXPECT_NEAR(*values->front().value, 1.25235 * 0.6, 1e-12);
  EXPECT_NEAR(*yield_in(*row_of(made, "101").total, "ton/acre"), 2 * 1.25235, 1e-12);
}

TEST(SownYield, WeedsOnlyAndASampleWithSownPlantsContradictEachOther) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  trial.claim(trial.plot("101"), measure::kGrossWeight).record.details = R"({"weeds":"only"})";
  trial.sort("101", "cut-1", kParts);
  const TrialYields made = yields_of(trial.facts(), "T");
  EXPECT_FALSE(sown_yield(row_of(made, "101"), SownBasis::kSeparated).yield);
  EXPECT_THAT(
      made.notices,
      Contains(Field(&Error::what, "said to hold nothing sown, and its separated sample does")));
  SortedTrial agrees;
  agrees.weigh_all("cut-1");
  agrees.claim(agrees.plot("101"), measure::kGrossWeight).record.details = R"({"weeds":"only"})";
  agrees.sort("101", "cut-1", {-1, -1, 0.06, 0.04, -1});
  EXPECT_EQ(sown_yield(row_of(yields_of(agrees.facts(), "T"), "101"), SownBasis::kSeparated)
                .yield->value(),
            0.0);
}

TEST(SownYield, ASeasonTotalStandsOnlyWhereEveryCuttingHasIt) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  trial.weigh_all("cut-2");
  for (const char* plot : {"101", "102", "201", "202"}) trial.sort(plot, "cut-1", kParts);
  const auto total = [&]() -> std::optional<double> {
    const TrialYields made = yields_of(trial.facts(), "T");
    const auto values = sown_values(made.plots, "ton/acre", SownBasis::kSeparated);
    for (const Analysis& analysis : analyse(*values, {})) {
      if (analysis.span == Span::kYear) return analysis.mean;
    }
    return std::nullopt;
  };
  EXPECT_EQ(total(), std::nullopt) << "cutting 2 was not separated";
  for (const char* plot : {"101", "102", "201", "202"}) trial.sort(plot, "cut-2", kParts);
  ASSERT_TRUE(total());
  EXPECT_NEAR(*total(), 2 * 1.25235 * 0.6, 1e-12);
}

TEST(SownYield, WeedsByEyeAreNeverUsedUnlessAskedFor) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  trial.sort("102", "cut-1", kParts);
  for (const char* plot : {"101", "102"})
    trial.see_weeds(plot, "spring", 20, WeighedTrial::day(5, 20));
  const TrialYields made = yields_of(trial.facts(), "T");
  const PlotYield& seen = row_of(made, "101");
  EXPECT_EQ(sown_yield(seen, SownBasis::kSeparated).from, SownFrom::kNone);
  const SownYield by_eye = sown_yield(seen, SownBasis::kByEye);
  EXPECT_EQ(by_eye.from, SownFrom::kByEye);
  EXPECT_EQ(by_eye.yield->value(), seen.total->value() * 0.8);
  EXPECT_EQ(sown_yield(row_of(made, "102"), SownBasis::kByEye).from, SownFrom::kSeparated)
      << "what was separated goes before what was seen";
  const auto footings = sown_footings(made.plots, SownBasis::kByEye);
  EXPECT_THAT(footings,
              Contains(Field(&Footing::text, HasSubstr("Adjusted by eye: 1 plot (101)"))));
  for (const Footing& footing : sown_footings(made.plots, SownBasis::kSeparated))
    EXPECT_THAT(footing.text, ::testing::Not(HasSubstr("eye")));
}

TEST(SownYield, WhatIsInTheOvenIsNotReplacedByAnEye) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  trial.sort("101", "cut-1", kParts);
  trial.see_weeds("101", "cut-1", 20, WeighedTrial::day(6, 1));
  for (ledger::Claim& claim : trial.facts().claims) {
    if (claim.record.measure == measure::kSampleDry && claim.record.value == 0.06 + 0.05)
      claim.record.state = ValueState::kLater;
  }
  const auto waiting = yields_of(trial.facts(), "T");
  EXPECT_EQ(sown_yield(row_of(waiting, "101"), SownBasis::kByEye).from, SownFrom::kNone);
  for (ledger::Claim& claim : trial.facts().claims) {
    if (claim.record.state != ValueState::kLater) continue;
    claim.record.state = ValueState::kMissing;
    claim.record.reason = "bag_lost";
  }
  const auto lost = yields_of(trial.facts(), "T");
  EXPECT_EQ(sown_yield(row_of(lost, "101"), SownBasis::kByEye).from, SownFrom::kByEye);
}

TEST(WeedsByEyeOf, IsWhatWasSaidAtTheCuttingElseTheNewestSinceTheOneBefore) {
  SortedTrial trial;
  Plan& plan = trial.facts().plan;
  PlanOccasion summer = plan.occasions.back();
  summer.code = "summer";
  plan.occasions.push_back(summer);
  const OccasionId cutting = plan.occasion(plan.occasions[1]);
  const auto seen = [&](std::optional<CalendarDate> before) {
    return weeds_by_eye(trial.facts(), SettledValues(trial.facts().claims), *plan.find_plot("101"),
                        cutting, before, WeighedTrial::day(7, 1));
  };
  EXPECT_FALSE(seen({}));
  trial.see_weeds("101", "spring", 10, WeighedTrial::day(5, 1));
  EXPECT_EQ(seen({})->percent, 10);
  EXPECT_FALSE(seen(WeighedTrial::day(5, 1))) << "it was seen before the last cutting";
  EXPECT_EQ(seen(WeighedTrial::day(4, 30))->percent, 10);
  trial.see_weeds("101", "summer", 30, WeighedTrial::day(7, 1));
  EXPECT_EQ(seen({})->percent, 30);
  trial.claim(trial.plot("101"), measure::kWeedsByEye).record.at.local_date =
      WeighedTrial::day(7, 2);
  EXPECT_EQ(seen({})->percent, 30) << "what was seen after the cutting is of the next";
  trial.see_weeds("101", "cut-2", 5, WeighedTrial::day(7, 3));
  EXPECT_EQ(seen({})->percent, 5) << "said at the cutting";
}

TEST(CompositionNotices, NameWhatIsNotCompleteAndPartsThatAreOffTheWhole) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  trial.sort("101", "cut-1", kParts);
  trial.sort("102", "cut-1", kParts);
  // Parts are 0.3 kg fresh: 97 % of 0.3093 kg still passes, 96.9 % does not.
  trial.claim(trial.plot("101"), measure::kSeparatedFresh).record.value = 0.05 + 0.3 / 0.97;
  trial.claim(trial.plot("102"), measure::kSeparatedFresh).record.value = 0.05 + 0.3 / 0.969;
  const auto notices = [&] { return composition_notices(yields_of(trial.facts(), "T").plots); };
  EXPECT_THAT(notices(),
              ElementsAre(AllOf(Field(&Error::what, "the fresh parts come to 96.9 % of the whole"),
                                Field(&Error::where, "T 2026 cutting 1 plot 102"))));
  trial.claim(trial.plot("102"), measure::kSeparatedFresh).record.value = 0.05 + 0.3 / 1.031;
  EXPECT_THAT(notices(), ElementsAre(Field(&Error::what, HasSubstr("103.1 %"))));
  trial.claim(trial.plot("102"), measure::kSeparatedFresh).record.value = 0.05 + 0.3 / 1.03;
  EXPECT_THAT(notices(), IsEmpty());
}

TEST(EntryCompositions, AreMeansOverThePlotsThatHaveOne) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  trial.sort("101", "cut-1", kParts);                    // A: 60 % sown
  trial.sort("202", "cut-1", {0.08, -1, 0.02, -1, -1});  // A: 80 % sown
  trial.sort("102", "cut-1", {0.05, -1, -1, -1, 0.05});  // B
  const auto rows = entry_compositions(yields_of(trial.facts(), "T").plots);
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[0].plots, 2U);
  EXPECT_NEAR(rows[0].percent[0], 70, 1e-12);
  EXPECT_NEAR(rows[0].percent[2], 20, 1e-12);
  EXPECT_EQ(rows[1].plots, 1U);
  EXPECT_NEAR(rows[1].percent[4], 50, 1e-12);
}

TEST(CompositionCsv, HoldsWhatAShareWasMadeOfAndMarksWhatIsByEye) {
  SortedTrial trial;
  trial.weigh_all("cut-1");
  EXPECT_EQ(
      *composition_csv(yields_of(trial.facts(), "T").plots, "ton/acre", SownBasis::kSeparated), "");
  trial.sort("101", "cut-1", kParts);
  trial.see_weeds("102", "cut-1", 25, WeighedTrial::day(6, 1));
  const auto plots = yields_of(trial.facts(), "T").plots;
  const std::string apart = *composition_csv(plots, "ton/acre", SownBasis::kSeparated);
  EXPECT_THAT(apart, HasSubstr("test,year,cutting,rep,plot,entry,whole_fresh_kg,"));
  EXPECT_THAT(apart, HasSubstr("separated sample"));
  EXPECT_THAT(apart, HasSubstr("T,2026,1,1,102,Birch,,,,"));
  EXPECT_THAT(apart, ::testing::Not(HasSubstr("weeds by eye,")));
  const std::string by_eye = *composition_csv(plots, "ton/acre", SownBasis::kByEye);
  EXPECT_THAT(by_eye, HasSubstr(",weeds by eye,"));
  EXPECT_FALSE(composition_csv(plots, "stone/acre", SownBasis::kByEye));
}

}  // namespace
}  // namespace ligule::results
