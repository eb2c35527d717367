// from-paper without a table: somebody types line by line.
#include "tests/sync/desk/paper_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::Each;
using testing::ElementsAre;
using testing::EndsWith;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

TEST_F(PaperCommand, PlainValuesAreOfThePlotThatIsOffered) {
  const Ran ran = from_paper({}, {}, "85 V\n70 -\n-\n201 60 v\ndone\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(ran.out,
            "a line a plot, in the order of the sheet:\n"
            "  percent_stand: 0 to 100 %\n"
            "  maturity: V to S5\n"
            "- what was left open, alone the whole plot; a plot number before the values: that "
            "plot; to 107: go there;\n"
            "back: take the last line back; done: keep all; quit: keep nothing\n"
            "plot 101>   plot 101: percent_stand 85 %, maturity V\n"
            "plot 102>   plot 102: percent_stand 70 %\n"
            "plot 202>   plot 202: left open\n"
            "plot 201>   plot 201: percent_stand 60 %, maturity V\n"
            "every plot has its values; done, or a plot and values> "
            "PS24 2025-april: 5 values kept from paper, 0 there already, 0 on hold\n");
  EXPECT_THAT(values("2025-april", "101", "percent_stand"), ElementsAre("85 %"));
  EXPECT_THAT(values("2025-april", "202", "percent_stand"), IsEmpty());
  EXPECT_THAT(records("2025-april"), Each(Field(&Record::source, Source::kPaper)));
  std::vector<std::string> lines;
  for (const Record& record : records("2025-april")) lines.push_back(record.raw);
  EXPECT_THAT(lines, testing::Contains("102 70 -")) << "as it would be typed whatever is offered";
}

TEST_F(PaperCommand, AFaultyLineIsToldAtOnceAndTypedAgain) {
  const Ran ran = from_paper(
      {}, {}, "140 V\n85\n109 85 V\nto 999\n85 V ; birds\n\nhelp\n85 V\n101 85 V\ndone\n");
  EXPECT_THAT(
      ran.out,
      AllOf(HasSubstr("plot 101>   not taken: plot 101: percent_stand 140 % is outside of what the "
                      "scale takes, 0 to 100 % (look at the sheet, or leave it open with -)\n"
                      "plot 101>   not taken: 1 value where 2 are wanted (write percent_stand "
                      "maturity, or plot percent_stand maturity)\n"
                      "plot 101>   not taken: plot 109 is not in the plan of PS24 (mend the "
                      "number)\n"
                      "plot 101>   not taken: plot 999 is not on this sheet (mend the number)\n"
                      "plot 101>   not taken: this rating has no note (leave out what follows "
                      "';')\n"
                      "plot 101> plot 101> - what was left open"),
            HasSubstr("plot 102>   not taken: plot 101 was typed already ('back' takes lines back, "
                      "the last first)\n")));
  EXPECT_THAT(values("2025-april", "101", "percent_stand"), ElementsAre("85 %"));
}

TEST_F(PaperCommand, BackTakesTheLastLineBackBeforeAnythingIsKept) {
  const Ran ran = from_paper({}, {}, "85 V\n70 V\nback\nback\nback\n65 V\ndone\n");
  EXPECT_THAT(ran.out, HasSubstr("plot 202>   plot 102 taken back\n"
                                 "plot 102>   plot 101 taken back\n"
                                 "plot 101>   there is no line to take back\n"
                                 "plot 101>   plot 101: percent_stand 65 %, maturity V\n"));
  EXPECT_THAT(values("2025-april", "101", "percent_stand"), ElementsAre("65 %"));
  EXPECT_THAT(values("2025-april", "102", "percent_stand"), IsEmpty());
}

TEST_F(PaperCommand, TheEndOfWhatIsTypedKeepsAndQuitDoesNot) {
  const std::string before = digest();
  const Ran quit = from_paper({}, {}, "85 V\nquit\n");
  EXPECT_EQ(quit.exit, 0);
  EXPECT_THAT(quit.out, EndsWith("nothing was kept\n"));
  EXPECT_EQ(digest(), before);
  const Ran ended = from_paper({}, {}, "85 V\r\nto 201\n60 V");
  EXPECT_THAT(ended.out, EndsWith("still open: plots 102, 202\n"
                                  "PS24 2025-april: 4 values kept from paper, 0 there already, 0 "
                                  "on hold\n"));
}

TEST_F(PaperCommand, PlotsThatHaveAllTheirValuesAreNotOffered) {
  tablet_says("2025-april", "101", "percent_stand", ValueState::kValue, "80", 80.0);
  tablet_says("2025-april", "101", "maturity", ValueState::kValue, "V", 1.5);
  const Ran ran = from_paper({}, {}, "70 V\n101 80 V\ndone\n");
  EXPECT_THAT(ran.out, AllOf(HasSubstr("plot 102>   plot 102: percent_stand 70 %"),
                             HasSubstr("plot 202>   plot 101: there already\n"),
                             HasSubstr("2 values kept from paper, 2 there already")));
}

TEST_F(PaperCommand, AQuestionIsToldWithItsLine) {
  tablet_says("2025-april", "101", "percent_stand", ValueState::kValue, "40", 40.0);
  const Ran ran = from_paper({{"--rating", "2025-may"}, {"--date", "2025-05-20"}}, {},
                             "85 - 12+13 60+25+15 ; wheel track, [birds]\ndone\n");
  EXPECT_THAT(
      ran.out,
      AllOf(HasSubstr("  plant_height_canopy: 3 readings with + between (in)\n"
                      "  ground_cover: sown+weed+bare in percent\n"
                      "  ; and words: the note\n"),
            HasSubstr("  on hold: plot 101: percent_stand 85 % is far better than the plot stood "
                      "earlier in the season (the sheet says so? --accept stand_rose)\n"
                      "  to look at: plot 101: plant_height_canopy has 2 of 3 readings"),
            HasSubstr("5 values kept from paper, 0 there already, 1 on hold")));
  EXPECT_THAT(values("2025-may", "101", "note"), ElementsAre("wheel track, [birds]"));
}

TEST_F(PaperCommand, WhatWasTypedAndCannotBeKeptIsGivenBack) {
  // The key is lost, and no new one can be written.
  ASSERT_TRUE(files_->remove(ledger_ + ".key"));
  files::FaultyFileSystem broken(*files_);
  const std::string before = digest();
  std::size_t acts = 0;
  {
    std::istringstream in("85 V\nquit\n");
    std::ostringstream out, err;
    ASSERT_EQ(run({"from-paper", "--ledger", ledger_, "--trial", "PS24", "--rating", "2025-april",
                   "--rater", "KV", "--date", "2025-04-03"},
                  out, err, broken, in),
              0);
    acts = broken.acts();
  }
  broken.fail_at(acts + 1, true);
  std::istringstream in("85 V\n202 70 -\n");
  std::ostringstream out, err;
  EXPECT_EQ(run({"from-paper", "--ledger", ledger_, "--trial", "PS24", "--rating", "2025-april",
                 "--rater", "KV", "--date", "2025-04-03"},
                out, err, broken, in),
            2);
  EXPECT_THAT(out.str(), EndsWith("what was typed, to be given again line by line:\n"
                                  "101 85 V\n202 70 -\n"));
  EXPECT_THAT(err.str(),
              AllOf(HasSubstr("No space left on device"), EndsWith("nothing was kept\n")));
  EXPECT_EQ(digest(), before);
}

}  // namespace
}  // namespace ligule::desk
