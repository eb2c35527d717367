// Planning the next test against R (data/blocks_needed.R). Tolerances, relative: LSD 1e-10; chances
// 1e-9, as far as R's noncentral t goes.
#include "sync/statistics/blocks_needed.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace ligule::published {
namespace {

std::optional<std::size_t> blocks_in(const std::string& text) {
  if (text.empty()) return std::nullopt;
  return static_cast<std::size_t>(std::stoul(text));
}

TEST(BlocksNeededInR, BlocksDifferencesAndChances) {
  std::ifstream file(std::string(LIGULE_TEST_DATA) + "/published/data/blocks_needed.csv");
  std::string line;
  std::getline(file, line);
  ASSERT_EQ(line, "mse,treatments,alpha,wished,blocks,looked_at,lsd,chance,blocks_80");
  int cases = 0;
  int out_of_reach = 0;
  while (std::getline(file, line)) {
    SCOPED_TRACE(line);
    std::vector<std::string> fields;
    std::istringstream cut(line + ",");
    for (std::string field; std::getline(cut, field, ',');) fields.push_back(field);
    ASSERT_EQ(fields.size(), 9U);
    const double mse = std::stod(fields[0]);
    const auto treatments = static_cast<std::size_t>(std::stoul(fields[1]));
    const double alpha = std::stod(fields[2]);
    const double wished = std::stod(fields[3]);
    const auto looked_at = static_cast<std::size_t>(std::stoul(fields[5]));
    const double lsd = std::stod(fields[6]);
    using namespace statistics;
    EXPECT_EQ(blocks_for_difference(mse, treatments, alpha, wished), blocks_in(fields[4]));
    EXPECT_NEAR(*expected_difference(mse, treatments, looked_at, alpha), lsd, 1e-10 * lsd);
    EXPECT_NEAR(*chance_to_find(wished, mse, treatments, looked_at, alpha), std::stod(fields[7]),
                1e-9);
    EXPECT_EQ(blocks_to_find(wished, mse, treatments, alpha, 0.8), blocks_in(fields[8]));
    ++cases;
    out_of_reach += fields[8].empty() ? 1 : 0;
  }
  EXPECT_EQ(cases, 144);
  EXPECT_EQ(out_of_reach, 36);
}

}  // namespace
}  // namespace ligule::published
