#include "storage/trial/plan.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "storage/trial/details.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule {
namespace {

using testing::StartsWith;

TEST(PlanEntry, ItsLabelTellsEndophyteStatusesApart) {
  PlanEntry entry{"A", "tall_fescue", "Alder Brook", Endophyte::kNotStated, "", EntryRole::kTest,
                  ""};
  EXPECT_EQ(entry.label(), "Alder Brook");
  entry.endophyte = Endophyte::kNovel;
  EXPECT_EQ(entry.label(), "Alder Brook (novel)");
  entry.strain = "AX1";
  EXPECT_EQ(entry.label(), "Alder Brook (novel AX1)");
  entry.endophyte = Endophyte::kToxic;
  EXPECT_EQ(entry.label(), "Alder Brook (toxic AX1)");
  entry.strain.clear();
  EXPECT_EQ(entry.label(), "Alder Brook (toxic)");
  entry.endophyte = Endophyte::kFree;
  EXPECT_EQ(entry.label(), "Alder Brook (endophyte-free)");
}

TEST(PlanNames, ReadBackAndNothingElse) {
  for (const Endophyte e :
       {Endophyte::kNotStated, Endophyte::kNovel, Endophyte::kFree, Endophyte::kToxic})
    EXPECT_EQ(parse_endophyte(name_of(e)), e);
  for (const EntryRole r : {EntryRole::kTest, EntryRole::kCheck, EntryRole::kFiller})
    EXPECT_EQ(parse_role(name_of(r)), r);
  for (const Job j : {Job::kRate, Job::kHarvest}) EXPECT_EQ(parse_job(name_of(j)), j);
  for (const SampleOf of : {SampleOf::kPlot, SampleOf::kEntry, SampleOf::kTrial})
    EXPECT_EQ(parse_sample_of(name_of(of)), of);
  for (const BagWeighed weighed :
       {BagWeighed::kNotStated, BagWeighed::kOvenDry, BagWeighed::kAirDry, BagWeighed::kWet})
    EXPECT_EQ(parse_bag_weighed(name_of(weighed)), weighed);
  EXPECT_EQ(parse_endophyte("Novel").error().what,
            "'Novel' is not one of: not stated, novel, free, toxic");
  EXPECT_EQ(parse_role("").error().what, "'' is not one of: test, check, filler");
  EXPECT_EQ(parse_job("mow").error().what, "'mow' is not one of: rate, harvest");
}

TEST(Plan, FindsItsPartsByCodeAndById) {
  const Plan plan = sample_plan();
  EXPECT_EQ(plan.find_entry("B")->strain, "");
  EXPECT_EQ(plan.find_entry("Z"), nullptr);
  EXPECT_EQ(plan.find_plot("203")->block, 2);
  EXPECT_EQ(plan.find_plot("999"), nullptr);
  EXPECT_EQ(plan.find_plot(plan.plot(plan.plots[4])), &plan.plots[4]);
  EXPECT_EQ(plan.find_plot(PlotId{}), nullptr);
  for (const PlanOccasion& occasion : plan.occasions)
    EXPECT_EQ(plan.find_occasion(plan.occasion(occasion)), &occasion);
  EXPECT_EQ(plan.find_occasion(OccasionId{}), nullptr);
}

TEST(Plan, ACuttingIsNamedByYearAndNumberARatingByItsCode) {
  Plan plan = sample_plan();
  PlanOccasion cut = plan.occasions[1];
  const OccasionId before = plan.occasion(cut);
  cut.code = "renamed";
  EXPECT_EQ(plan.occasion(cut), before) << "renaming a cutting orphans no record";
  EXPECT_EQ(before, cutting_id(plan.id(), 2025, 1));
  EXPECT_EQ(plan.occasion(plan.occasions[0]), rating_id(plan.id(), "2025-spring-stand"));
}

TEST(Plan, IdsDependOnCodesNeverOnContent) {
  const Plan plan = sample_plan();
  Plan revised = plan;
  revised.title = "another";
  revised.plots[0].entry = "B";
  EXPECT_EQ(revised.id(), plan.id());
  EXPECT_EQ(revised.plot(revised.plots[0]), plan.plot(plan.plots[0]));
  EXPECT_EQ(revised.site(), plan.site());
}

TEST(StatedSize, ReadsNumberAndUnit) {
  EXPECT_EQ((StatedLength{"20", "ft"}).metres().value().value(), 6.096);
  EXPECT_EQ((StatedMass{"12", "g"}).kilograms().value().value(), 0.012);
  EXPECT_FALSE((StatedLength{}).metres().has_value());
  EXPECT_FALSE((StatedLength{"20", "yd"}).metres().has_value());
  EXPECT_FALSE((StatedLength{"x", "ft"}).metres().has_value());
  EXPECT_FALSE((StatedMass{"", "g"}).kilograms().has_value());
  EXPECT_FALSE((StatedMass{"1", ""}).kilograms().has_value());
}

TEST(PlanText, ReadsBackTheSameUpToOrder) {
  const Plan plan = sample_plan();
  const Plan again = parse_plan_text(plan_text(plan)).value();
  EXPECT_EQ(again.entries, plan.entries);
  EXPECT_EQ(again.plots, plan.along_path());
  EXPECT_EQ(again.codes, plan.codes);
  EXPECT_EQ(again.site_name, plan.site_name);
  EXPECT_EQ(again.sown, plan.sown);
  EXPECT_EQ(again.swath_width, plan.swath_width);
  EXPECT_EQ(again.drilled, plan.drilled);
  EXPECT_EQ(plan_text(again), plan_text(plan));
}

TEST(PlanText, KeepsEveryField) {
  // Each change of one field must show in the text, or two plans would share a digest.
  const std::string text = plan_text(sample_plan());
  const std::vector<void (*)(Plan&)> changes{
      [](Plan& p) { p.codes.station = "X"; },
      [](Plan& p) { p.codes.site = "X"; },
      [](Plan& p) { p.codes.trial = "X"; },
      [](Plan& p) { p.title = "X"; },
      [](Plan& p) { p.site_name = "X"; },
      [](Plan& p) { p.zone = "X"; },
      [](Plan& p) { p.field = "X"; },
      [](Plan& p) { p.sown = date::year{2024} / 9 / 4; },
      [](Plan& p) { p.design = "crd"; },
      [](Plan& p) { p.drilled = false; },
      [](Plan& p) { p.plot_length.text = "21"; },
      [](Plan& p) { p.plot_width.unit = "m"; },
      [](Plan& p) { p.swath_length.text = "1"; },
      [](Plan& p) { p.swath_width.unit = "ft"; },
      [](Plan& p) { p.bag_tare.text = "1"; },
      [](Plan& p) { p.parent = "X"; },
      [](Plan& p) { p.reason = "X"; },
      [](Plan& p) { p.entries[0].code = "X"; },
      [](Plan& p) { p.entries[0].species = "X"; },
      [](Plan& p) { p.entries[0].variety = "X"; },
      [](Plan& p) { p.entries[0].endophyte = Endophyte::kToxic; },
      [](Plan& p) { p.entries[0].strain = "X"; },
      [](Plan& p) { p.entries[0].role = EntryRole::kFiller; },
      [](Plan& p) { p.entries[0].seed_lot = "X"; },
      [](Plan& p) { p.entries[0].endophyte_percent = "1"; },
      [](Plan& p) { p.entries[0].endophyte_tested = date::year{2024} / 7 / 1; },
      [](Plan& p) { p.entries[0].seed_harvested.reset(); },
      [](Plan& p) { p.entries[0].germination = "1"; },
      [](Plan& p) { p.entries[0].hard_seed = "1"; },
      [](Plan& p) { p.entries[0].purity = "1"; },
      [](Plan& p) { p.entries.pop_back(); },
      [](Plan& p) { p.plots[0].number = "X"; },
      [](Plan& p) { p.plots[0].block = 9; },
      [](Plan& p) { p.plots[0].entry = "B"; },
      [](Plan& p) { p.plots[0].row = 9; },
      [](Plan& p) { p.plots[0].column = 9; },
      [](Plan& p) { p.plots[0].path = 99; },
      [](Plan& p) { p.plots[0].incomplete_block = 1; },
      [](Plan& p) { p.entries[0].sowing_rate = "1"; },
      [](Plan& p) { p.entries[0].sowing_rate_unit = "kg/ha"; },
      [](Plan& p) { p.random_seed = "1"; },
      [](Plan& p) {
        p.alley = {"1", "ft"};
      },
      [](Plan& p) {
        p.border = {"1", "ft"};
      },
      [](Plan& p) { p.soil.emplace_back(); },
      [](Plan& p) { p.occasions[0].code = "X"; },
      [](Plan& p) { p.occasions[0].job = Job::kHarvest; },
      [](Plan& p) { p.occasions[0].year = 2026; },
      [](Plan& p) { p.occasions[1].cutting = 3; },
      [](Plan& p) { p.occasions[0].measures.pop_back(); },
      [](Plan& p) { std::ranges::reverse(p.occasions[0].measures); },
      [](Plan& p) { p.occasions[0].due.reset(); },
  };
  for (std::size_t i = 0; i < changes.size(); ++i) {
    Plan plan = sample_plan();
    changes[i](plan);
    EXPECT_NE(plan_text(plan), text) << "change " << i;
    EXPECT_EQ(plan_text(parse_plan_text(plan_text(plan)).value()), plan_text(plan)) << i;
  }
}

TEST(PlanText, OrderOfRowsDoesNotMatter) {
  const std::string text = plan_text(sample_plan());
  std::mt19937 random(3);
  for (int i = 0; i < 20; ++i) {
    Plan plan = sample_plan();
    std::ranges::shuffle(plan.entries, random);
    std::ranges::shuffle(plan.plots, random);
    std::ranges::shuffle(plan.occasions, random);
    EXPECT_EQ(plan_text(plan), text);
  }
}

TEST(PlanText, HasSortedKeysAndNoWhiteSpaceOfItsOwn) {
  Plan plan;
  plan.sown = date::year{2024} / 9 / 3;
  EXPECT_EQ(
      plan_text(plan),
      R"({"bag_tare":["",""],"design":"","drilled":true,"entries":[],"field":"","occasions":[],)"
      R"("parent":"","plot_length":["",""],"plot_width":["",""],"plots":[],"reason":"","site":"",)"
      R"("site_name":"","sown":"2024-09-03","station":"","swath_length":["",""],)"
      R"("swath_width":["",""],"title":"","trial":"","zone":""})");
}

// Plans from before these members keep their digest: what says nothing is left out.
TEST(PlanText, SamplesAndHowATareWasWeighedStandOnlyWhereTheySaySomething) {
  Plan plan = sample_plan();
  const std::string before = plan_text(plan);
  EXPECT_EQ(before.find("sample_of"), std::string::npos);
  EXPECT_EQ(before.find("bag_tare_weighed"), std::string::npos);
  const auto harvest = std::ranges::find(plan.occasions, Job::kHarvest, &PlanOccasion::job);
  harvest->sample_of = SampleOf::kEntry;
  harvest->entries = {"B", "A"};
  plan.bag_tare_weighed = BagWeighed::kOvenDry;
  const auto read = parse_plan_text(plan_text(plan));
  ASSERT_TRUE(read);
  EXPECT_EQ(read->bag_tare_weighed, BagWeighed::kOvenDry);
  const auto again = std::ranges::find(read->occasions, Job::kHarvest, &PlanOccasion::job);
  EXPECT_EQ(again->entries, harvest->entries);
  EXPECT_EQ(plan_text(*read), plan_text(plan));
}

TEST(PlanText, HoursAfterTurnInStandOnlyWhereTheyAreStated) {
  Plan plan = sample_plan();
  EXPECT_EQ(plan_text(plan).find("hours_after_turn_in"), std::string::npos);
  plan.occasions[0].hours_after_turn_in = "0.5";
  EXPECT_NE(plan_text(plan).find(
                R"("due":"2025-04-10","hours_after_turn_in":"0.5","job":"rate","measures":)"),
            std::string::npos)
      << plan_text(plan);
  const auto read = parse_plan_text(plan_text(plan));
  ASSERT_TRUE(read);
  EXPECT_EQ(read->find_occasion(plan.occasion(plan.occasions[0]))->hours_after_turn_in, "0.5");
  EXPECT_EQ(plan_text(*read), plan_text(plan));
}

TEST(PlanText, WhatIsKnownOfSeedStandsOnlyWhereSomethingIs) {
  Plan plan = sample_plan();
  plan.entries.resize(1);
  plan.entries[0].seed_harvested.reset();
  EXPECT_NE(plan_text(plan).find(
                R"("entries":[{"code":"A","endophyte":"novel","role":"test","seed_lot":"L1",)"
                R"("species":"tall_fescue","strain":"AX1","variety":"Alder Brook"}])"),
            std::string::npos)
      << plan_text(plan);
  PlanEntry& entry = plan.entries[0];
  entry.endophyte_percent = "92";
  entry.endophyte_tested = date::year{2024} / 8 / 1;
  entry.seed_harvested = date::year{2024} / 6 / 28;
  entry.germination = "88.5";
  entry.hard_seed = "2";
  entry.purity = "99";
  EXPECT_NE(plan_text(plan).find(
                R"("entries":[{"code":"A","endophyte":"novel","endophyte_percent":"92",)"
                R"("endophyte_tested":"2024-08-01","germination":"88.5","hard_seed":"2",)"
                R"("purity":"99","role":"test","seed_harvested":"2024-06-28","seed_lot":"L1",)"),
            std::string::npos)
      << plan_text(plan);
  EXPECT_EQ(parse_plan_text(plan_text(plan)).value().entries, plan.entries);
}

TEST(PlanText, ReadingNamesThePartAtFault) {
  const std::string text = plan_text(sample_plan());
  const struct {
    const char* from;
    const char* to;
    const char* where;
  } cases[] = {
      {R"("sown":"2024-09-03")", R"("sown":"soon")", "plan.sown"},
      {R"("endophyte":"free")", R"("endophyte":"maybe")", "entries 2.endophyte"},
      {R"("role":"check")", R"("role":"")", "entries 3.role"},
      {R"("seed_harvested":"2024-06-28")", R"("seed_harvested":"June")",
       "entries 1.seed_harvested"},
      {R"("seed_harvested":"2024-06-28")", R"("purity":99)", "entries 1"},
      {R"("job":"harvest")", R"("job":"mow")", "occasions 2.job"},
      {R"("job":"harvest")", R"("hours_after_turn_in":4,"job":"harvest")", "occasions 2"},
      {R"("due":"2025-05-20")", R"("due":"May")", "occasions 2.due"},
      {R"("drilled":true)", R"("drilled":1)", "plan"},
      {R"("path":1,)", R"("path":"1",)", "plots 1"},
      {R"("path":1,)", R"("path":1.5,)", "plots 1"},
      {R"("path":1,)", R"("path":4294967297,)", "plots 1"},
      {R"("path":1,)", R"("path":18446744073709551615,)", "plots 1"},
      {R"("path":1,)", R"("path":-99999999999,)", "plots 1"},
      {R"("bag_tare":["12","g"])", R"("bag_tare":["12"])", "plan.bag_tare"},
      {R"("bag_tare":["12","g"],)", R"()", "plan"},
      {R"("title":)", R"("Title":)", "plan"},
      {R"("measures":["gross_weight"])", R"("measures":"gross_weight")", "occasions 3"},
  };
  for (const auto& c : cases) {
    std::string spoiled = text;
    const std::size_t at = spoiled.find(c.from);
    ASSERT_NE(at, std::string::npos) << c.from << " in " << text;
    spoiled.replace(at, std::string_view(c.from).size(), c.to);
    const auto plan = parse_plan_text(spoiled);
    ASSERT_FALSE(plan.has_value()) << c.to;
    EXPECT_EQ(plan.error().kind, ErrorKind::kInvalid);
    EXPECT_THAT(plan.error().where, StartsWith(c.where)) << c.to;
  }
  for (const char* other : {"", "[]", "{}", "null", "{\"plots\":[[]]}"})
    EXPECT_FALSE(parse_plan_text(other).has_value()) << other;
}

TEST(Details, AreSortedTextsAndReadBack) {
  const Details details{{"surface", "stubble, \"wet\""}, {"crew", "AB CD"}};
  EXPECT_EQ(details_text(details), R"({"crew":"AB CD","surface":"stubble, \"wet\""})");
  EXPECT_EQ(parse_details(details_text(details)), details);
  EXPECT_EQ(details_text({}), "");
  EXPECT_EQ(parse_details(""), Details{});
}

TEST(Details, AreLookedUpOneByOne) {
  const std::string text = R"({"crew":"AB CD","port":"usb-1"})";
  EXPECT_EQ(detail(text, "port"), "usb-1");
  EXPECT_EQ(detail(text, "machine"), "");
  EXPECT_EQ(detail("", "port"), "");
  EXPECT_EQ(detail("[", "port"), "");
}

TEST(Details, RefuseWhatIsNoObjectOfTexts) {
  for (const char* text : {"{", "[]", "5", R"({"a":1})", R"({"a":{"b":"c"}})", R"({"a":null})"}) {
    const auto details = parse_details(text);
    ASSERT_FALSE(details.has_value()) << text;
    EXPECT_EQ(details.error().kind, ErrorKind::kInvalid);
  }
}

}  // namespace
}  // namespace ligule
