// from-paper: plot sheets into a ledger, from a table, by the rules.
#include "tests/sync/desk/paper_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::Each;
using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

const std::string april =
    "plot,percent_stand,maturity\n101,85,V\n102,70,-\n202,90,e-early\n201,,\n";

TEST_F(PaperCommand, ATableBecomesRecordsThatSayTheyCameFromPaper) {
  const Ran ran = from_table(april);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(ran.out,
            "still open: plots 201\n"
            "PS24 2025-april: 5 values kept from paper, 0 there already, 0 on hold\n");
  EXPECT_THAT(values("2025-april", "101", "percent_stand"), ElementsAre("85 %"));
  EXPECT_THAT(values("2025-april", "102", "maturity"), IsEmpty()) << "left open";
  EXPECT_THAT(values("2025-april", "202", "maturity"), ElementsAre("E-early"))
      << "as the scale spells it";
  const std::vector<Record> kept = records("2025-april");
  ASSERT_THAT(kept, SizeIs(5));
  EXPECT_THAT(kept, Each(Field(&Record::source, Source::kPaper)));
  EXPECT_THAT(kept, Each(Field(&Record::kind, kind::kReading)));
  const Record& first = kept.front();
  EXPECT_EQ(first.person, person_id("kv"));
  EXPECT_EQ(first.purpose, Purpose::kSurvey);
  EXPECT_EQ(format_date(first.at.local_date), "2025-04-03") << "the sheet's day, not the desk's";
  EXPECT_EQ(format_clock(first.at), "12:00") << "noon stands for an hour nobody knows";
  EXPECT_EQ(detail(first.details, "clock"), "none");
  EXPECT_THAT(detail(first.details, "typed_in"), SizeIs(16));
  EXPECT_EQ(detail(first.details, "file"), "sheet.csv");
  EXPECT_EQ(detail(first.details, "file_sha256"), sha256(april).hex());
  EXPECT_EQ(first.blind, true);
  EXPECT_TRUE(opened().definition(first.definition).value());
  std::vector<std::string> lines;
  lines.reserve(kept.size());
  for (const Record& record : kept) lines.push_back(record.raw);
  EXPECT_THAT(lines, testing::Contains("101,85,V"));
  EXPECT_EQ(desk({"ledger-check", "--ledger", ledger_}).exit, 0);
}

TEST_F(PaperCommand, WhatWasTypedTwiceChangesNothing) {
  ASSERT_EQ(from_table(april).exit, 0);
  const std::string before = digest();
  const Ran again = from_table(april);
  EXPECT_EQ(again.exit, 0) << again.err;
  EXPECT_THAT(again.out, HasSubstr("0 values kept from paper, 5 there already, 0 on hold"));
  EXPECT_EQ(digest(), before);
  // A sheet that was filled in further adds what is new.
  const Ran grown = from_table("plot,percent_stand\n101,85\n201,60\n");
  EXPECT_THAT(grown.out, HasSubstr("1 value kept from paper, 1 there already"));
  EXPECT_THAT(opened().of_kind(kind::kPerson).value(), SizeIs(1)) << "known by now";
}

TEST_F(PaperCommand, WhatStandsIsNeverOverwritten) {
  tablet_says("2025-april", "101", "percent_stand", ValueState::kValue, "80", 80.0);
  const std::string before = digest();
  expect_refused(from_table(april), 1,
                 "sheet.csv line 2: plot 101: percent_stand stands there as 80 % (2025-04-02), the "
                 "sheet says 85 % (leave it open with -, and put it right in Review)\n"
                 "1 fault in",
                 before);
  const Ran left = from_table("plot,percent_stand\n101,-\n102,70\n");
  EXPECT_EQ(left.exit, 0) << left.err;
  EXPECT_THAT(values("2025-april", "101", "percent_stand"), ElementsAre("80 %"));
}

TEST_F(PaperCommand, WhatWasPutOffIsGivenNow) {
  const RecordId later =
      tablet_says("2025-april", "101", "percent_stand", ValueState::kLater, "", std::nullopt);
  ASSERT_EQ(from_table("plot,percent_stand\n101,85\n").exit, 0);
  const Record given = records("2025-april").front();
  EXPECT_EQ(given.kind, kind::kCorrection);
  EXPECT_THAT(given.targets, ElementsAre(later));
  EXPECT_EQ(given.reason, "after_later");
  EXPECT_EQ(given.source, Source::kPaper);
}

