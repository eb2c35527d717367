#include "storage/files/preference_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>

#include "tests/storage/files/faulty_file_system.h"

namespace ligule::files {
namespace {

using testing::HasSubstr;

class PreferenceFile : public testing::Test {
 protected:
  void write(std::string_view text) { std::ofstream(file_) << text; }
  Error fault() {
    const auto read = read_preferences(*files_, file_);
    EXPECT_FALSE(read.has_value());
    return read ? Error{} : read.error();
  }

  TestFolder folder_;
  Path file_ = folder_.path() / "a.ledger.preferences";
  std::unique_ptr<FileSystem> files_ = real_file_system();
};

const PreferenceTexts some{{"tablet", {{"theme", "dusk"}, {"ppi", "188.9"}}},
                           {"person 1", {{"language", "es"}, {"name", "\"Ñ\"\n"}}}};

TEST_F(PreferenceFile, WhatIsWrittenIsReadAgain) {
  ASSERT_TRUE(write_preferences(*files_, file_, some));
  EXPECT_EQ(read_preferences(*files_, file_).value(), some);
  ASSERT_TRUE(write_preferences(*files_, file_, {}));
  EXPECT_EQ(read_preferences(*files_, file_).value(), PreferenceTexts());
}

TEST_F(PreferenceFile, NoFileIsNotFound) {
  EXPECT_EQ(fault().kind, ErrorKind::kNotFound);
}

TEST_F(PreferenceFile, AnythingElseIsSaidToBeNone) {
  for (const char* text :
       {"[]", "{}", "7", R"({"format": "1", "preferences": {}})", R"({"format": 1})",
        R"({"format": 1, "preferences": []})", R"({"format": 1, "preferences": {"a": 1}})",
        R"({"format": 1, "preferences": {"a": {"b": 1}}})"}) {
    write(text);
    EXPECT_EQ(fault().kind, ErrorKind::kInvalid) << text;
    EXPECT_EQ(fault().where, file_.string()) << text;
  }
  write("{\n\n,");
  EXPECT_THAT(fault().where, HasSubstr("line 3"));
}

TEST_F(PreferenceFile, OneOfALaterVersionIsNotGuessedAt) {
  write(R"({"format": 2, "preferences": {}})");
  EXPECT_EQ(fault().kind, ErrorKind::kNewerVersion);
}

TEST_F(PreferenceFile, AFullDiskLeavesTheOldOne) {
  ASSERT_TRUE(write_preferences(*files_, file_, some));
  FaultyFileSystem faulty(*files_);
  faulty.fail_at(1);
  const auto written = write_preferences(faulty, file_, {});
  ASSERT_FALSE(written.has_value());
  EXPECT_EQ(written.error().kind, ErrorKind::kIo);
  EXPECT_EQ(read_preferences(*files_, file_).value(), some);
  faulty.fail_at(1);
  const auto read = read_preferences(faulty, file_);
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().kind, ErrorKind::kIo);
}

TEST_F(PreferenceFile, ATextThatIsNoUtf8IsWrittenAllTheSame) {
  ASSERT_TRUE(write_preferences(*files_, file_, {{"a", {{"b", "\xff"}}}}));
  EXPECT_TRUE(read_preferences(*files_, file_));
}

}  // namespace
}  // namespace ligule::files
