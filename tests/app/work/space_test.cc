#include "app/work/space.h"

#include <gtest/gtest.h>
#include <stdlib.h>

#include <fstream>

namespace ligule::work {
namespace {

class SpaceTest : public testing::Test {
 protected:
  SpaceTest() {
    std::string name = (std::filesystem::temp_directory_path() / "ligule-space-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) std::abort();
    folder_ = name;
  }
  SpaceTest(const SpaceTest&) = delete;
  SpaceTest& operator=(const SpaceTest&) = delete;
  SpaceTest(SpaceTest&&) = delete;
  SpaceTest& operator=(SpaceTest&&) = delete;
  ~SpaceTest() override {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }
  void write(const char* name, std::size_t bytes) const {
    std::ofstream(folder_ / name) << std::string(bytes, 'x');
  }
  std::filesystem::path folder_;
};

TEST_F(SpaceTest, CountsTheLedgerAndItsLog) {
  EXPECT_EQ(space_of(folder_ / "a.ledger").ledger_bytes, 0) << "not there yet";
  write("a.ledger", 1000);
  EXPECT_EQ(space_of(folder_ / "a.ledger").ledger_bytes, 1000);
  write("a.ledger-wal", 50);
  EXPECT_EQ(space_of(folder_ / "a.ledger").ledger_bytes, 1050);
}

TEST_F(SpaceTest, TellsWhatIsFreeThereOrNothing) {
  EXPECT_GT(space_of(folder_ / "a.ledger").free_bytes.value_or(0), 0);
  EXPECT_FALSE(space_of(folder_ / "no folder" / "a.ledger").free_bytes);
}

}  // namespace
}  // namespace ligule::work
