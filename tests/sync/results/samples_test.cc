#include "sync/results/samples.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"
#include "sync/results/dry_matter_notes.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

const CalendarDate that_day = WeighedTrial::day(6, 1);
const CalendarDate next_day = WeighedTrial::day(6, 2);

Sample good(const std::string& plot, const std::string& entry, double fraction,
            CalendarDate day = that_day, const std::string& surface = "dry") {
  Sample sample;
  sample.plots = {plot};
  sample.bags = {"b" + plot};
  sample.entry = entry;
  sample.day = day;
  sample.surface = surface;
  sample.state = SampleState::kGood;
  sample.fraction = DryMatterFraction(fraction);
  return sample;
}

Sample without(const std::string& plot, const std::string& entry, SampleState state,
               const std::string& why) {
  Sample sample = good(plot, entry, 1.0);
  sample.bags.clear();
  sample.fraction.reset();
  sample.state = state;
  sample.why = why;
  return sample;
}

CutPlot cut(const std::string& plot, const std::string& entry = "Amber") {
  return {plot, entry, that_day, "dry"};
}

TEST(ChooseFraction, OwnSampleComesFirst) {
  const std::vector samples = {good("101", "Amber", 0.25), good("202", "Amber", 0.35)};
  const FractionUsed used = choose_fraction(cut("101"), samples);
  EXPECT_EQ(used.from, FractionFrom::kOwnSample);
  EXPECT_EQ(used.fraction, DryMatterFraction(0.25));
  EXPECT_THAT(used.bags, ElementsAre("b101"));
}

TEST(ChooseFraction, ThenTheMeanOfItsEntryThatDayOnThatSurface) {
  const std::vector samples = {good("102", "Birch", 0.90), good("202", "Amber", 0.20),
                               good("301", "Amber", 0.30), good("302", "Amber", 0.80, next_day),
                               good("401", "Amber", 0.80, that_day, "dew")};
  const FractionUsed used = choose_fraction(cut("101"), samples);
  EXPECT_EQ(used.from, FractionFrom::kEntryMean);
  EXPECT_DOUBLE_EQ(used.fraction->value(), 0.25);
  EXPECT_THAT(used.bags, ElementsAre("b202", "b301"));
  EXPECT_EQ(used.why, "no sample bag was recorded");
}

TEST(ChooseFraction, ThenTheMeanOfTheTrialThatDay) {
  const std::vector samples = {good("102", "Birch", 0.20),
                               good("201", "Cedar", 0.30, that_day, "dew"),
                               good("202", "Amber", 0.80, next_day)};
  const FractionUsed used = choose_fraction(cut("101"), samples);
  EXPECT_EQ(used.from, FractionFrom::kTrialMean);
  EXPECT_DOUBLE_EQ(used.fraction->value(), 0.25);
}

TEST(ChooseFraction, ElseNone) {
  const std::vector samples = {good("202", "Amber", 0.80, next_day)};
  const FractionUsed used = choose_fraction(cut("101"), samples);
  EXPECT_EQ(used.from, FractionFrom::kNone);
  EXPECT_FALSE(used.fraction);
  EXPECT_EQ(used.why, "no sample bag was recorded");
}

TEST(ChooseFraction, ALostSampleIsReplacedAndSaysWhy) {
  const std::vector samples = {
      without("101", "Amber", SampleState::kLost, "the dried sample weight is missing: bag burst"),
      good("202", "Amber", 0.20)};
  const FractionUsed used = choose_fraction(cut("101"), samples);
  EXPECT_EQ(used.from, FractionFrom::kEntryMean);
  EXPECT_EQ(used.why, "the dried sample weight is missing: bag burst");
}

TEST(ChooseFraction, WhatMayStillComeIsNotReplaced) {
  for (const SampleState state : {SampleState::kWaiting, SampleState::kUndecided}) {
    const std::vector samples = {without("101", "Amber", state, "not yet"),
                                 good("202", "Amber", 0.20)};
    const FractionUsed used = choose_fraction(cut("101"), samples);
    EXPECT_EQ(used.from, FractionFrom::kNone);
    EXPECT_EQ(used.why, "not yet");
  }
}

TEST(ChooseFraction, ASampleOfSeveralPlotsIsACompositeForEachOfThem) {
  Sample composite = good("101", "Amber", 0.25);
  composite.plots.emplace_back("202");
  const std::vector samples = {composite, good("301", "Amber", 0.35)};
  EXPECT_EQ(choose_fraction(cut("202"), samples).from, FractionFrom::kComposite);
  EXPECT_EQ(choose_fraction(cut("202"), samples).fraction, DryMatterFraction(0.25));
  // It is one sample in a mean, however many plots it was taken from.
  EXPECT_DOUBLE_EQ(choose_fraction(cut("401"), samples).fraction->value(), 0.30);
}

