// plot-sheets: from a ledger or a plan folder onto paper.
#include "tests/sync/desk/paper_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

class PlotSheetsCommand : public PaperCommand {
 protected:
  Ran sheets(const std::vector<std::string>& more, bool of_ledger = true) {
    std::vector<std::string> arguments{"plot-sheets", "--out", html_};
    if (of_ledger) arguments.insert(arguments.end(), {"--ledger", ledger_, "--trial", "PS24"});
    arguments.insert(arguments.end(), more.begin(), more.end());
    return desk(arguments);
  }
  std::string html() { return files_->read(html_, 1 << 20).value(); }

  std::string html_ = folder_ / "sheets.html", csv_ = folder_ / "sheets.csv";
  std::string plan_ = folder_ / "plan-northPS24";
};

TEST_F(PlotSheetsCommand, ShowWhatPlotsHadInOtherRatingsOnly) {
  tablet_says("2025-april", "101", "percent_stand", ValueState::kValue, "45", 45.0);
  tablet_says("2025-april", "102", "percent_stand", ValueState::kOnHold, "46", 46.0);
  tablet_says("2025-may", "202", "percent_stand", ValueState::kValue, "47", 47.0);
  tablet_says("2025-may", "201", "percent_stand", ValueState::kLater, "", std::nullopt);
  Record practice = said_on(kind::kReading, "2025-04-02");
  practice.subject = plot_id(paper_trial(), "201").uuid;
  practice.measure = "percent_stand";
  practice.occasion = occasion("2025-april");
  practice.purpose = Purpose::kSecond;
  practice.state = ValueState::kValue;
  practice.entered = "48";
  practice.value = 48;
  keep(practice);
  const Ran ran = sheets({"--rating", "2025-may", "--csv", csv_});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(ran.out,
            "PS24 2025-may: 4 plots on 1 sheet, " + html_ + "; to type them, " + csv_ + "\n");
  const std::string text = html();
  EXPECT_THAT(text, HasSubstr("<td class=\"last\">45<br><i>2 Apr</i></td>"));
  EXPECT_THAT(text, AllOf(Not(HasSubstr(">46<")), Not(HasSubstr(">47<")), Not(HasSubstr(">48<"))));
  const std::size_t kept = text.find("\u2713 kept");
  EXPECT_GT(kept, text.find(">202<")) << "given in this rating: ticked, not told";
  EXPECT_EQ(text.find("\u2713 kept", kept + 1), std::string::npos);
  EXPECT_THAT(
      files_->read(csv_, 1 << 16).value(),
      StartsWith("plot,percent_stand,maturity,plant_height_canopy,ground_cover,note\r\n101,"));
}

TEST_F(PlotSheetsCommand, TheTableThatIsMadeIsTheOneThatIsTyped) {
  ASSERT_EQ(sheets({"--rating", "2025-april", "--csv", csv_}).exit, 0);
  std::string table = files_->read(csv_, 1 << 16).value();
  table.replace(table.find("101,,"), 5, "101,85,V");
  const Ran typed = from_table(table);
  EXPECT_EQ(typed.exit, 0) << typed.err;
  EXPECT_THAT(typed.out, HasSubstr("2 values kept from paper"));
}

TEST_F(PlotSheetsCommand, SeveralKindsOfValuesReadLikeOne) {
  ASSERT_EQ(from_table("plot,percent_stand,maturity,plant_height_canopy,ground_cover\n"
                       "101,80,r0,12+11.5+13,60+25+15\n",
                       {{"--rating", "2025-may"}, {"--date", "2025-05-20"}})
                .exit,
            0);
  Plan again = paper_plan();
  again.occasions.push_back({"2025-october",
                             Job::kRate,
                             2025,
                             0,
                             {"maturity", "plant_height_canopy", "ground_cover"},
                             std::nullopt});
  again.parent = opened().plan(paper_trial()).value().digest;
  again.reason = "one more rating";
  enrol(again, {});
  ASSERT_EQ(sheets({"--rating", "2025-october"}).exit, 0);
  EXPECT_THAT(html(), AllOf(HasSubstr(">R0<br><i>20 May</i>"), HasSubstr(">12.2<br>"),
                            HasSubstr(">60+25+15<br>")));
}

