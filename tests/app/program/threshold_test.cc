// What a person reads before the tablet's own screens, through the real program.
#include "app/program/threshold.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <fstream>

#include "storage/ledger/file_form.h"
#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

using testing::HasSubstr;

// The user version of an SQLite file stands at offset 60, most significant byte first (SQLite,
// "Database File Format", section 1.3).
void write_version(const std::string& path, char version) {
  std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
  file.seekp(60);
  file.write("\0\0\0", 3);
  file.put(version);
}

// A ledger of the first version, as one was written then (tests/storage/ledger/data).
class OlderLedger : public testing::Test {
 protected:
  OlderLedger() {
    std::filesystem::copy_file(
        std::filesystem::path(LIGULE_TEST_DATA) / "storage/ledger/data/version1.ledger",
        site_.ledger());
  }
  // Without a day: it holds records that are no demonstration's.
  Ran play(std::string_view lines) {
    program::Arguments arguments = site_.drive(lines);
    arguments.today.reset();
    return run(arguments);
  }
  static std::int64_t version(const std::string& path) {
    return need(ledger::file_form(path)).version;
  }
  [[nodiscard]] std::string copy() const { return site_.ledger() + ".version-1"; }
  static std::string digest(const std::string& path) {
    return need(need(ledger::Ledger::open(path, ledger::Access::kReadOnly)).digest()).hex();
  }

  InventedSite site_;
};

TEST_F(OlderLedger, IsToldAndCopiedBeforeItIsBroughtToThisVersion) {
  const std::string before = digest(site_.ledger());
  const Ran ran = play(
      "expect \"of an older version\"\nexpect \"All 9 records stay exactly as they are\"\n"
      "expect \"site.ledger.version-1\"\ntap \"Go on\"\nexpect \"has the tablet\"\n");
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(version(site_.ledger()), 2);
  EXPECT_EQ(version(copy()), 1) << "as it was";
  EXPECT_EQ(digest(copy()), before);
  const auto ledger = need(ledger::Ledger::open(site_.ledger(), ledger::Access::kReadOnly));
  EXPECT_TRUE(need(ledger.check()).empty());
  const auto spans = need(ledger.spans());
  EXPECT_TRUE(std::ranges::any_of(spans, [](const ledger::Span& span) { return span.last == 9; }))
      << "nothing is lost";
  EXPECT_EQ(play("expect \"has the tablet\"\n").errors, "") << "told once";
}

TEST_F(OlderLedger, StaysAsItIsWhileNobodyWantsItOtherwise) {
  const Ran ran = play("tap \"Not now\"\n");
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(ran.exit, program::Exit::kDone);
  EXPECT_EQ(version(site_.ledger()), 1);
  EXPECT_FALSE(std::filesystem::exists(copy()));
}

TEST_F(OlderLedger, IsNotTouchedWhereItCannotBeCopied) {
  std::filesystem::create_directory(copy() + ".unfinished");  // where the copy is begun
  std::filesystem::create_directory(copy() + ".unfinished/in-the-way");
  // Who started it from an icon sees no terminal.
  const Ran ran = play(
      "tap \"Go on\"\nexpect \"can't be opened\"\nexpect \"Nothing was changed\"\ntap \"Close\"\n");
  EXPECT_EQ(ran.exit, program::Exit::kCouldNot);
  EXPECT_THAT(ran.errors, testing::Not(HasSubstr("test.drive"))) << "every line was played";
  EXPECT_EQ(version(site_.ledger()), 1);
}

// Proves: a copy that was made once, before somebody went on with the older program, is not taken
// for one of what the ledger holds now.
TEST_F(OlderLedger, IsCopiedAnewWhereTheCopyThatIsThereHoldsSomethingElse) {
  const auto other = need(ledger::Ledger::create(copy()));
  const std::string before = digest(site_.ledger());
  const Ran ran =
      play("expect \"site.ledger.version-1-2\"\ntap \"Go on\"\nexpect \"has the tablet\"\n");
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(version(copy() + "-2"), 1);
  EXPECT_EQ(digest(copy() + "-2"), before);
  EXPECT_NE(digest(copy()), before) << "what was there stays";
}

TEST_F(OlderLedger, IsCopiedOnceHoweverOftenItIsTried) {
  const auto files = files::real_file_system();
  const ledger::FileForm form = need(ledger::file_form(site_.ledger()));
  EXPECT_TRUE(form.older());
  EXPECT_EQ(form.records, 9);
  for (int again = 0; again < 2; ++again) {
    const auto place = need(ledger::copy_before(*files, site_.ledger(), form));
    EXPECT_EQ(place.string(), copy());
    EXPECT_TRUE(ledger::keep_copy(*files, site_.ledger(), place));
  }
  EXPECT_EQ(version(copy()), 1);
}

// A tablet is started from an icon: what keeps it closed stands on the glass, too.
TEST(NewerLedger, IsRefusedInPlainWordsOnTheGlass) {
  const InventedSite site;
  site.enrol();
  write_version(site.ledger(), 99);
  const Ran ran = run(site.drive(
      "expect \"can't be opened\"\nexpect \"the tablet's data are of version 99, this program "
      "reads 2\"\n"
      "expect \"A newer version of the program wrote it\"\nexpect \"Nothing was changed\"\n"
      "tap \"Close\"\n"));
  EXPECT_EQ(ran.exit, program::Exit::kCouldNot);
  EXPECT_THAT(ran.errors, HasSubstr("the ledger is of version 99"));
  EXPECT_THAT(ran.errors, testing::Not(HasSubstr("test.drive"))) << "every line was played";
  write_version(site.ledger(), 2);
  EXPECT_TRUE(need(need(ledger::Ledger::open(site.ledger())).check()).empty());
}

}  // namespace
}  // namespace ligule::program_test
