#include "storage/files/file_system.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>

#include "tests/storage/files/faulty_file_system.h"

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr std::uint64_t kLimit = 1U << 20U;

class RealFiles : public testing::Test {
 protected:
  std::string read(const Path& file) {
    return files_->read(file, kLimit).value_or("(cannot read)");
  }
  void write(const Path& file, std::string_view bytes) {
    ASSERT_TRUE(files_->write_durably(file, bytes, Access::kEveryone).has_value());
  }
  static unsigned mode_of(const Path& file) {
    struct stat about {};
    return ::stat(file.c_str(), &about) == 0 ? about.st_mode & 0777U : 0U;
  }

  TestFolder folder_;
  std::unique_ptr<FileSystem> files_ = real_file_system();
};

TEST_F(RealFiles, WhatIsWrittenReadsBack) {
  const std::string bytes("a\0b\r\n\xff", 6);
  write(folder_ / "x", bytes);
  EXPECT_EQ(read(folder_ / "x"), bytes);
  EXPECT_EQ(files_->size(folder_ / "x").value_or(0), 6U);
}

TEST_F(RealFiles, AnEmptyFileAndAFileOfManyChunksReadBack) {
  write(folder_ / "empty", "");
  EXPECT_EQ(read(folder_ / "empty"), "");
  std::string large(300'001, 'x');
  large[200'000] = 'y';
  write(folder_ / "large", large);
  EXPECT_EQ(read(folder_ / "large"), large);
}

TEST_F(RealFiles, WritingReplacesAndLeavesNoTemporaryFile) {
  write(folder_ / "x", "old and long");
  write(folder_ / "x", "new");
  EXPECT_EQ(read(folder_ / "x"), "new");
  EXPECT_THAT(files_->list(folder_.path()).value(), ElementsAre("x"));
}

TEST_F(RealFiles, ManyFilesAreWrittenAtOnce) {
  write(folder_ / "x0", "old");
  ASSERT_TRUE(files_->make_folders(folder_ / "below"));
  std::vector<std::string> texts;
  for (int i = 0; i < 20; ++i) texts.push_back("text " + std::to_string(i));
  std::vector<NewFile> all;
  for (int i = 0; i < 20; ++i) {
    const std::string name = (i % 2 == 0 ? "x" : "below/x") + std::to_string(i);
    all.push_back({folder_.path() / name, texts[static_cast<std::size_t>(i)]});
  }
  ASSERT_TRUE(files_->write_all_durably(all, Access::kEveryone));
  for (const NewFile& each : all) EXPECT_EQ(read(each.file), each.bytes);
  EXPECT_EQ(files_->list(folder_.path()).value().size(), 11U);
  EXPECT_EQ(files_->list(folder_ / "below").value().size(), 10U);
}

TEST_F(RealFiles, WhereOneOfManyCannotBeWrittenAllStayAsTheyWere) {
  write(folder_ / "a", "old");
  const std::vector<NewFile> all = {
      {folder_ / "a", "new"}, {folder_.path() / "nowhere" / "b", "new"}, {folder_ / "c", "new"}};
  const auto written = files_->write_all_durably(all, Access::kEveryone);
  ASSERT_FALSE(written);
  EXPECT_EQ(written.error().kind, ErrorKind::kNotFound);
  EXPECT_THAT(written.error().where, HasSubstr("nowhere/b"));
  EXPECT_EQ(read(folder_ / "a"), "old");
  EXPECT_THAT(files_->list(folder_.path()).value(), ElementsAre("a"));
}

TEST_F(RealFiles, RightsAreThoseAskedForWhateverTheUmask) {
  const mode_t before = ::umask(0077);
  write(folder_ / "table.csv", "x");
  ::umask(0);
  ASSERT_TRUE(files_->write_durably(folder_ / "key", "x", Access::kOwnerOnly).has_value());
  ::umask(before);
  EXPECT_EQ(mode_of(folder_ / "table.csv"), 0644U);
  EXPECT_EQ(mode_of(folder_ / "key"), 0600U);
}

TEST_F(RealFiles, AFileInTheFolderOneStandsInCanBeWritten) {
  const Path before = std::filesystem::current_path();
  std::filesystem::current_path(folder_.path());
  write("bare-name", "x");
  std::filesystem::current_path(before);
  EXPECT_EQ(read(folder_ / "bare-name"), "x");
}

TEST_F(RealFiles, ReadingMoreThanTheLimitIsRefused) {
  write(folder_ / "x", "12345");
  EXPECT_EQ(files_->read(folder_ / "x", 5).value(), "12345");
  const auto more = files_->read(folder_ / "x", 4);
  ASSERT_FALSE(more.has_value());
  EXPECT_EQ(more.error().kind, ErrorKind::kInvalid);
  EXPECT_THAT(more.error().what, HasSubstr("more than 4 bytes"));
}

// Proves: a file of any size is refused by its size, before it is read into memory.
TEST_F(RealFiles, AFileFarOverTheLimitIsRefusedUnread) {
  const Path file = folder_ / "huge";
  write(file, "x");
  std::filesystem::resize_file(file, std::uintmax_t{1} << 36U);  // a hole of 64 GiB
  const auto read = files_->read(file, 1000);
  ASSERT_FALSE(read.has_value());
  EXPECT_THAT(read.error().what, HasSubstr("more than 1000 bytes"));
}

TEST_F(RealFiles, APipeIsNoFileAndNobodyWaitsForIt) {
  const Path pipe = folder_ / "pipe";
  ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
  const auto read = files_->read(pipe, 1000);
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().what, "it is no plain file");
  EXPECT_EQ(files_->read("/dev/zero", 1000).error().what, "it is no plain file");
  files_->forget_cached(pipe);  // would wait for a writer too
  EXPECT_EQ(files_->read(folder_.path(), 1000).error().kind, ErrorKind::kIo);
}

TEST_F(RealFiles, WhatIsNotThereIsNotFoundByNameAndWhy) {
  const Path gone = folder_ / "gone";
  const auto check = [&](const auto& result) {
    ASSERT_FALSE(result.has_value());
    EXPECT_EQ(result.error().kind, ErrorKind::kNotFound);
    EXPECT_THAT(result.error().where, HasSubstr("gone"));
    EXPECT_THAT(result.error().what, HasSubstr("No such file or directory"));
    EXPECT_THAT(result.error().mend, HasSubstr("check the name"));
  };
  check(files_->read(gone, kLimit));
  check(files_->size(gone));
  check(files_->list(gone));
  check(files_->remove(gone));
  check(files_->rename(gone, folder_ / "x"));
  check(files_->write_durably(gone / "x", "y", Access::kEveryone));
  check(files_->copy_durably(gone, folder_ / "x", Access::kEveryone, kLimit));
  EXPECT_FALSE(files_->exists(gone).value());
  EXPECT_FALSE(files_->exists(gone / "below").value());
}

TEST_F(RealFiles, AFolderIsNoFile) {
  const auto bytes = files_->read(folder_.path(), kLimit);
  ASSERT_FALSE(bytes.has_value());
  EXPECT_EQ(bytes.error().kind, ErrorKind::kIo);
  EXPECT_THAT(bytes.error().mend, HasSubstr("a file was meant"));
  const auto written = files_->write_durably(folder_.path(), "x", Access::kEveryone);
  ASSERT_FALSE(written.has_value());
  EXPECT_EQ(written.error().kind, ErrorKind::kIo);
  EXPECT_THAT(files_->list(folder_.path()).value(), IsEmpty());
}

TEST_F(RealFiles, FoldersAreMadeOnceAndAgain) {
  const Path deep = folder_ / "a" / "b" / "c";
  EXPECT_TRUE(files_->make_folders(deep).has_value());
  EXPECT_TRUE(files_->make_folders(deep).has_value());
  EXPECT_TRUE(files_->exists(deep).value());
  write(folder_ / "file", "x");
  const auto below_a_file = files_->make_folders(folder_ / "file" / "b");
  ASSERT_FALSE(below_a_file.has_value());
  EXPECT_THAT(below_a_file.error().where, HasSubstr("file/b"));
  std::filesystem::create_symlink("nowhere", folder_ / "link");
  const auto through_a_link = files_->make_folders(folder_ / "link");
  ASSERT_FALSE(through_a_link.has_value());
  EXPECT_THAT(through_a_link.error().what, HasSubstr("make the folder"));
}

TEST_F(RealFiles, ListIsSortedByByte) {
  for (const char* name : {"b", "a10", "a2", "B"}) write(folder_ / name, "x");
  EXPECT_THAT(files_->list(folder_.path()).value(), ElementsAre("B", "a10", "a2", "b"));
}

TEST_F(RealFiles, RenameReplacesAndRemoveRemoves) {
  write(folder_ / "a", "new");
  write(folder_ / "b", "old");
  ASSERT_TRUE(files_->rename(folder_ / "a", folder_ / "b").has_value());
  EXPECT_EQ(read(folder_ / "b"), "new");
  EXPECT_FALSE(files_->exists(folder_ / "a").value());
  ASSERT_TRUE(files_->remove(folder_ / "b").has_value());
  EXPECT_FALSE(files_->exists(folder_ / "b").value());
}

TEST_F(RealFiles, AFullDiskLeavesTheOldFileAndNoTemporaryOne) {
  // A limit on file size stands in for a full disk: the kernel refuses the write itself.
  write(folder_ / "x", "old");
  const pid_t child = ::fork();
  ASSERT_GE(child, 0);
  if (child == 0) {
    std::signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{1000, 1000};
    ::setrlimit(RLIMIT_FSIZE, &limit);
    const auto written =
        files_->write_durably(folder_ / "x", std::string(5000, 'n'), Access::kEveryone);
    const bool as_wanted = !written && written.error().kind == ErrorKind::kIo &&
                           written.error().mend == "free some space, then try again";
    ::_exit(as_wanted ? 0 : 1);
  }
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0);
  EXPECT_EQ(read(folder_ / "x"), "old");
  EXPECT_THAT(files_->list(folder_.path()).value(), ElementsAre("x"));
}

