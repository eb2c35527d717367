// rebuild, and gathering from a ledger file itself.
#include <filesystem>

#include "tests/sync/desk/season_fixture.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::desk {
namespace {

using testing::HasSubstr;

TEST_F(SeasonCommands, RebuildMakesAnEqualLedgerFromSeasonFiles) {
  const std::string file = sealed();
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub", "--label", "N"}).exit, 0);
  ASSERT_EQ(desk({"gather", "--ledger", office_, file}).exit, 0);
  const std::string made = folder_ / "made.ligule";
  const Ran ran =
      desk({"rebuild", "--ledger", made, "--trusted-by", office_, file, "--like", north_});
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("equal to " + north_ + " in every record"));
  EXPECT_EQ(digest_of(made), digest_of(office_));
  EXPECT_EQ(desk({"rebuild", "--ledger", made, "--trusted-by", office_, file}).exit, 1)
      << "something is there";
  const Ran by_key =
      desk({"rebuild", "--ledger", folder_ / "two.ligule", "--key", north_ + ".pub", file});
  EXPECT_EQ(by_key.exit, 0) << by_key.err;
}

TEST_F(SeasonCommands, RebuildTellsWhatLacks) {
  sealed();
  ASSERT_EQ(desk({"seal", "--ledger", north_, "--out", out_ + "/late", "--from", "3"}).exit, 0);
  const std::string late = out_ + "/late/" + files_->list(out_ + "/late").value().front();
  const std::string made = folder_ / "made.ligule";
  const Ran ran =
      desk({"rebuild", "--ledger", made, "--key", north_ + ".pub", late, "--like", north_});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.out, HasSubstr("gap: records 1 to 2 of North 1"));
  EXPECT_THAT(ran.out,
              HasSubstr("records 1 to 2 of North 1 are in " + north_ + " and not in " + made));
  const std::string south = folder_ / "south.ligule";
  ASSERT_EQ(enrol(south, plan_folder_).exit, 0);
  const Ran other = desk({"rebuild", "--ledger", folder_ / "two.ligule", "--key", north_ + ".pub",
                          late, "--like", south});
  EXPECT_EQ(other.exit, 1);
  EXPECT_THAT(other.out, HasSubstr("are in " + south + " and not in "));
  EXPECT_THAT(other.out, HasSubstr("and not in " + south));
}

TEST_F(SeasonCommands, RebuildThatCannotBelieveAnybodyLeavesNothing) {
  const std::string file = sealed();
  const std::string made = folder_ / "made.ligule";
  const Ran nobody = desk({"rebuild", "--ledger", made, file});
  EXPECT_EQ(nobody.exit, 1);
  EXPECT_THAT(nobody.err, HasSubstr("nobody says whose season files to believe"));
  const std::string south = folder_ / "south.ligule";
  ASSERT_EQ(enrol(south, plan_folder_).exit, 0);
  const Ran wrong = desk({"rebuild", "--ledger", made, "--key", south + ".pub", file});
  EXPECT_EQ(wrong.exit, 1);
  EXPECT_THAT(wrong.err, HasSubstr("signer not known here"));
  EXPECT_FALSE(std::filesystem::exists(made)) << "it held nothing";
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub", "--revoke"}).exit, 0);
  const Ran revoked =
      desk({"rebuild", "--ledger", made, "--trusted-by", office_, "--key", north_ + ".pub", file});
  EXPECT_THAT(revoked.err, HasSubstr("this key was revoked"));
  EXPECT_EQ(desk({"rebuild", "--ledger", made, "--trusted-by", made, file}).exit, 2);
}

// The desk's own records come back too, and each difference is told.
TEST_F(SeasonCommands, RebuildBelievesWhatTheDeskWroteItself) {
  ASSERT_EQ(desk({"enrol", "--ledger", office_, plan_folder_, "--device", "Desk"}).exit, 0);
  ASSERT_EQ(desk({"seal", "--ledger", office_, "--out", out_}).exit, 0);
  const std::string file = out_ + "/" + files_->list(out_).value().front();
  const std::string made = folder_ / "made.ligule";
  const Ran ran =
      desk({"rebuild", "--ledger", made, "--trusted-by", office_, file, "--like", office_});
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(desk({"rebuild", "--ledger", folder_ / "two.ligule", "--trusted-by", office_, file,
                  "--like", folder_ / "two.ligule"})
                .exit,
            2)
      << "it is not there yet";
  EXPECT_FALSE(std::filesystem::exists(folder_ / "two.ligule"));
}