TEST_F(PaperCommand, EachFaultIsOneLineAndNothingIsKept) {
  const std::string before = digest();
  const std::pair<const char*, const char*> faulty[] = {
      {"plot,percent_stand\n101,140\n",
       "sheet.csv line 2: plot 101: percent_stand 140 % is outside of what the scale takes, 0 to "
       "100 %"},
      {"plot,percent_stand\n101,8o\n",
       "plot 101: percent_stand '8o' can't be read (write 0 to 100 %)"},
      {"plot,percent_stand\n101,85.5\n", "lies between 85 and 86"},
      {"plot,maturity\n101,R9\n",
       "plot 101: maturity R9 is outside of what the scale takes, V to S5"},
      {"plot,percent_stand\n109,85\n", "plot 109 is not in the plan of PS24"},
      {"plot,percent_stand\n101,85\n101,85\n", "plot 101 was typed already, sheet.csv line 2"},
      {"plot,lodging\n101,3\n", "lodging is no measure of 2025-april"},
      {"plot,percent_stand\n,85\n", "column plot: there is no plot number"},
      {"plot,percent_stand\n101,\n", "nothing is filled in"},
      {"plot,percent_stand\n101,\"8\n5\"\n", "a cell goes over two lines"},
      {"plot;percent_stand\n101;85\n", "save the table as CSV, comma separated"},
      {"stake,percent_stand\n101,85\n", "a column \"plot\" and one for each measure"},
  };
  for (const auto& [csv, says] : faulty) {
    SCOPED_TRACE(csv);
    expect_refused(from_table(csv), 1, says, before);
  }
}

TEST_F(PaperCommand, AColumnThatIsNoMeasureIsOneFault) {
  const std::string before = digest();
  const Ran ran = from_table("plot,percent_stand,lodging\n101,85,3\n102,85,4\n201,85,\n");
  expect_refused(ran, 1, "line 2: lodging is no measure of 2025-april", before);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("1 fault in"), testing::Not(HasSubstr("line 3"))));
}

TEST_F(PaperCommand, ArgumentsThatCannotBeAreTold) {
  const std::string before = digest();
  const auto refused = [&](const std::map<std::string, std::string>& given, const char* says) {
    SCOPED_TRACE(says);
    expect_refused(from_table(april, given), 2, says, before);
  };
  refused({{"--date", "2999-04-03"}}, "2999-04-03 is still to come");
  refused({{"--date", "April"}}, "--date");
  refused({{"--rater", " "}}, "--rater: it is empty");
  refused({{"--rating", ""}}, "it is not said which rating or cutting was rated");
  refused({{"--cutting", "2025/1"}}, "one rating or cutting is wanted");
  refused({{"--rating", "2025-june"}}, "PS24 plans no rating '2025-june' (give one of 2025-april,");
  refused({{"--rating", ""}, {"--cutting", "first"}}, "'first' is no cutting");
  refused({{"--rating", ""}, {"--cutting", "2025/2"}}, "no cutting 2025/2 (give one of 2025/1)");
  refused({{"--trial", "XX"}}, "the ledger holds no trial 'XX'");
  refused({{"--unit", "lb"}}, "nothing of 2025-april is measured in 'lb'");
  refused({{"--accept", "off_scale"}},
          "'off_scale' asks nothing that can be accepted (give one of");
  refused({{"--today", "2025-05-01"}}, "the ledger is real");
  refused({{"--rating", ""}, {"--cutting", "2025/1"}},
          "nothing of 2025-cut-1 is typed from plot sheets (take a table of it in by take-in "
          "--on-paper)");
  refused({{"--ledger", folder_ / "none.ligule"}}, "none.ligule");
  refused({{"--device", "Other"}}, "the ledger is that of Office");
  EXPECT_EQ(from_paper({}, {folder_ / "none.csv"}).exit, 2) << "no such table";
  EXPECT_EQ(digest(), before);
}

