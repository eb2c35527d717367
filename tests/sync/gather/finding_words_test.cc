// What a rule found, in words for people at a desk.
#include "sync/gather/finding_words.h"

#include <gtest/gtest.h>

namespace ligule::gather {
namespace {

std::string words(const char* rule, std::vector<std::string> arguments) {
  const checks::Rule* const found = checks::find_rule(rule);
  EXPECT_NE(found, nullptr) << rule;
  return found == nullptr ? "" : words_of({found, std::move(arguments), false});
}

TEST(FindingWords, OneEndOfALimitReadsLikeOne) {
  EXPECT_EQ(words("unusual", {"30 lb", "4", "20\u00a0lb"}), "is unusual: mostly it is 4 to 20 lb");
  EXPECT_EQ(words("unusual", {"30 lb", "\u2026", "20\u00a0lb"}),
            "is unusual: mostly it is 20 lb or less");
  EXPECT_EQ(words("unusual", {"3 in", "4", "\u2026\u00a0in"}),
            "is unusual: mostly it is 4 in or more");
  EXPECT_EQ(words("unusual", {"5", "1", "\u2026"}), "is unusual: mostly it is 1 or more");
  EXPECT_EQ(words("out_of_limits", {"300", "\u2026", "240\u00a0in"}),
            "can't be meant: only 240 in or less is possible");
  EXPECT_EQ(words("off_scale", {"0", "-\u00a0kg"}),
            "is outside of what the scale takes, 0 kg or more");
  EXPECT_EQ(words("off_scale", {"0", "500\u00a0kg"}),
            "is outside of what the scale takes, 0 to 500 kg");
}

TEST(FindingWords, WhatIsAskedOfARatingSaysWhy) {
  EXPECT_EQ(words("between_steps", {"85", "86"}), "lies between 85 and 86, which its scale has");
  EXPECT_EQ(words("stubble_low", {"4\u00a0in"}),
            "is lower than the 4 in that what grows there bears");
  EXPECT_EQ(words("stand_rose", {}), "is far better than the plot stood earlier in the season");
  EXPECT_EQ(words("stage_went_back", {}),
            "is further back than the stage that the plot had before");
}

TEST(FindingWords, OneEndOfAYieldReadsLikeOne) {
  EXPECT_EQ(words("yield_unusual", {"4.2", "0.1", "4"}),
            "makes about 4.2 ton/acre of dry matter, where 0.1 to 4 are usual");
  EXPECT_EQ(words("yield_unusual", {"4.2", "\u2026", "4"}),
            "makes about 4.2 ton/acre of dry matter, where 4 or less is usual");
  EXPECT_EQ(words("yield_unusual", {"0.05", "0.1", "\u2026"}),
            "makes about 0.05 ton/acre of dry matter, where 0.1 or more is usual");
}

TEST(FindingWords, WhatWasConvertedIsShownShort) {
  EXPECT_EQ(shown(7.000000000000001), "7");
  EXPECT_EQ(shown(3.9370078740157481), "3.94");
  EXPECT_EQ(shown(100), "100");
  EXPECT_EQ(shown(2.5), "2.5");
}

}  // namespace
}  // namespace ligule::gather
