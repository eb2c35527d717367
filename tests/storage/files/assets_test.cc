#include "storage/files/assets.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/files/environment.h"
#include "tests/storage/files/faulty_file_system.h"

namespace ligule::files {
namespace {

using testing::HasSubstr;

class Assets : public testing::Test {
 protected:
  Path made(const char* name) {
    EXPECT_TRUE(files_->make_folders(folder_ / name).has_value());
    EXPECT_TRUE(files_->write_durably(folder_ / name / "measures.json", "{}", Access::kEveryone)
                    .has_value());
    return folder_ / name;
  }
  TestFolder folder_;
  std::unique_ptr<FileSystem> files_ = real_file_system();
};

TEST_F(Assets, TheNamedFolderComesFirst) {
  const AssetPlaces places{made("named").string(), made("beside"), made("source")};
  EXPECT_EQ(find_assets(*files_, places).value(), folder_ / "named");
}

TEST_F(Assets, ANamedFolderThatHoldsNoAssetsIsNotPassedOver) {
  const AssetPlaces places{(folder_ / "gone").string(), made("beside"), made("source")};
  const auto found = find_assets(*files_, places);
  ASSERT_FALSE(found.has_value());
  EXPECT_EQ(found.error().kind, ErrorKind::kNotFound);
  EXPECT_THAT(found.error().where, HasSubstr("gone"));
}

TEST_F(Assets, BesideTheProgramComesBeforeTheSourceTree) {
  EXPECT_EQ(find_assets(*files_, {{}, made("beside"), made("source")}).value(), folder_ / "beside");
  EXPECT_EQ(find_assets(*files_, {{}, folder_ / "gone", made("source")}).value(),
            folder_ / "source");
}

TEST_F(Assets, WhenNowhereEveryPlaceIsNamed) {
  const auto found = find_assets(*files_, {{}, folder_ / "one", folder_ / "two"});
  ASSERT_FALSE(found.has_value());
  EXPECT_THAT(found.error().where, HasSubstr("one, "));
  EXPECT_THAT(found.error().where, HasSubstr("two"));
  EXPECT_THAT(found.error().mend, HasSubstr("LIGULE_ASSETS"));
}

TEST_F(Assets, APlaceThatCannotBeLookedAtIsSkipped) {
  const AssetPlaces places{{}, made("beside"), made("source")};
  FaultyFileSystem faulty(*files_);
  faulty.fail_at(1);
  EXPECT_EQ(find_assets(faulty, places).value(), folder_ / "source");
}

TEST_F(Assets, TheProgramItselfAndTheEnvironmentSayThePlaces) {
  {
    const TestEnvironment named("LIGULE_ASSETS", "/somewhere");
    EXPECT_EQ(asset_places().named, "/somewhere");
  }
  {
    const TestEnvironment empty("LIGULE_ASSETS", "");
    EXPECT_EQ(asset_places().named, std::nullopt);
  }
  EXPECT_EQ(asset_places().named, std::nullopt);
  // Each program has a folder of its own, so that each package can be installed alone.
  EXPECT_EQ(asset_places().beside_program.filename(), "files_test");
  EXPECT_EQ(asset_places().beside_program.parent_path().filename(), "share");
  EXPECT_EQ(find_assets(*files_).value(), LIGULE_SOURCE_ASSETS);
}

}  // namespace
}  // namespace ligule::files