TEST_F(PaperCommand, WhatARuleAsksAboutIsOnHoldOrAccepted) {
  tablet_says("2025-april", "101", "percent_stand", ValueState::kValue, "40", 40.0);
  const std::map<std::string, std::string> may{{"--rating", "2025-may"}, {"--date", "2025-05-20"}};
  const std::string csv = "plot,percent_stand\n101,85\n102,85\n";
  const Ran checked = from_table(csv, may, {"--only-check"});
  EXPECT_THAT(checked.out,
              AllOf(HasSubstr("on hold: sheet.csv line 2: plot 101: percent_stand 85 % is far "
                              "better than the plot stood earlier in the season (the sheet says "
                              "so? --accept stand_rose)\n"),
                    HasSubstr("2 values would be kept from paper, 0 there already, 1 on hold")));
  EXPECT_THAT(records("2025-may"), IsEmpty()) << "only checked";
  ASSERT_EQ(from_table(csv, may).exit, 0);
  for (const Record& record : records("2025-may")) {
    const bool held = record.subject == plot_id(paper_trial(), "101").uuid;
    EXPECT_EQ(record.state, held ? ValueState::kOnHold : ValueState::kValue);
    if (held) {
      EXPECT_THAT(record.answers, ElementsAre(Answer{"stand_rose", "not_asked"}));
    }
  }
  EXPECT_THAT(desk({"settle", "--ledger", ledger_}).out, HasSubstr("stand_rose"));
}

TEST_F(PaperCommand, WhatIsAcceptedCounts) {
  tablet_says("2025-april", "101", "percent_stand", ValueState::kValue, "40", 40.0);
  const Ran ran =
      from_table("plot,percent_stand\n101,85\n",
                 {{"--rating", "2025-may"}, {"--date", "2025-05-20"}}, {"--accept", "stand_rose"});
  EXPECT_THAT(ran.out, HasSubstr("1 value kept from paper, 0 there already, 0 on hold"));
  const Record kept = records("2025-may").front();
  EXPECT_EQ(kept.state, ValueState::kValue);
  EXPECT_THAT(kept.answers, ElementsAre(Answer{"stand_rose", "accepted"}));
}

TEST_F(PaperCommand, ASheetOfAnEarlierDayIsNotHeldAgainstALaterRating) {
  tablet_says("2025-may", "101", "percent_stand", ValueState::kValue, "40", 40.0, "2025-05-20");
  const Ran ran = from_table("plot,percent_stand\n101,85\n");
  EXPECT_THAT(ran.out, HasSubstr("1 value kept from paper, 0 there already, 0 on hold"));
}

TEST_F(PaperCommand, StubbleLowerThanThePlantsBearAsks) {
  const Ran ran = from_table("plot,stubble_height\n101,2\n",
                             {{"--rating", "2025-stubble"}, {"--date", "2025-06-03"}});
  EXPECT_THAT(ran.out, HasSubstr("stubble_height 2 in is lower than the 4 in that what grows there "
                                 "bears (the sheet says so? --accept stubble_low)"));
}

TEST_F(PaperCommand, SeveralReadingsAndPartsOfAWhole) {
  const std::map<std::string, std::string> may{{"--rating", "2025-may"}, {"--date", "2025-05-20"}};
  const std::string csv =
      "plot,plant_height_canopy,ground_cover\n101,12+11.5+13,60+25+15\n102,12+11,\n";
  const Ran ran = from_table(csv, may);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("to look at: sheet.csv line 3: plot 102: plant_height_canopy has "
                                 "2 of 3 readings"));
  EXPECT_THAT(values("2025-may", "101", "plant_height_canopy"),
              ElementsAre("12 in", "11.5 in", "13 in"));
  EXPECT_THAT(values("2025-may", "101", "ground_cover"), ElementsAre("sown=60 weed=25 bare=15 %"));
  EXPECT_EQ(from_table(csv, may).exit, 0) << "the same again";
  const std::string before = digest();
  expect_refused(from_table("plot,plant_height_canopy\n101,12+11.5+14\n", may), 1,
                 "stands there as 13 in", before);
  expect_refused(from_table("plot,plant_height_canopy\n201,1+2+3+4\n", may), 1,
                 "'1+2+3+4' can't be read (write 3 readings, as 12+11.5+13)", before);
  expect_refused(from_table("plot,ground_cover\n201,60+40\n", may), 1,
                 "write every part in the order sown+weed+bare, as 60+25+15", before);
  expect_refused(from_table("plot,ground_cover\n201,60+40+15\n", may), 1,
                 "plot 201: ground_cover '60+40+15' can't be meant (the parts must come to 100)",
                 before);
}

