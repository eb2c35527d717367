#include "app/work/media.h"

#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using ledger::sample::Folder;

TEST(Media, FoldersOfANamedRootArePlacesInOrderAndFilesAreNot) {
  const Folder folder;
  std::filesystem::create_directory(folder.file("STICK"));
  std::filesystem::create_directory(folder.file("CARD"));
  ledger::sample::write_bytes(folder.file("note.txt"), "x");
  const auto files = files::real_file_system();
  const auto places = copy_places(*files, {{folder.file("")}, false});
  ASSERT_EQ(places.size(), 2U);
  EXPECT_EQ(places[0].name, "CARD");
  EXPECT_EQ(places[1].path, folder.file("STICK"));
}

TEST(Media, WhereOnlyDisksCountAPlainFolderIsNoPlace) {
  const Folder folder;
  std::filesystem::create_directory(folder.file("forgotten"));
  const auto files = files::real_file_system();
  EXPECT_TRUE(copy_places(*files, {{folder.file("")}, true}).empty());
  // A folder that is a disk of its own: every Linux has /proc.
  const auto places = copy_places(*files, {{"/"}, true});
  EXPECT_TRUE(std::ranges::any_of(places, [](const auto& p) { return p.path == "/proc"; }));
}

TEST(Media, ARootThatIsNotThereHasNothing) {
  const auto files = files::real_file_system();
  EXPECT_TRUE(copy_places(*files, {{"/no/such/folder"}, false}).empty());
}

}  // namespace
}  // namespace ligule::work
