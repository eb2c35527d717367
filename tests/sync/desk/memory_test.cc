// What the desk's program does when the machine has too little memory, or a file is none.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "sync/desk/desk.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/files/little_memory.h"

namespace ligule::desk {
namespace {

using testing::HasSubstr;

class DeskMemory : public testing::Test {
 protected:
  // What `ligule-desk verify FILE` says and ends with, in 256 MiB and 20 seconds.
  static std::string verified(const files::Path& file) {
    return files::in_little_memory(std::uint64_t{256} << 20U, 20, [&] {
      const auto files = files::real_file_system();
      std::ostringstream out, err;
      const int exit = run({"verify", file.string()}, out, err, *files);
      return "exit " + std::to_string(exit) + ": " + out.str() + err.str();
    });
  }
  files::Path holes(const char* name, std::uintmax_t bytes) {
    const files::Path file = folder_ / name;
    std::ofstream(file) << "PK\x03\x04";
    std::filesystem::resize_file(file, bytes);  // a hole: takes no room on the disk
    return file;
  }

  files::TestFolder folder_;
};

TEST_F(DeskMemory, TooLittleOfItIsOneLine) {
  if (!files::memory_is_limited()) GTEST_SKIP() << "SKIPPED: no limit of memory holds here";
  EXPECT_EQ(verified(holes("large.zip", std::uintmax_t{400} << 20U)),
            "exit 2: there is not enough memory for this (close other programs, or take a machine "
            "with more memory)\n");
}

TEST_F(DeskMemory, AFileOverTheLimitIsRefusedUnread) {
  const std::string said = verified(holes("huge.zip", std::uintmax_t{5} << 30U));
  EXPECT_THAT(said, HasSubstr("exit 2: "));
  EXPECT_THAT(said, HasSubstr("huge.zip: the file holds more than 536870912 bytes"));
}

TEST_F(DeskMemory, APipeOrDeviceOrFolderIsNoSeasonFile) {
  const files::Path pipe = folder_ / "pipe.zip";
  ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
  EXPECT_THAT(verified(pipe), HasSubstr("pipe.zip: it is no plain file"));
  EXPECT_THAT(verified("/dev/zero"), HasSubstr("/dev/zero: it is no plain file"));
  EXPECT_THAT(verified(folder_.path()), HasSubstr("exit 2: "));
}

}  // namespace
}  // namespace ligule::desk