TEST_F(RealFiles, MissingRightsAreNamed) {
  // Root ignores the rights of folders, so the child becomes nobody first.
  const Path closed = folder_ / "closed";
  ASSERT_TRUE(files_->make_folders(closed).has_value());
  write(closed / "x", "old");
  std::filesystem::permissions(closed, std::filesystem::perms::none);
  const pid_t child = ::fork();
  ASSERT_GE(child, 0);
  if (child == 0) {
    if (::geteuid() == 0 && ::setuid(65534) != 0) ::_exit(2);
    const auto rights = [](const auto& result) {
      return !result && result.error().kind == ErrorKind::kIo &&
             result.error().mend.find("rights") != std::string::npos;
    };
    const bool as_wanted = rights(files_->read(closed / "x", kLimit)) &&
                           rights(files_->write_durably(closed / "y", "n", Access::kEveryone)) &&
                           rights(files_->exists(closed / "x")) && rights(files_->list(closed));
    ::_exit(as_wanted ? 0 : 1);
  }
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  std::filesystem::permissions(closed, std::filesystem::perms::owner_all);
  EXPECT_TRUE(WIFEXITED(status) && WEXITSTATUS(status) == 0);
}

TEST_F(RealFiles, ACopyIsTheSame) {
  write(folder_ / "season.zip", "bytes");
  ASSERT_TRUE(
      files_->copy_durably(folder_ / "season.zip", folder_ / "copy.zip", Access::kEveryone, kLimit)
          .has_value());
  EXPECT_EQ(read(folder_ / "copy.zip"), "bytes");
}