TEST_F(PlotSheetsCommand, ADateReachedIsDoneAndOneNotYetIsOpen) {
  ASSERT_EQ(from_table("plot,heading_date\n101,o\n102,x\n",
                       {{"--rating", "2025-heading"}, {"--date", "2025-05-14"}})
                .exit,
            0);
  ASSERT_EQ(sheets({"--rating", "2025-heading"}).exit, 0);
  const std::string text = html();
  const std::size_t kept = text.find("\u2713 kept");
  EXPECT_GT(kept, text.find(">102<"));
  EXPECT_EQ(text.find("\u2713 kept", kept + 1), std::string::npos);
}

TEST_F(PlotSheetsCommand, WithoutARatingTheNearestOpenOneIsPrinted) {
  EXPECT_THAT(sheets({"--today", "2025-05-10"}).out, StartsWith("PS24 2025-may: "));
  EXPECT_THAT(sheets({"--today", "2025-04-10"}).out, StartsWith("PS24 2025-april: "));
  Record closed = said_on(kind::kClosed, "2025-04-04");
  closed.occasion = occasion("2025-april");
  keep(closed);
  EXPECT_THAT(sheets({"--today", "2025-04-10"}).out, StartsWith("PS24 2025-may: "));
}

TEST_F(PlotSheetsCommand, APlanFolderIsEnough) {
  const Ran ran =
      sheets({plan_, "--rating", "2025-april", "--paper", "a4", "--names", "open"}, false);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(html(), AllOf(HasSubstr("size: 210mm 297mm"), HasSubstr("Birch Run (endophyte-free)"),
                            Not(HasSubstr("class=\"last\""))));
}

TEST_F(PlotSheetsCommand, WhatCannotBePrintedIsTold) {
  const auto refused = [&](const std::vector<std::string>& more, bool of_ledger, const char* says) {
    SCOPED_TRACE(says);
    const Ran ran = sheets(more, of_ledger);
    EXPECT_EQ(ran.exit, 2);
    EXPECT_THAT(ran.err, HasSubstr(says));
  };
  refused({plan_}, true, "sheets are of a ledger or of a plan folder");
  refused({}, false, "sheets are of a ledger or of a plan folder");
  refused({plan_, "--trial", "PS24"}, false, "a folder holds one trial (leave it out)");
  refused({"--ledger", ledger_}, false, "it is not said of which trial");
  refused({folder_ / "none"}, false, "none");
  refused({"--rating", "2025-june"}, true, "PS24 plans no rating '2025-june'");
  refused({"--today", "June"}, true, "--today");
  refused({"--rating", "2025-april", "--csv", folder_ / "no/such/t.csv"}, true,
          "the table was not made");
  html_ = folder_ / "no/such/s.html";
  refused({"--rating", "2025-april"}, true, "no sheets were made");
  EXPECT_THAT(sheets({"--paper", "a5"}).err, HasSubstr("letter, a4"));
}

TEST_F(PlotSheetsCommand, OfWhatOnlyATabletKeepsThereAreNone) {
  Plan plan = paper_plan();
  plan.codes.trial = "TB24";
  plan.occasions = {{"2025-strips", Job::kRate, 2025, 0, {"swath_width"}, std::nullopt}};
  enrol(plan, {});
  const Ran none = desk({"plot-sheets", "--ledger", ledger_, "--trial", "TB24", "--rating",
                         "2025-strips", "--out", html_});
  EXPECT_EQ(none.exit, 2);
  EXPECT_THAT(none.err, HasSubstr("nothing of 2025-strips is kept on paper (it is for the tablet"));
  const Ran undated = desk({"plot-sheets", "--ledger", ledger_, "--trial", "TB24", "--out", html_});
  EXPECT_THAT(undated.err, HasSubstr("no open rating or cutting of TB24 has a day (say which is "
                                     "wanted: 2025-strips)"));
}

// Exit 1: it was read, and judged.
TEST_F(PlotSheetsCommand, OfAFaultyPlanAreRefusedWithEveryFault) {
  write("number,block,entry,row,column,path\n101,x,A,1,1,1\n102,1,B,1,y,2\n",
        "plan-northPS24/plots.csv");
  const Ran ran = sheets({plan_}, false);
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("plots.csv line 2, column block: 'x'"),
                             HasSubstr("plots.csv line 3, column column: 'y'"),
                             HasSubstr("no sheets were made")));
  EXPECT_FALSE(std::filesystem::exists(html_));
}

}  // namespace
}  // namespace ligule::desk