// Worked examples through records and samples. Moisture or dry matter as printed:
// https://extension.umaine.edu/livestock/pasture-course/lesson-1/appendix-e/ (plate 1 oz, 9 oz
// fresh, 3 oz dry: 25 %), http://www.anycalculator.com/haymoisture.htm (100 g, 86 g: 14 %
// moisture), http://studylib.net/doc/6613945/microwave-method (101 g, 85 g: 16 %),
// http://farmllc.org/microwave_1.html (100 g, 35 g: 35 % dry matter).
TEST(SamplesOf, GiveThePublishedFractions) {
  struct Published {
    const char* plot;
    double tare, fresh, dry;
    const char* unit;
    double percent;
  };
  WeighedTrial trial;
  for (const Published& of : {Published{"101", 1, 9, 3, "oz", 25},
                              {"102", 0, 100, 86, "g", 86},
                              {"201", 0, 101, 85, "g", 84},
                              {"202", 0, 100, 35, "g", 35}}) {
    const RecordId bag = trial.number_bag(of.plot, "cut-1");
    trial.reading(bag.uuid, measure::kBagTare, "cut-1", of.tare, of.unit);
    trial.reading(bag.uuid, measure::kSampleFresh, "cut-1", of.fresh, of.unit);
    trial.reading(bag.uuid, measure::kSampleDry, "cut-1", of.dry, of.unit);
    const TrialFacts& facts = trial.facts();
    const OccasionId cutting = facts.plan.occasion(facts.plan.occasions.front());
    const auto samples = samples_of(facts, SettledValues(facts.claims), cutting, that_day);
    const auto at = std::ranges::find_if(
        samples, [&](const Sample& sample) { return sample.plots.front() == of.plot; });
    ASSERT_NE(at, samples.end());
    ASSERT_TRUE(at->fraction) << at->why;
    EXPECT_NEAR(at->fraction->percent(), of.percent, 0.5) << of.plot;
  }
}

class SamplesOfATrial : public ::testing::Test {
 protected:
  SamplesOfATrial() { trial_.weigh_all("cut-1"); }

  [[nodiscard]] Uuid bag_of(const std::string& plot) {
    return trial_.claim(trial_.plot(plot), measure::kBagNumber).record.id.uuid;
  }
  void set(const std::string& plot, std::string_view measure, ValueState state,
           std::string_view reason = {}) {
    Record& record = trial_.claim(bag_of(plot), measure).record;
    record.state = state;
    record.reason = reason;
    if (state != ValueState::kValue) record.value.reset();
  }
  // Plots whose sample went into the bag of 101.
  void share(const std::vector<std::string>& plots) {
    const RecordId bag{bag_of("101")};
    for (const std::string& plot : plots) {
      Record& number = trial_.claim(trial_.plot(plot), measure::kBagNumber).record;
      number.details = details_text({{std::string(sample_bag::kSameBag), bag.text()}});
      for (Record& each : trial_.facts().bag_numbers) {
        if (each.id == number.id) each = number;
      }
    }
  }
  // The number of a plot's bag is put right: what stood is replaced, and still known.
  void correct_number(const std::string& plot, const std::string& number,
                      const std::string& details) {
    Record& standing = trial_.claim(trial_.plot(plot), measure::kBagNumber).record;
    Record right = standing;
    right.kind = kind::kCorrection;
    right.id.uuid.bytes[0] = 0xEE;
    right.targets = {standing.id};
    right.entered = number;
    right.details = details;
    trial_.facts().bag_numbers.push_back(right);
    standing = right;
  }
  [[nodiscard]] PlotYield row(const std::string& plot) const {
    for (const PlotYield& each : yields().plots) {
      if (each.plot == plot) return each;
    }
    return {};
  }
  [[nodiscard]] TrialYields yields() const { return yields_of(trial_.facts(), "T"); }
  [[nodiscard]] std::string footing() const {
    const auto footings = dry_matter_footings(yields().plots);
    return footings.empty() ? std::string() : footings.front().text;
  }

  WeighedTrial trial_;
};

TEST_F(SamplesOfATrial, AllOwnIsSaidInOneLine) {
  EXPECT_EQ(footing(), "Dry matter: 4 plots by their own samples.");
  EXPECT_TRUE(yields().notices.empty());
  EXPECT_EQ(row("101").dry_matter.from, FractionFrom::kOwnSample);
}

