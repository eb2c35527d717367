#include "storage/trial/stake_code.h"

#include <gtest/gtest.h>

namespace ligule {
namespace {

TEST(StakeCode, ReadsBackWhatItWrites) {
  for (const StakeCode& code : {StakeCode{"TF24", "107"}, StakeCode{"a-b.c_d", "1-2"}})
    EXPECT_EQ(parse_stake_text(stake_text(code.trial, code.plot)), code);
}

TEST(StakeCode, AnythingElseIsNone) {
  for (const char* const text : {"", "107", "/", "TF24/", "/107", "TF24/1/07", "TF 24/107",
                                 "TF24/107 ", "https://example.org/107"})
    EXPECT_EQ(parse_stake_text(text), std::nullopt) << text;
}

TEST(StakeCode, AKeyboardOfAnotherLanguageMakesAHyphenOfTheStroke) {
  EXPECT_EQ(plot_scanned_in("TF24", "TF24/107"), "107");
  EXPECT_EQ(plot_scanned_in("TF24", "TF24-107"), "107");
  EXPECT_EQ(plot_scanned_in("TF24", "TF24"), std::nullopt);
  EXPECT_EQ(plot_scanned_in("TF24", "TF245/107"), std::nullopt);
  EXPECT_EQ(plot_scanned_in("TF24", "AL24/107"), std::nullopt);
}

}  // namespace
}  // namespace ligule