class FaultyFiles : public RealFiles {
 protected:
  FaultyFileSystem faulty_{*files_};
};

TEST_F(FaultyFiles, ACopyThatReadsBackDifferentlyIsDamagedAndRemoved) {
  write(folder_ / "season.zip", "bytes");
  faulty_.read_differently(folder_ / "copy.zip");
  const auto copied =
      faulty_.copy_durably(folder_ / "season.zip", folder_ / "copy.zip", Access::kEveryone, kLimit);
  ASSERT_FALSE(copied.has_value());
  EXPECT_EQ(copied.error().kind, ErrorKind::kDamaged);
  EXPECT_THAT(copied.error().what, HasSubstr("was removed"));
  EXPECT_FALSE(files_->exists(folder_ / "copy.zip").value());
}

TEST_F(FaultyFiles, EachActOfACopyCanFailAndIsReported) {
  write(folder_ / "season.zip", "bytes");
  for (std::size_t act = 1; act <= 3; ++act) {
    faulty_.fail_at(act);
    const auto copied = faulty_.copy_durably(folder_ / "season.zip", folder_ / "copy.zip",
                                             Access::kEveryone, kLimit);
    ASSERT_FALSE(copied.has_value()) << "act " << act;
    EXPECT_EQ(copied.error().kind, ErrorKind::kIo);
  }
  faulty_.fail_at(4);
  EXPECT_TRUE(
      faulty_.copy_durably(folder_ / "season.zip", folder_ / "copy.zip", Access::kEveryone, kLimit)
          .has_value());
  EXPECT_EQ(faulty_.acts(), 3U);
}

TEST_F(FaultyFiles, ADamagedCopyThatCannotBeRemovedSaysSo) {
  write(folder_ / "season.zip", "bytes");
  faulty_.read_differently(folder_ / "copy.zip");
  faulty_.fail_at(4);
  const auto copied =
      faulty_.copy_durably(folder_ / "season.zip", folder_ / "copy.zip", Access::kEveryone, kLimit);
  ASSERT_FALSE(copied.has_value());
  EXPECT_THAT(copied.error().what, HasSubstr("could not be removed"));
}

}  // namespace
}  // namespace ligule::files