TEST_F(SamplesOfATrial, ABurstBagTakesTheMeanOfItsEntryAndIsNamed) {
  trial_.claim(bag_of("202"), measure::kSampleDry).record.value = 0.25;
  set("101", measure::kSampleDry, ValueState::kMissing, sample_bag::kBurst);
  const PlotYield of = row("101");
  EXPECT_EQ(of.dry_matter.from, FractionFrom::kEntryMean);
  EXPECT_DOUBLE_EQ(of.dry_matter.fraction->value(), 0.5);  // 202's, the same entry
  EXPECT_TRUE(of.yield);
  EXPECT_EQ(of.dry_matter.why, "the dried sample weight is missing: bag burst");
  EXPECT_EQ(footing(),
            "Dry matter: 3 plots by their own samples, 1 plot by the mean of the entry's samples "
            "of that day (101).");
  const auto notices = yields().notices;
  ASSERT_EQ(notices.size(), 1U);
  EXPECT_EQ(notices.front().where, "T 2026 cutting 1 plots 101");
  EXPECT_THAT(notices.front().what, HasSubstr("the mean of the entry's samples"));
  // The table says so too, and which bag it was.
  EXPECT_THAT(
      *plots_csv(yields().plots, "ton/acre"),
      HasSubstr(",entry mean of the day,17,the dried sample weight is missing: bag burst,"));
}

TEST_F(SamplesOfATrial, WithoutItsEntrysSamplesTheTrialsMeanOfTheDay) {
  set("101", measure::kSampleDry, ValueState::kMissing, sample_bag::kLost);
  set("202", measure::kSampleFresh, ValueState::kMissing);
  EXPECT_EQ(row("101").dry_matter.from, FractionFrom::kTrialMean);
  EXPECT_EQ(row("202").dry_matter.why, "the fresh sample weight is missing");
  EXPECT_THAT(footing(), HasSubstr("2 plots by the mean of the trial's samples of that day (101, "
                                   "202)."));
}

TEST_F(SamplesOfATrial, AnotherDayOrSurfaceIsNoSampleOfTheSame) {
  Record run;
  run.kind = kind::kHarvestRun;
  run.id.uuid.bytes[0] = 40;
  run.at.local_date = next_day;
  run.details = details_text({{"machine", "north"}, {"surface", "dew"}});
  trial_.facts().runs.push_back(run);
  trial_.claim(trial_.plot("202"), measure::kGrossWeight).record.run = run.id;
  set("101", measure::kSampleDry, ValueState::kMissing, sample_bag::kLost);
  EXPECT_EQ(row("101").dry_matter.from, FractionFrom::kTrialMean);
  run.at.local_date = that_day;  // the day alone agrees now
  trial_.facts().runs.front() = run;
  EXPECT_EQ(row("101").dry_matter.from, FractionFrom::kTrialMean);
  run.details = details_text({{"machine", "north"}});
  trial_.facts().runs.front() = run;
  EXPECT_EQ(row("101").dry_matter.from, FractionFrom::kEntryMean);
}

TEST_F(SamplesOfATrial, WhatThePlotHoldsDecidesWhoseSampleItIs) {
  trial_.as_sown("202", AsSownStatus::kHolds, WeighedTrial::day(5, 1), "B");
  set("101", measure::kSampleDry, ValueState::kMissing, sample_bag::kLost);
  EXPECT_EQ(row("101").dry_matter.from, FractionFrom::kTrialMean);
  trial_.as_sown("102", AsSownStatus::kUnknown, WeighedTrial::day(5, 1));
  // Of 102 nobody can say what was in the bag: 201 and 202 remain.
  trial_.claim(bag_of("102"), measure::kSampleDry).record.value = 0.45;
  EXPECT_DOUBLE_EQ(row("101").dry_matter.fraction->value(), 0.25);
}

TEST_F(SamplesOfATrial, OneOfTwoBagsLostLeavesTheOther) {
  const RecordId second = trial_.number_bag("101", "cut-1", 2);
  trial_.reading(second.uuid, measure::kSampleFresh, "cut-1", 850, "g");
  trial_.reading(second.uuid, measure::kSampleDry, "cut-1", 450, "g");
  set("101", measure::kSampleDry, ValueState::kMissing, sample_bag::kBurst);
  EXPECT_EQ(row("101").dry_matter.from, FractionFrom::kOwnSample);
  EXPECT_DOUBLE_EQ(row("101").dry_matter.fraction->value(), 0.5);
}

TEST_F(SamplesOfATrial, ACompositeIsOneSampleAndSaysItIsNotReplicated) {
  const Uuid bag = bag_of("101");
  share({"102", "201", "202"});
  trial_.claim(bag, measure::kSampleDry).record.value = 0.25;
  for (const char* plot : {"101", "102", "201", "202"}) {
    EXPECT_EQ(row(plot).dry_matter.from, FractionFrom::kComposite) << plot;
    EXPECT_DOUBLE_EQ(row(plot).dry_matter.fraction->value(), 0.5) << plot;
  }
  EXPECT_EQ(footing(),
            "Dry matter: 4 plots by a composite sample (101, 102, 202, 201). Dry matter was not "
            "replicated: 1 composite sample stands for several plots.");
}

