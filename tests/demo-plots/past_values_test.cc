// Tables of past values: what a row becomes, and what is said about a faulty one.
#include "demo-plots/past_values.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <memory>

namespace ligule::demo {
namespace {

class PastValues : public ::testing::Test {
 protected:
  void SetUp() override { std::filesystem::create_directories(folder_); }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  void put(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name) << text;
  }
  [[nodiscard]] auto read() const { return read_past(*disk_, folder_, "T1"); }

  std::filesystem::path folder_ =
      std::filesystem::temp_directory_path() / ("past-values-" + std::to_string(::getpid()));
  std::unique_ptr<files::FileSystem> disk_ = files::real_file_system();
};

constexpr const char* kHead =
    "trial,occasion,at,person,plot,bag,gross_kg,tare_kg,sample_fresh_g,sample_dry_g,dried_at,"
    "missing\n";

TEST_F(PastValues, NoTablesNoActs) {
  const auto acts = read();
  ASSERT_TRUE(acts.has_value());
  EXPECT_TRUE(acts->empty());
}

TEST_F(PastValues, ARowOfWeightsIsTwoActs) {
  put("T1-weights.csv", std::string(kHead) +
                            "T1,c1,2025-05-08T09:10:05,KV,101,7,14.30,1.55,519,127.6,"
                            "2025-05-10T10:00:00,\n");
  const auto acts = read();
  ASSERT_TRUE(acts.has_value());
  ASSERT_EQ(acts->size(), 2U);
  EXPECT_EQ(acts->at(0).what, What::kWeigh);
  EXPECT_EQ(acts->at(0).at.seconds, 9 * 3600 + 10 * 60 + 5);
  ASSERT_EQ(acts->at(0).values.size(), 4U);
  EXPECT_EQ(acts->at(0).values[0].text, "14.30");
  EXPECT_EQ(acts->at(1).what, What::kDry);
  ASSERT_EQ(acts->at(1).values.size(), 1U);
  EXPECT_EQ(acts->at(1).values[0].measure, "sample_dry");
  EXPECT_LT(acts->at(0).at, acts->at(1).at);
}

TEST_F(PastValues, AMissingPlotHasAReasonAndNoDryWeight) {
  put("T1-weights.csv", std::string(kHead) + "T1,c1,2025-05-08T09:10:05,KV,101,,,,,,,washed out\n");
  const auto acts = read();
  ASSERT_TRUE(acts.has_value());
  ASSERT_EQ(acts->size(), 1U);
  EXPECT_EQ(acts->at(0).missing, "washed out");
  EXPECT_TRUE(acts->at(0).values.empty());
}

TEST_F(PastValues, EveryFaultyTimeIsListedWithItsLine) {
  put("T1-ratings.csv",
      "trial,occasion,at,person,plot,percent_stand\n"
      "T1,r1,2025-05-08 09:10:05,KV,101,90\n"
      "T1,r1,2025-02-30T09:10:05,KV,102,90\n"
      "T1,r1,2025-05-08T24:10:05,KV,103,90\n");
  const auto acts = read();
  ASSERT_FALSE(acts.has_value());
  ASSERT_EQ(acts.error().size(), 3U);
  EXPECT_EQ(acts.error().front().where, "T1-ratings.csv line 2, column at");
}

TEST_F(PastValues, ATableThatIsNoneIsAFault) {
  put("T1-ratings.csv", "trial,plot\nT1\n");
  EXPECT_FALSE(read().has_value());
}

}  // namespace
}  // namespace ligule::demo