// What no season file holds comes from the tablet's ledger itself, or a copy of it.
TEST_F(SeasonCommands, ALostKeysLastRecordsComeByACopy) {
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  const std::string first_key = folder_ / "first.pub";
  std::filesystem::copy_file(north_ + ".pub", first_key);
  std::filesystem::remove(north_ + ".key");
  write_plan(two_block_plan({"ridge", "north", "TF27"}), folder_ / "more");
  ASSERT_EQ(desk({"enrol", "--ledger", north_, folder_ / "more"}).exit, 0);
  ASSERT_EQ(desk({"seal", "--ledger", north_, "--out", out_}).exit, 0);
  const std::string file = out_ + "/" + files_->list(out_).value().front();
  ASSERT_EQ(desk({"trust", "--ledger", office_, first_key}).exit, 0);
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub"}).exit, 0);
  const Ran lacking = desk({"gather", "--ledger", office_, file});
  EXPECT_THAT(lacking.out, HasSubstr("gap: no record of the stream that North 1"));
  const Ran whole = desk({"gather", "--ledger", office_, "--copy", north_});
  EXPECT_EQ(whole.exit, 0) << whole.err;
  EXPECT_EQ(digest_of(office_), digest_of(north_));
  EXPECT_EQ(desk({"gather", "--ledger", office_, "--copy", folder_ / "none"}).exit, 2);
  EXPECT_EQ(desk({"gather", "--ledger", office_}).exit, 2) << "nothing is named";
  const Ran made = desk({"rebuild", "--ledger", folder_ / "made.ligule", "--trusted-by", office_,
                         file, "--copy", north_, "--like", north_});
  EXPECT_EQ(made.exit, 0) << made.err;
  EXPECT_EQ(desk({"rebuild", "--ledger", folder_ / "two.ligule", "--trusted-by", office_}).exit, 2);
}

// A ledger that was copied and went on twice: which branch is kept is said by a file of it, and
// then the order of the files does not matter.
TEST_F(SeasonCommands, TheBranchToBeKeptIsNamed) {
  seal::Season kept = seal::small_season();
  seal::Season other = seal::small_season();
  kept.add_note("as it was on the tablet");
  other.add_note("as it was on a copy of the tablet");
  const auto write = [&](const char* name, const std::string& bytes) {
    const std::string path = folder_ / name;
    EXPECT_TRUE(files_->write_durably(path, bytes, files::Access::kEveryone));
    return path;
  };
  const std::string mine = write("kept.zip", kept.sealed());
  const std::string theirs = write("other.zip", other.sealed());
  const std::string pub = write("n.pub", seal::public_key_text(kept.key.public_key()));
  std::vector<std::string> digests;
  for (const bool mine_first : {true, false}) {
    const std::string made = folder_ / (mine_first ? "one.ligule" : "two.ligule");
    const Ran ran = desk({"rebuild", "--ledger", made, "--key", pub, "--branch", mine,
                          mine_first ? mine : theirs, mine_first ? theirs : mine});
    EXPECT_EQ(ran.exit, 1);
    EXPECT_THAT(ran.err, HasSubstr("forks at record 5"));
    EXPECT_THAT(ran.err, HasSubstr("other.zip was not taken in"));
    digests.push_back(digest_of(made));
  }
  EXPECT_EQ(digests[0], digests[1]);
  ASSERT_EQ(desk({"trust", "--ledger", office_, pub}).exit, 0);
  ASSERT_EQ(desk({"gather", "--ledger", office_, "--branch", mine}).exit, 0);
  EXPECT_EQ(desk({"gather", "--ledger", office_, theirs}).exit, 1);
  EXPECT_EQ(digest_of(office_), digests[0]);
}

}  // namespace
}  // namespace ligule::desk