TEST_F(PaperCommand, LengthsMayBeInTheOtherUnit) {
  const Ran ran =
      from_table("plot,percent_stand,plant_height_canopy\n101,80,30+28.5+33\n",
                 {{"--rating", "2025-may"}, {"--date", "2025-05-20"}, {"--unit", "cm"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(values("2025-may", "101", "plant_height_canopy"),
              ElementsAre("30 cm", "28.5 cm", "33 cm"));
  EXPECT_THAT(values("2025-may", "101", "percent_stand"), ElementsAre("80 %"));
}

TEST_F(PaperCommand, FramesAndCountedStagesAreSeveralNumbersInOneBox) {
  const Ran ran = from_table("plot,frequency_grid,stage_counts\n101,15+14+20+21,r0=15+V=10\n",
                             {{"--rating", "2025-frame"}, {"--date", "2025-05-20"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(values("2025-frame", "101", "frequency_grid"), ElementsAre("15 14 20 21 %"));
  EXPECT_THAT(values("2025-frame", "101", "stage_counts"), ElementsAre("V=10 R0=15"))
      << "in the scale's order";
  const std::string before = digest();
  expect_refused(from_table("plot,stage_counts\n102,V+R0\n",
                            {{"--rating", "2025-frame"}, {"--date", "2025-05-20"}}),
                 1, "write each stage that was seen with its number, as V=10+R0=15", before);
}

TEST_F(PaperCommand, ADateIsVisitedAndVisitsAgree) {
  const auto visit = [&](const std::string& csv, const std::string& on) {
    return from_table(csv, {{"--rating", "2025-heading"}, {"--date", on}});
  };
  ASSERT_EQ(visit("plot,heading_date\n101,o\n102,x\n202,No\n201,0\n", "2025-05-14").exit, 0);
  const Ran later = visit("plot,heading_date\n101,X\n202,o\n", "2025-05-17");
  ASSERT_EQ(later.exit, 0) << later.err;
  EXPECT_THAT(values("2025-heading", "101", "heading_date"), ElementsAre("not_yet", "reached"));
  EXPECT_THAT(values("2025-heading", "102", "heading_date"), ElementsAre("reached"));
  const std::string before = digest();
  expect_refused(visit("plot,heading_date\n102,o\n", "2025-05-17"), 1,
                 "plot 102: heading_date contradicts what was said of it at another visit", before);
  expect_refused(visit("plot,heading_date\n202,maybe\n", "2025-05-20"), 1, "'maybe' can't be read",
                 before);
}

TEST_F(PaperCommand, ANoteStandsBesideAnother) {
  const std::map<std::string, std::string> may{{"--rating", "2025-may"}, {"--date", "2025-05-20"}};
  ASSERT_EQ(from_table("plot,note\n101,\"birds, first two rows\"\n", may).exit, 0);
  ASSERT_EQ(from_table("plot,note\n101,washed out\n", may).exit, 0);
  EXPECT_THAT(values("2025-may", "101", "note"),
              ElementsAre("birds, first two rows", "washed out"));
  const std::string before = digest();
  ASSERT_EQ(from_table("plot,note\n101,washed out\n", may).exit, 0);
  EXPECT_EQ(digest(), before) << "the same again";
}

TEST_F(PaperCommand, ValuesAreOnlyBlindWhereNobodySawTheNames) {
  ASSERT_EQ(from_table("plot,percent_stand\n101,85\n", {{"--names", "open"}}).exit, 0);
  EXPECT_EQ(records("2025-april").front().blind, false);
  Record shown = said_on(kind::kEvent, "2025-05-19");
  shown.entered = "names_shown";
  shown.person = person_id("KV");
  shown.details = details_text({{"occasion", occasion("2025-may").text()}, {"on", "2025-05-19"}});
  keep(shown);
  ASSERT_EQ(from_table("plot,percent_stand\n101,85\n",
                       {{"--rating", "2025-may"}, {"--date", "2025-05-20"}})
                .exit,
            0);
  EXPECT_EQ(records("2025-may").front().blind, false);
}

TEST_F(PaperCommand, WhatMayBeOddOfTheWholeSheetIsTold) {
  Record closed = said_on(kind::kClosed, "2025-04-04");
  closed.occasion = occasion("2025-april");
  keep(closed);
  const Ran ran = from_table("plot,percent_stand\n101,85\n", {{"--date", "2024-12-03"}});
  EXPECT_THAT(ran.out,
              AllOf(HasSubstr("to look at: --date: a sheet of 2024-12-03 for a rating of 2025"),
                    HasSubstr("2025-april was closed on 2025-04-04")));
  EXPECT_EQ(ran.exit, 0) << ran.err;
}

TEST_F(PaperCommand, AnAbandonedPlotIsNotRated) {
  Record gone = said_on(kind::kAsSown, "2025-03-01");
  AsSown what{plot_id(paper_trial(), "102"), AsSownStatus::kAbandoned, std::nullopt,
              parse_date("2025-03-01").value(), "flooded"};
  write_as_sown(what, gone);
  keep(gone);
  const std::string before = digest();
  expect_refused(from_table("plot,percent_stand\n102,85\n"), 1,
                 "line 2: plot 102 was abandoned on 2025-03-01", before);
}

// Typed after the plot was given up, rated before.
TEST_F(PaperCommand, APlotIsRatedUntilTheDayItWasAbandoned) {
  Record gone = said_on(kind::kAsSown, "2025-04-20");
  write_as_sown({plot_id(paper_trial(), "102"), AsSownStatus::kAbandoned, std::nullopt,
                 parse_date("2025-04-20").value(), "flooded"},
                gone);
  keep(gone);
  const Ran ran = from_table("plot,percent_stand\n102,85\n", {{"--date", "2025-04-19"}});
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(values("2025-april", "102", "percent_stand"), ElementsAre("85 %"));
  const std::string before = digest();
  expect_refused(from_table("plot,percent_stand\n102,80\n", {{"--date", "2025-04-20"}}), 1,
                 "plot 102 was abandoned on 2025-04-20", before);
}

TEST_F(PaperCommand, ValuesFromPaperCountInTables) {
  ASSERT_EQ(from_table("plot,percent_stand\n101,85\n102,70\n202,90\n201,60\n").exit, 0);
  const std::string out = folder_ / "tables";
  const Ran tables = desk({"tables", "--ledger", ledger_, "--out", out});
  ASSERT_EQ(tables.exit, 0) << tables.err;
  const std::string means =
      files_->read(out + "/measures/percent_stand/means.csv", 1 << 20).value();
  EXPECT_THAT(means, HasSubstr("PS24,2025,2025-april,Alder Brook (novel),2,87.5,"));
  EXPECT_THAT(tables.out, HasSubstr("to look at: PS24: 4 values of 2025-april came from paper"));
}

TEST_F(PaperCommand, WeightsOfPaperComeInByTakeInAndSaySo) {
  const Ran ran = take_in(
      "plot,gross_weight,bag_number,fresh,dry\n101,20,1,1.1,0.35\n"
      "102,21,2,1.1,0.35\n202,22,3,1.1,0.35\n201,23,4,1.1,0.35\n",
      {{"--trial", "PS24"},
       {"--year", "2025"},
       {"--date", "2025-06-03"},
       {"--machine", "hanging scale"},
       {"--sample-unit", "lb"},
       {"--columns",
        "plot=plot,gross=gross_weight,bag=bag_number,sample_fresh=fresh,"
        "sample_dry=dry"}},
      {"--on-paper"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(records("2025-cut-1"),
              AllOf(SizeIs(16), Each(Field(&Record::source, Source::kPaper))));
  const std::string out = folder_ / "tables";
  ASSERT_EQ(desk({"tables", "--ledger", ledger_, "--out", out}).exit, 0);
  EXPECT_THAT(files_->read(out + "/report.html", 1 << 20).value(),
              HasSubstr("Weights of 4 plots were written on paper and typed in later."));
  EXPECT_THAT(desk({"clock", "--ledger", ledger_}).out, HasSubstr("0 clocks of 1 stream"));
}

}  // namespace
}  // namespace ligule::desk
