#include "app/work/preferences.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "storage/trial/identity.h"
#include "tests/storage/files/faulty_file_system.h"

namespace ligule::work {
namespace {

class PreferencesBesideTheLedger : public testing::Test {
 protected:
  flow::Preferences loaded() {
    auto read = load_preferences(*files_, path_);
    EXPECT_TRUE(read.has_value());
    return read.value_or(flow::Preferences{});
  }
  void write(std::string_view text) { std::ofstream(path_) << text; }

  files::TestFolder folder_;
  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  files::Path path_ = preferences_path((folder_.path() / "a.ledger").string());
};

TEST_F(PreferencesBesideTheLedger, LieUnderItsName) {
  EXPECT_EQ(path_.filename(), "a.ledger.preferences");
}

TEST_F(PreferencesBesideTheLedger, WithoutAFileNothingIsChosen) {
  EXPECT_EQ(loaded(), flow::Preferences());
}

TEST_F(PreferencesBesideTheLedger, ComeBackAsTheyWere) {
  flow::Preferences chosen;
  EXPECT_TRUE(keep_preferences(*files_, path_, chosen));
  EXPECT_EQ(loaded(), chosen);
  chosen.dusk = true;
  chosen.repeats = 20;
  chosen.ppi = 181.6;
  chosen.scale = {"/dev/serial/by-id/usb-one", "flags_first", 19200, "7E1", 5, "10", "0.02", "kg"};
  chosen.cautions_read[person_id("AB")] = {{"harvest", "2026-05-04"}, {"heat", "2026-05-03"}};
  chosen.nobody = {"es", true, true, true, "lb", "cm"};
  chosen.people[person_id("AB")] = {"en", false, true, false, "", "in"};
  chosen.people[person_id("CD")] = {"es", true, false, true, "kg", ""};
  EXPECT_TRUE(keep_preferences(*files_, path_, chosen));
  EXPECT_EQ(loaded(), chosen);
}

TEST_F(PreferencesBesideTheLedger, ABadLineDoesNotCostTheOthers) {
  write(R"({"format": 1, "preferences": {
    "tablet": {"dusk": "yes", "ppi": "a lot"}, "nobody": {"language": "es", "wings": "two"},
    "person of no id": {"gloves": "yes"}, "weather": {"rain": "yes"}}})");
  flow::Preferences expected;
  expected.dusk = true;
  expected.nobody.language = "es";
  EXPECT_EQ(loaded(), expected);
  write(
      R"({"format": 1, "preferences": {"scale": {"port": "/dev/a", "baud": "fast", "interval": "-5"}}})");
  EXPECT_EQ(loaded().scale, (flow::ScaleChoice{"/dev/a", "", 9600, "8N1", 1}));
  for (const char* ppi : {"0", "-189", "12", "5000", "nan"}) {
    write(R"({"format": 1, "preferences": {"tablet": {"ppi": ")" + std::string(ppi) + "\"}}}");
    EXPECT_FALSE(loaded().ppi.has_value()) << ppi;
  }
}

TEST_F(PreferencesBesideTheLedger, AnUnreadableFileIsAnError) {
  write("nonsense");
  const auto read = load_preferences(*files_, path_);
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().kind, ErrorKind::kInvalid);
}

TEST_F(PreferencesBesideTheLedger, AFullDiskIsAnErrorAndLeavesTheOldOnes) {
  ASSERT_TRUE(keep_preferences(*files_, path_, {}));
  files::FaultyFileSystem faulty(*files_);
  faulty.fail_at(1);
  flow::Preferences chosen;
  chosen.dusk = true;
  const auto kept = keep_preferences(faulty, path_, chosen);
  ASSERT_FALSE(kept.has_value());
  EXPECT_EQ(kept.error().kind, ErrorKind::kIo);
  EXPECT_FALSE(loaded().dusk);
}

}  // namespace
}  // namespace ligule::work
