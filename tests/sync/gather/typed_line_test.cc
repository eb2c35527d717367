#include "sync/gather/typed_line.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::gather {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::Pair;

class TypedLines : public testing::Test {
 protected:
  TypedLines() {
    percent_.kind = ScaleKind::kPercent;
    note_.kind = ScaleKind::kText;
    columns_ = {{"stand", {&percent_}}, {"vigor", {&percent_}}, {"note", {&note_}}};
  }
  Result<TypedLine> typed(std::string_view text, const std::string& offered = "107") {
    return parse_typed_line(text, columns_, offered);
  }

  Scale percent_, note_;
  std::vector<SheetColumn> columns_;
};

TEST_F(TypedLines, PlainValuesAreOfThePlotThatIsOffered) {
  const auto line = typed(" 85\t3 ").value();
  EXPECT_EQ(line.what, Typed::kValues);
  EXPECT_EQ(line.line.plot, "107");
  EXPECT_EQ(line.line.raw, "107 85 3");
  EXPECT_THAT(line.line.texts, ElementsAre(Pair("stand", "85"), Pair("vigor", "3")));
}

TEST_F(TypedLines, APlotInFrontGoesBeforeWhatIsOffered) {
  const auto line = typed("202 85 - ; birds;  two rows ").value();
  EXPECT_EQ(line.line.plot, "202");
  EXPECT_EQ(line.line.raw, "202 85 - ; birds;  two rows");
  EXPECT_THAT(line.line.texts, ElementsAre(Pair("note", "birds;  two rows"), Pair("stand", "85")));
  EXPECT_EQ(typed("85 3", "").error().mend, "write plot stand vigor");
}

TEST_F(TypedLines, OneSignLeavesAllOfAPlotOpen) {
  EXPECT_THAT(typed("-").value().line.texts, IsEmpty());
  EXPECT_EQ(typed("-").value().line.plot, "107");
  EXPECT_THAT(typed("- ; flooded").value().line.texts, ElementsAre(Pair("note", "flooded")));
  EXPECT_FALSE(typed("-", ""));
}

TEST_F(TypedLines, WordsSayWhatToDo) {
  EXPECT_EQ(typed("back")->what, Typed::kBack);
  EXPECT_EQ(typed(" done ")->what, Typed::kDone);
  EXPECT_EQ(typed("quit")->what, Typed::kQuit);
  EXPECT_EQ(typed("?")->what, Typed::kHelp);
  EXPECT_EQ(typed("")->what, Typed::kNothing);
  EXPECT_EQ(typed("to 12")->what, Typed::kGoTo);
  EXPECT_EQ(typed("to 12")->line.plot, "12");
}

TEST_F(TypedLines, AnotherNumberOfValuesIsTold) {
  EXPECT_EQ(typed("85").error().what, "1 value where 2 are wanted");
  EXPECT_EQ(typed("1 2 3 4").error().what, "4 values where 2 are wanted");
  EXPECT_EQ(typed("85").error().mend, "write stand vigor, or plot stand vigor");
  columns_.pop_back();
  EXPECT_EQ(typed("85 3 ; birds").error().what, "this rating has no note");
}

TEST_F(TypedLines, ARatingOfNotesAloneTakesThePlotAndWords) {
  columns_.erase(columns_.begin(), columns_.begin() + 2);
  EXPECT_THAT(typed("202 ; washed out").value().line.texts,
              ElementsAre(Pair("note", "washed out")));
  EXPECT_EQ(typed("; washed out").value().line.plot, "107");
}

}  // namespace
}  // namespace ligule::gather
