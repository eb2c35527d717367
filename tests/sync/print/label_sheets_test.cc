// What labels hold and how they lie on sheets. Whether their codes are read: label_codes_test.cc.
#include "sync/print/label_sheets.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "tests/sync/print/planted.h"

namespace ligule::print {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

// What stands in bold on the labels of a page, in its order.
std::vector<std::string> bold(const std::string& page) {
  static const std::regex kBold("<b style=[^>]*>([^<]*)</b>");
  std::vector<std::string> found;
  for (auto at = std::sregex_iterator(page.begin(), page.end(), kBold);
       at != std::sregex_iterator(); ++at)
    found.push_back((*at)[1]);
  return found;
}

std::size_t times(const std::string& text, std::string_view part) {
  std::size_t n = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
  return n;
}

class LabelSheetsTest : public testing::Test {
 protected:
  PrintedLabels printed(const LabelSheets& wanted) {
    return label_sheets(plan, sown(plan), wanted).value();
  }
  Plan plan = planted();
};

TEST_F(LabelSheetsTest, StakesFollowThePathAndAreBlind) {
  const PrintedLabels made = printed({});
  EXPECT_EQ(made.labels, 9U);
  EXPECT_EQ(made.sheets, 1U);
  EXPECT_THAT(bold(made.page),
              ElementsAre("101", "102", "103", "203", "202", "201", "301", "302", "303"));
  EXPECT_THAT(made.page, HasSubstr("TF24 · block 2"));
  EXPECT_THAT(made.page, HasSubstr("entry B"));
  for (const char* const telling : {"Alder", "Old Mill", "novel", "toxic", "lot L1", " g<"})
    EXPECT_THAT(made.page, Not(HasSubstr(telling)));
}

TEST_F(LabelSheetsTest, PacketsComeByEntryWithLotAndWeight) {
  const PrintedLabels made = printed({.what = LabelFor::kPackets, .order = LabelOrder::kEntry});
  // Entry A stands in 102, 201 and 303.
  EXPECT_THAT(bold(made.page), ElementsAre("102", "16.43 g", "201", "16.43 g", "303", "16.43 g",
                                           "103", "16.43 g", "202", "16.43 g", "301", "16.43 g",
                                           "101", "16.43 g", "203", "16.43 g", "302", "16.43 g"));
  EXPECT_EQ(times(made.page, "lot L1"), 3U);
  EXPECT_EQ(times(made.page, "lot ______"), 6U) << "to be written";
  EXPECT_THAT(made.page, Not(HasSubstr("Alder")));
}

TEST_F(LabelSheetsTest, AWeightThatNobodyKnowsIsLeftToBeWritten) {
  plan.entries[0].purity = "";
  const PrintedLabels made = printed({.what = LabelFor::kPackets});
  EXPECT_EQ(times(made.page, "______ g"), 3U);
}

TEST_F(LabelSheetsTest, OpenLabelsTellVarietyAndEndophyte) {
  const PrintedLabels made = printed({.names = Names::kOpen});
  EXPECT_THAT(made.page, HasSubstr("Alder Brook (novel AX1)"));
  EXPECT_THAT(made.page, HasSubstr("Old Mill (toxic)"));
}

// Proves: sheets hold whole rows of the size that is told, within what printers reach.
TEST_F(LabelSheetsTest, SheetsAreWholeAndWithinTheMargins) {
  for (const Paper paper : {Paper::kLetter, Paper::kA4}) {
    const PrintedLabels made = printed({.paper = paper, .columns = 2, .rows = 2});
    EXPECT_EQ(made.sheets, 3U);
    EXPECT_EQ(times(made.page, "<div class=\"sheet\">"), 3U);
    EXPECT_EQ(times(made.page, "<div class=\"label\">"), 9U);
    const PaperSize size = size_of(paper);
    constexpr double kUnprinted = 6;  // millimetres: common practice, no source
    EXPECT_LT(2 * made.width + 2 * kUnprinted, size.width);
    EXPECT_LT(2 * made.height + 2 * kUnprinted, size.height);
    EXPECT_GT(2 * made.width, 0.9 * size.width);
    EXPECT_THAT(made.page, HasSubstr("TF24 stakes, sheet 3 of 3."));
    EXPECT_THAT(made.page, HasSubstr("this bar is then 50 mm long"));
  }
}

TEST_F(LabelSheetsTest, LettersShrinkUntilTheyFitAndAreEvenOnAll) {
  plan.entries[0].variety = std::string(60, 'W');
  const PrintedLabels made = printed({.names = Names::kOpen});
  static const std::regex kName("<span style=\"font-size:([0-9.]+)mm\">(W+|Old Mill)");
  std::vector<std::string> sizes;
  for (auto at = std::sregex_iterator(made.page.begin(), made.page.end(), kName);
       at != std::sregex_iterator(); ++at)
    sizes.push_back((*at)[1]);
  ASSERT_EQ(sizes.size(), 6U);
  EXPECT_THAT(sizes, testing::Each(sizes.front()));
  EXPECT_LT(std::stod(sizes.front()), 3.6);
}

TEST_F(LabelSheetsTest, WhatHasNoRoomIsRefused) {
  const auto refused = [&](const LabelSheets& wanted) {
    const auto made = label_sheets(plan, sown(plan), wanted);
    return made ? std::string("made") : one_line(made.error());
  };
  EXPECT_THAT(refused({.columns = 8, .rows = 24}),
              HasSubstr("the code of plot 101 has no room (ask for fewer --columns or --rows)"));
  EXPECT_THAT(refused({.columns = 0}), HasSubstr("at least one column and one row"));
  EXPECT_THAT(refused({.columns = 500}), HasSubstr("nothing has room"));
  plan.entries[0].variety = std::string(400, 'W');
  EXPECT_THAT(refused({.names = Names::kOpen}), HasSubstr("the words of plot 102 have no room"));
  plan.plots[0].entry = "nobody";
  EXPECT_THAT(refused({}), HasSubstr("plot 101 holds no entry"));
}

TEST_F(LabelSheetsTest, WordsOfAPlanStayWords) {
  plan.entries[0].seed_lot = "<b>&\"";
  EXPECT_THAT(printed({.what = LabelFor::kPackets}).page, HasSubstr("lot &lt;b&gt;&amp;&quot;"));
}

}  // namespace
}  // namespace ligule::print
