#include "app/flow/keypad.h"

#include <gtest/gtest.h>

#include <string>

namespace ligule::flow {
namespace {

std::string typed(Field field, std::string_view keys) {
  Keypad keypad(field);
  for (const char key : keys) keypad.type(std::string(1, key));
  return keypad.text(field);
}

TEST(Keypad, NumbersTakeDigitsPointsAndWhatMakesThemUnreadable) {
  EXPECT_EQ(typed(Field::kGross, "31.5"), "31.5");
  EXPECT_EQ(typed(Field::kGross, "31,5"), "31.5") << "a comma is a point";
  EXPECT_EQ(typed(Field::kGross, ".5"), "0.5");
  EXPECT_EQ(typed(Field::kGross, "3.1.4"), "3.1.4");
  EXPECT_EQ(typed(Field::kGross, "-3a e1"), "-31");
  EXPECT_EQ(typed(Field::kGross, "1234567890"), "123456789") << "no more than nine";
}

TEST(Keypad, LabelsTakeWhatStandsOnABag) {
  EXPECT_EQ(typed(Field::kBag, "A-12_b.3"), "A-12_b.3");
  EXPECT_EQ(typed(Field::kBag, ".1 2/"), "12");
  EXPECT_EQ(typed(Field::kBag, std::string(40, '7')), std::string(32, '7'));
  EXPECT_EQ(typed(Field::kPlot, "/TF24/107"), "TF24/107") << "a stake may say its trial";
}

TEST(Keypad, WordsTakeLettersOfAnyLanguageButNoControls) {
  Keypad keypad(Field::kNote);
  EXPECT_TRUE(keypad.type("año"));
  EXPECT_FALSE(keypad.type("\n"));
  EXPECT_FALSE(keypad.type("\x7f"));
  EXPECT_EQ(keypad.text(Field::kNote), "año");
}

TEST(Keypad, APieceThatDoesNotFitIsNotTakenInPart) {
  Keypad keypad(Field::kGross);
  EXPECT_FALSE(keypad.type("12x"));
  EXPECT_EQ(keypad.text(Field::kGross), "");
  EXPECT_FALSE(keypad.type(""));
  Keypad person(Field::kInitials);
  EXPECT_TRUE(person.type("ABCDEFGHIJK"));
  EXPECT_FALSE(person.type("Ñ"));
  EXPECT_EQ(person.text(Field::kInitials), "ABCDEFGHIJK");
}

TEST(Keypad, ErasesWholeLetters) {
  Keypad keypad(Field::kNote);
  keypad.type("año");
  EXPECT_TRUE(keypad.erase());
  EXPECT_TRUE(keypad.erase());
  EXPECT_EQ(keypad.text(Field::kNote), "a");
  EXPECT_TRUE(keypad.erase());
  EXPECT_FALSE(keypad.erase());
}

TEST(Keypad, KeysGoToTheActiveFieldOnly) {
  Keypad keypad(Field::kGross);
  keypad.type("31");
  keypad.focus(Field::kBag);
  keypad.type("12");
  EXPECT_EQ(keypad.active(), Field::kBag);
  EXPECT_EQ(keypad.text(Field::kGross), "31");
  EXPECT_EQ(keypad.text(Field::kBag), "12");
  keypad.clear(Field::kGross);
  keypad.set(Field::kBag, "");
  EXPECT_EQ(keypad, Keypad(Field::kBag)) << "empty and untouched are the same";
}

TEST(Keypad, ATextThatStandsIsReplacedByTheFirstPieceTyped) {
  Keypad keypad(Field::kGross);
  keypad.type("12");
  keypad.focus(Field::kBag);
  keypad.focus(Field::kGross);
  EXPECT_FALSE(keypad.type("x"));
  EXPECT_EQ(keypad.text(Field::kGross), "12") << "what does not fit replaces nothing";
  keypad.type("5");
  keypad.type(".");
  EXPECT_EQ(keypad.text(Field::kGross), "5.");
  keypad.set(Field::kGross, "31.5");
  keypad.type(".");
  EXPECT_EQ(keypad.text(Field::kGross), "0.");
}

TEST(Keypad, ErasingEditsATextThatStands) {
  Keypad keypad(Field::kGross);
  keypad.set(Field::kGross, "31.5");
  keypad.erase();
  keypad.type("7");
  EXPECT_EQ(keypad.text(Field::kGross), "31.7");
}

TEST(Keypad, EveryFieldHasAKind) {
  EXPECT_EQ(kind_of(Field::kMachine), FieldKind::kWords);
  EXPECT_EQ(kind_of(Field::kPlot), FieldKind::kLabel);
  EXPECT_EQ(kind_of(Field::kDryBag), FieldKind::kLabel);
  EXPECT_EQ(kind_of(Field::kDryWeight), FieldKind::kNumber);
  EXPECT_EQ(kind_of(Field::kAmount), FieldKind::kCode);
}

}  // namespace
}  // namespace ligule::flow
