// The desk meets a ledger that an older version wrote.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <sstream>

#include "storage/ledger/file_form.h"
#include "sync/desk/desk.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/sync/desk/ran.h"

namespace ligule::desk {
namespace {

using testing::HasSubstr;
using testing::Not;

// One of the first version, as it was written then (tests/storage/ledger/data), and a copy of it
// to be gathered.
class OldLedger : public testing::Test {
 protected:
  OldLedger() {
    for (const std::string& name : {ledger_, other_})
      std::filesystem::copy_file(
          std::filesystem::path(LIGULE_TEST_DATA) / "storage/ledger/data/version1.ledger", name);
  }
  Ran desk(const std::vector<std::string>& arguments) {
    const auto files = files::real_file_system();
    std::ostringstream out, err;
    const int exit = run(arguments, out, err, *files);
    return {exit, out.str(), err.str()};
  }
  Ran gather() { return desk({"gather", "--ledger", ledger_, "--copy", other_}); }
  static std::int64_t version(const std::string& path) {
    return ledger::file_form(path).value().version;
  }
  [[nodiscard]] std::string copy() const { return ledger_ + ".version-1"; }

  files::TestFolder folder_;
  std::string ledger_ = folder_ / "desk.ligule";
  std::string other_ = folder_ / "other.ligule";
};

TEST_F(OldLedger, IsCopiedAndToldBeforeItIsBroughtToThisVersion) {
  const Ran ran = gather();
  EXPECT_THAT(ran.err, HasSubstr("signer not known here")) << "of the other tablet, as ever";
  EXPECT_THAT(ran.out,
              HasSubstr(ledger_ + ": was written by an older version and is brought to this one; "
                                  "all 9 records stay as they are, and the file as it was is "
                                  "desk.ligule.version-1 beside it\n"));
  EXPECT_EQ(version(ledger_), 2);
  EXPECT_EQ(version(copy()), 1);
  EXPECT_EQ(ledger::sample::file_bytes(copy()).size(), ledger::sample::file_bytes(other_).size());
  EXPECT_THAT(gather().out, Not(HasSubstr("older version"))) << "told once";
  EXPECT_EQ(version(other_), 1) << "what is only read stays as it is";
}

TEST_F(OldLedger, IsLeftAsItIsByWhatOnlyReads) {
  EXPECT_EQ(desk({"ledger-check", "--ledger", ledger_}).exit, 0);
  EXPECT_EQ(desk({"settle", "--ledger", ledger_}).exit, 0);
  EXPECT_EQ(version(ledger_), 1);
  EXPECT_FALSE(std::filesystem::exists(copy()));
}

TEST_F(OldLedger, IsNotTouchedWhereItCannotBeCopied) {
  std::filesystem::create_directories(copy() +
                                      ".unfinished/in-the-way");  // where the copy is begun
  const Ran ran = gather();
  EXPECT_NE(ran.exit, 0);
  EXPECT_THAT(ran.err, HasSubstr("nothing was gathered"));
  EXPECT_EQ(ran.out, "");
  EXPECT_EQ(version(ledger_), 1);
}

}  // namespace
}  // namespace ligule::desk
