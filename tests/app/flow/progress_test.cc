#include "app/flow/progress.h"

#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

constexpr CalendarDate kToday = date::year{2026} / date::month{5} / date::day{4};

KnownTrial grass() {
  return {grass_plan(), "digest", {}};
}

KnownClaim value(const Uuid& subject, std::string_view measure, ValueState state,
                 CalendarDate on = kToday) {
  Record record;
  record.kind = kind::kReading;
  record.subject = subject;
  record.measure = measure;
  record.state = state;
  record.at.local_date = on;
  return {record, std::nullopt, record.id, 0};
}
Uuid plot(std::size_t at) {
  return grass_plan().plot(grass_plan().plots.at(at)).uuid;
}

TEST(Progress, OfACuttingCountsPlotsWithAWeight) {
  const std::vector<KnownClaim> claims{
      value(plot(0), "gross_weight", ValueState::kValue),
      value(plot(1), "gross_weight", ValueState::kLater),
      value(plot(2), "gross_weight", ValueState::kOnHold),
      value(plot(3), "gross_weight", ValueState::kMissing),
      value(plot(4), "bag_number", ValueState::kValue),
  };
  const auto progress =
      progress_of(grass(), grass_plan().occasions[1], test_definitions(), claims, kToday);
  EXPECT_EQ(progress.total, 6);
  // A weight is half of it: 101 and 103 have no bag yet. 201 has no weight to sample.
  EXPECT_EQ(progress.done, 1);
  EXPECT_EQ(progress.later, 1);
  EXPECT_THAT(progress.open_plots, ElementsAre("101", "102", "103", "202", "203"));
  EXPECT_THAT(progress.on_hold, ElementsAre(OpenItem{"103", "gross_weight", ""}));
  EXPECT_EQ(progress.values_today, 4) << "put off is no value";
}

TEST(Progress, NamesThePlotOfABagsValue) {
  KnownClaim bag = value(plot(1), "bag_number", ValueState::kValue);
  bag.first.uuid.bytes[0] = 7;
  KnownClaim dry = value(bag.first.uuid, "sample_dry", ValueState::kOnHold);
  dry.record.answers = {{"dry_over_fresh", "not_known"}};
  KnownClaim stray = dry;
  stray.record.subject->bytes[0] = 8;
  KnownClaim nobody = dry;
  nobody.record.subject.reset();
  const std::vector<KnownClaim> claims{bag, dry, stray, nobody};
  const auto progress =
      progress_of(grass(), grass_plan().occasions[1], test_definitions(), claims, kToday);
  EXPECT_THAT(progress.on_hold, ElementsAre(OpenItem{"102", "sample_dry", "dry_over_fresh"},
                                            OpenItem{"", "sample_dry", "dry_over_fresh"}));
}

TEST(Progress, QuestionedIsWhatWasAskedToday) {
  KnownClaim today = value(plot(0), "percent_stand", ValueState::kValue);
  today.record.answers = {{"before_sowing", "date_is_right"}};
  KnownClaim before = today;
  before.record.subject = plot(1);
  before.record.at.local_date = date::year{2026} / 5 / 3;
  const std::vector<KnownClaim> claims{today, before};
  const auto progress =
      progress_of(grass(), grass_plan().occasions[3], test_definitions(), claims, kToday);
  EXPECT_THAT(progress.questioned, ElementsAre(OpenItem{"101", "percent_stand", "before_sowing"}));
  EXPECT_EQ(progress.values_today, 1);
  EXPECT_EQ(progress.done, 2);
}

TEST(Progress, ACuttingWithoutMeasuresAsksForTheWeight) {
  EXPECT_THAT(
      measures_of(grass(), grass_plan().occasions[2], grass_plan().plots[0], test_definitions()),
      ElementsAre("gross_weight"));
  EXPECT_THAT(
      needed_of(grass(), grass_plan().occasions[1], grass_plan().plots[0], test_definitions()),
      ElementsAre("gross_weight"));
  EXPECT_THAT(
      needed_of(grass(), grass_plan().occasions[0], grass_plan().plots[0], test_definitions()),
      ElementsAre("percent_stand", "seedling_vigor", "maturity", "stubble_height"));
}

TEST(Progress, AnEntryIsWhatThePlotHolds) {
  KnownTrial trial = grass();
  const PlanPlot& first = trial.plan.plots[0];
  EXPECT_EQ(entry_of(trial, first)->code, "A");
  AsSown sown{trial.plan.plot(first), AsSownStatus::kHolds, trial.plan.entry(trial.plan.entries[2]),
              kToday, ""};
  trial.as_sown = {sown};
  EXPECT_EQ(entry_of(trial, first)->code, "C");
  trial.as_sown[0].holds = EntryId{};
  EXPECT_EQ(entry_of(trial, first), nullptr) << "an entry of no plan";
  trial.as_sown[0].status = AsSownStatus::kReseeded;
  EXPECT_EQ(entry_of(trial, first)->code, "A");
  trial.as_sown[0].status = AsSownStatus::kUnknown;
  EXPECT_EQ(entry_of(trial, first), nullptr);
  EXPECT_THAT(measures_of(trial, trial.plan.occasions[3], first, test_definitions()),
              ElementsAre("percent_stand"))
      << "still rated, on the planned species' scale";
}

TEST(Progress, AnAbandonedPlotCountsUntilItsDate) {
  KnownTrial trial = grass();
  trial.as_sown = {{trial.plan.plot(trial.plan.plots[0]), AsSownStatus::kAbandoned, std::nullopt,
                    kToday, "flood"}};
  EXPECT_EQ(plots_on(trial, kToday).size(), 5U);
  EXPECT_EQ(plots_on(trial, date::year{2026} / 5 / 3).size(), 6U);
}

TEST(Progress, AnOccasionForSomeEntriesNeedsOnlyTheirPlots) {
  KnownTrial trial = grass();
  PlanOccasion cutting = trial.plan.occasions[1];
  cutting.entries = {"A"};
  const auto open = [&] {
    return progress_of(trial, cutting, test_definitions(), {}, kToday).open_plots;
  };
  EXPECT_THAT(open(), ElementsAre("101", "202"));
  AsSown sown{trial.plan.plot(*trial.plan.find_plot("102")), AsSownStatus::kHolds,
              trial.plan.entry(trial.plan.entries[0]), kToday, ""};
  trial.as_sown = {sown};
  EXPECT_THAT(open(), ElementsAre("101", "102", "202")) << "what a plot really holds decides";
  trial.as_sown[0].status = AsSownStatus::kUnknown;
  EXPECT_THAT(open(), ElementsAre("101", "202")) << "of the unknown what was planned";
}

TEST(Progress, APlotWithoutAScaleTakesNoPart) {
  PlanOccasion maturity{"m", Job::kRate, 2026, 0, {"maturity"}, std::nullopt};
  const auto progress =
      progress_of({annual_plan(), "", {}}, maturity, test_definitions(), {}, kToday);
  EXPECT_EQ(progress.total, 0);
  EXPECT_THAT(progress.open_plots, IsEmpty());
}

}  // namespace
}  // namespace ligule::flow
