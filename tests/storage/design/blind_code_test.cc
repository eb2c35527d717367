#include "storage/design/blind_code.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "storage/trial/identity.h"

namespace ligule::design {
namespace {

std::size_t signs_apart(const std::string& a, const std::string& b) {
  std::size_t apart = 0;
  for (std::size_t i = 0; i < a.size(); ++i) apart += a[i] == b[i] ? 0U : 1U;
  return apart;
}

class HowManyBlindCodes : public testing::TestWithParam<std::size_t> {};

TEST_P(HowManyBlindCodes, AreNeverTakenForOneAnother) {
  Draw draw(11);
  const auto codes = blind_codes(GetParam(), draw);
  ASSERT_EQ(codes.size(), GetParam());
  const std::set<std::string> all(codes.begin(), codes.end());
  ASSERT_EQ(all.size(), codes.size());
  for (const std::string& code : codes) {
    EXPECT_TRUE(is_code(code));
    EXPECT_TRUE('A' <= code.front() && code.front() <= 'Z') << "no number of a plot";
    for (std::size_t i = 1; i + 1 < code.size(); ++i) {
      std::string exchanged = code;
      std::swap(exchanged[i], exchanged[i + 1]);
      EXPECT_TRUE(exchanged == code || !all.contains(exchanged)) << code;
    }
  }
  for (std::size_t i = 0; i < codes.size(); ++i)
    for (std::size_t j = i + 1; j < codes.size(); ++j)
      ASSERT_GE(signs_apart(codes[i], codes[j]), 2U) << codes[i] << ' ' << codes[j];
}
INSTANTIATE_TEST_SUITE_P(FewAndMany, HowManyBlindCodes, testing::Values(1, 24, 100, 101, 1000));

TEST(BlindCodes, DoNotFollowTheOrderOfTheList) {
  // Of 24 codes in the order of their list as many rises as falls, give or take (Wald, Wolfowitz:
  // rises of a random order have mean 11.5 and variance 25/12).
  Draw draw(12);
  const auto codes = blind_codes(24, draw);
  std::size_t rises = 0;
  for (std::size_t i = 1; i < codes.size(); ++i) rises += codes[i - 1] < codes[i] ? 1U : 0U;
  EXPECT_NEAR(static_cast<double>(rises), 11.5, 3.3 * 1.45);
}

}  // namespace
}  // namespace ligule::design
