// Notes of phrases and words.
#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

class Notes : public Rate {
 protected:
  Notes() { tablet.tap(OpenNote{}); }
  [[nodiscard]] std::string text() const { return tablet.rate().note.value_or(NoteView{}).text; }
  void erase(int times = 1) {
    for (int n = 0; n < times; ++n) tablet.tap(KeyErase{});
  }
};

TEST_F(Notes, APhraseIsKeptByItsCodeBetweenWords) {
  tablet.type("[birds] ");
  tablet.type("two rows, ");
  tablet.type("[photo] ");
  tablet.type("12");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().entered, "[birds] two rows, [photo] 12");
}

TEST_F(Notes, APhraseIsErasedAsOnePiece) {
  tablet.type("wet ");
  tablet.type("[birds] ");
  erase();
  EXPECT_EQ(text(), "wet ");
  tablet.type("here");
  EXPECT_EQ(text(), "wet here") << "typing goes on behind it";
  tablet.type("[birds] ");
  tablet.type("x");
  erase();
  EXPECT_EQ(text(), "wet here [birds] ") << "a phrase stands apart from the word before it";
  erase();
  EXPECT_EQ(text(), "wet here ");
}

TEST_F(Notes, OtherBracketsAreErasedLetterByLetter) {
  tablet.type("[a");
  erase();
  EXPECT_EQ(text(), "[");
  erase();
  EXPECT_EQ(text(), "");
  erase();
  tablet.type("[a]bc");
  erase();
  EXPECT_EQ(text(), "[a]b");
}

// Proves: nothing that was typed is lost by going back.
TEST_F(Notes, WordsLeftUnkeptWaitOnTheirPlot) {
  tablet.type("wet spot");
  tablet.tap(CloseNote{});
  tablet.tap(GoToPlot{"102"});
  tablet.tap(OpenNote{});
  EXPECT_EQ(text(), "");
  tablet.tap(CloseNote{});
  tablet.tap(ShowToday{});
  tablet.settle();
  tablet.open(grass_plan(), "stand");
  tablet.tap(GoToPlot{"101"});
  tablet.tap(OpenNote{});
  EXPECT_EQ(text(), "wet spot");
  tablet.type(" here");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().entered, "wet spot here");
  tablet.tap(OpenNote{});
  EXPECT_EQ(text(), "") << "kept, it waits no more";
}

TEST_F(Notes, NobodyGoesOnWithAnothersWords) {
  tablet.type("wet spot");
  tablet.tap(CloseNote{});
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"CD"});
  tablet.tap(OpenNote{});
  EXPECT_EQ(text(), "");
}

}  // namespace
}  // namespace ligule::flow
