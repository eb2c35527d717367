#include "storage/trial/decimal.h"

#include <gtest/gtest.h>

namespace ligule {
namespace {

TEST(Decimals, AreSubtractedDigitByDigit) {
  EXPECT_EQ(difference("5.03", "5"), "0.03");  // as doubles 0.03000000000000025
  EXPECT_EQ(difference("10", "10.12"), "-0.12");
  EXPECT_EQ(difference("-0.30", "0.1"), "-0.40");
  EXPECT_EQ(difference("7", "7.00"), "0.00");
  EXPECT_EQ(difference("123456789012.345", "0.005"), "123456789012.340");
}

TEST(Decimals, AreWithinAnAllowanceToTheDigit) {
  EXPECT_EQ(within("5.03", "5.00", "0.03"), true);
  EXPECT_EQ(within("5.031", "5.00", "0.03"), false);
  EXPECT_EQ(within("4.97", "5", "0.03"), true);
  EXPECT_EQ(within("4.96", "5", "0.03"), false);
  EXPECT_EQ(within("5", "5", "0"), true);
}

TEST(Decimals, WhatIsNoNumberIsSaid) {
  EXPECT_EQ(difference("five", "5").error().kind, ErrorKind::kInvalid);
  EXPECT_EQ(difference("5", "").error().kind, ErrorKind::kInvalid);
  EXPECT_EQ(within("5", "5", "some").error().kind, ErrorKind::kInvalid);
  EXPECT_EQ(difference("1234567890123456", "1").error().kind, ErrorKind::kInvalid);
  EXPECT_EQ(difference("1.00000", "1").error().kind, ErrorKind::kInvalid);
}

}  // namespace
}  // namespace ligule