// Dried, emptied and filled again: one number on two bags of a cutting.
TEST_F(SamplesOfATrial, TwoCompositesOfOneNumberAreTwo) {
  const auto into = [&](const std::string& plot, const std::string& first) {
    correct_number(
        plot, "17",
        details_text({{std::string(sample_bag::kSameBag), RecordId{bag_of(first)}.text()}}));
  };
  into("102", "101");
  into("201", "202");
  for (const char* plot : {"101", "102", "201", "202"})
    EXPECT_EQ(row(plot).dry_matter.from, FractionFrom::kComposite) << plot;
  EXPECT_THAT(footing(), HasSubstr("2 composite samples stand for several plots"));
}

TEST_F(SamplesOfATrial, AMemberThatWasGivenAnotherNumberHasABagOfItsOwn) {
  const Uuid own = bag_of("202");
  share({"102", "201", "202"});
  correct_number("202", "8", "");
  trial_.claim(own, measure::kSampleDry).record.value = 0.25;
  EXPECT_EQ(row("202").dry_matter.from, FractionFrom::kOwnSample);
  EXPECT_DOUBLE_EQ(row("202").dry_matter.fraction->value(), 0.5);
  EXPECT_EQ(row("201").dry_matter.from, FractionFrom::kComposite);
}

TEST_F(SamplesOfATrial, ANumberPutRightAtOnePlotLeavesTheCompositeWhole) {
  share({"102", "201", "202"});
  correct_number("101", "19", "");
  for (const char* plot : {"101", "102", "201", "202"})
    EXPECT_EQ(row(plot).dry_matter.from, FractionFrom::kComposite) << plot;
  EXPECT_THAT(footing(), HasSubstr("1 composite sample stands for several plots"));
}

// Whichever plot of it stands first on the path.
TEST_F(SamplesOfATrial, ACompositeWithAPlotOfWeedsIsStillASample) {
  for (const char* weeds : {"101", "202"}) {
    SCOPED_TRACE(weeds);
    trial_ = WeighedTrial();
    trial_.weigh_all("cut-1");
    share({"202"});
    trial_.claim(trial_.plot(weeds), measure::kGrossWeight).record.details = R"({"weeds":"only"})";
    for (const char* plot : {"102", "201"})
      set(plot, measure::kSampleDry, ValueState::kMissing, sample_bag::kLost);
    EXPECT_EQ(row("102").dry_matter.from, FractionFrom::kTrialMean);
  }
}

TEST_F(SamplesOfATrial, OfTwoBagsTheOneToDecideOnIsToldFirst) {
  set("101", measure::kSampleDry, ValueState::kLater);
  const RecordId second = trial_.number_bag("101", "cut-1", 2);
  trial_.reading(second.uuid, measure::kSampleFresh, "cut-1", 0.45, "kg").state =
      ValueState::kOnHold;
  EXPECT_EQ(row("101").why, "the fresh sample weight is on hold");
  EXPECT_EQ(yields().left_out.size(), 1U);
}

TEST_F(SamplesOfATrial, HowSamplesWereTakenAndDriedIsSaid) {
  const auto said = [&] {
    const auto footings = sampling_footings(trial_.facts(), "T", yields().plots);
    return footings.empty() ? std::string() : footings.front().text;
  };
  EXPECT_EQ(said(), "Bag tare 0.05 kg; whether weighed wet or oven-dry is not stated.");
  Plan& plan = trial_.facts().plan;
  plan.bag_tare_weighed = BagWeighed::kOvenDry;
  plan.occasions.front().sample_of = SampleOf::kEntry;
  const auto dry = [&](const char* plot, const char* celsius) {
    trial_.claim(bag_of(plot), measure::kSampleDry).record.details =
        details_text({{std::string(sample_bag::kOvenCelsius), celsius},
                      {std::string(sample_bag::kOvenHours), "48"}});
  };
  for (const char* plot : {"101", "102", "201", "202"}) dry(plot, "60");
  EXPECT_EQ(said(),
            "Samples were taken by entry. Bag tare 0.05 kg, weighed oven-dry. Dried at 60 \u00B0C "
            "for 48 hours.");
  dry("202", "65");
  EXPECT_THAT(said(), HasSubstr("Dried at 60 \u00B0C for 48 hours: 3 bags; at 65 \u00B0C for 48 "
                                "hours: 1 bag."));
}

TEST_F(SamplesOfATrial, APlotWithoutAWeightStillGivesItsSample) {
  trial_.claim(trial_.plot("202"), measure::kGrossWeight).record.state = ValueState::kMissing;
  set("101", measure::kSampleDry, ValueState::kMissing, sample_bag::kLost);
  EXPECT_EQ(row("101").dry_matter.from, FractionFrom::kEntryMean);
}

}  // namespace
}  // namespace ligule::results
