// enrol, seal, verify, trust, gather and ledger-check as a person runs them, one after the other.
#include <fstream>

#include "sync/seal/keys.h"
#include "tests/sync/desk/season_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

TEST_F(SeasonCommands, EnrolMakesTheLedgerAndSaysItsKey) {
  const Ran ran = enrol(north_, plan_folder_);
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("ledger of North 1, key "));
  EXPECT_THAT(ran.out, HasSubstr("trial TF26: enrolled, 4 plots of 2 entries, 2 occasions"));
  EXPECT_TRUE(std::filesystem::exists(north_ + ".key"));
  EXPECT_TRUE(std::filesystem::exists(north_ + ".pub"));
}

TEST_F(SeasonCommands, EnrollingTwiceChangesNothingAndSaysSo) {
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  const std::string before = digest_of(north_);
  const Ran again = desk({"enrol", "--ledger", north_, plan_folder_});
  EXPECT_EQ(again.exit, 0);
  EXPECT_THAT(again.out, HasSubstr("enrolled already as it stands, nothing changed"));
  EXPECT_EQ(digest_of(north_), before);
}

TEST_F(SeasonCommands, AFaultyPlanListsEveryFaultAndChangesNothing) {
  std::string plots = files_->read(plan_folder_ + "/plots.csv", 1 << 20).value();
  plots.replace(plots.find("102,"), 4, "101,");
  plots.replace(plots.find("A1", plots.find("202")), 2, "ZZ");
  ASSERT_TRUE(files_->write_durably(plan_folder_ + "/plots.csv", plots, files::Access::kEveryone));
  const Ran ran = enrol(north_, plan_folder_);
  EXPECT_EQ(ran.exit, 1);
  EXPECT_GE(lines(ran.err), 3U) << ran.err;
  EXPECT_THAT(ran.err, HasSubstr(plan_folder_ + "/plots.csv line ")) << "which plan is meant";
  EXPECT_THAT(ran.err, HasSubstr("nothing was enrolled"));
  EXPECT_FALSE(std::filesystem::exists(north_));
}

TEST_F(SeasonCommands, AnotherPlanUnderTheSameCodesIsRefused) {
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  const std::string before = digest_of(north_);
  const Ran other = enrol(north_, other_folder_);
  EXPECT_EQ(other.exit, 1);
  EXPECT_EQ(digest_of(north_), before);
  const Ran both = enrol(office_, plan_folder_ + "/../plan");
  EXPECT_EQ(both.exit, 0);
  const Ran twice = desk({"enrol", "--ledger", (folder_ / "new.ligule").string(), plan_folder_,
                          other_folder_, "--device", "X"});
  EXPECT_EQ(twice.exit, 1);
  EXPECT_THAT(twice.err, HasSubstr("same codes"));
  EXPECT_FALSE(std::filesystem::exists(folder_ / "new.ligule"));
}

TEST_F(SeasonCommands, EnrolRefusesArgumentsThatDoNotFit) {
  EXPECT_EQ(desk({"enrol", "--ledger", north_, plan_folder_}).exit, 2) << "no name for a new one";
  EXPECT_EQ(desk({"enrol", "--ledger", north_, plan_folder_, "--device", "X", "--demo"}).exit, 2);
  EXPECT_EQ(
      desk({"enrol", "--ledger", north_, plan_folder_, "--device", "X", "--today", "2026-06-01"})
          .exit,
      2);
  EXPECT_EQ(desk({"enrol", "--ledger", north_, plan_folder_, "--device", "X", "--demo", "--today",
                  "June"})
                .exit,
            2);
  EXPECT_EQ(desk({"enrol", "--ledger", north_, plan_folder_, "--device", " "}).exit, 2);
  EXPECT_EQ(enrol(north_, (folder_ / "none").string()).exit, 2);
  EXPECT_FALSE(std::filesystem::exists(north_));
  EXPECT_EQ(enrol((folder_ / "no-folder").string() + "/x.ligule", plan_folder_).exit, 2);
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  const Ran renamed = desk({"enrol", "--ledger", north_, plan_folder_, "--device", "South"});
  EXPECT_EQ(renamed.exit, 1);
  EXPECT_THAT(renamed.err, HasSubstr("the ledger is that of North 1"));
  const Ran demo =
      desk({"enrol", "--ledger", north_, plan_folder_, "--demo", "--today", "2026-06-01"});
  EXPECT_EQ(demo.exit, 1);
  EXPECT_THAT(demo.err, HasSubstr("the ledger is real"));
}

TEST_F(SeasonCommands, DemonstrationLedgersComeOutTheSameByteForByte) {
  std::vector<std::string> files;
  for (const char* name : {"one", "two"}) {
    const std::string ledger = (folder_ / name).string() + ".ligule";
    ASSERT_EQ(desk({"enrol", "--ledger", ledger, plan_folder_, "--device", "Demo", "--demo",
                    "--today", "2026-06-01"})
                  .exit,
              0);
    const std::string out = (folder_ / name).string();
    ASSERT_EQ(desk({"seal", "--ledger", ledger, "--out", out}).exit, 0);
    files.push_back(out + "/" + files_->list(out).value().front());
  }
  EXPECT_EQ(files_->read(files[0], 1 << 20), files_->read(files[1], 1 << 20));
  const Ran verified = desk({"verify", files[0]});
  EXPECT_THAT(verified.out, HasSubstr("never mix these into real results"));
  EXPECT_THAT(verified.out, HasSubstr("last record: 2026-06-01"));
  const Ran real =
      desk({"enrol", "--ledger", (folder_ / "one").string() + ".ligule", plan_folder_});
  EXPECT_EQ(real.exit, 1);
  EXPECT_THAT(real.err, HasSubstr("made for demonstration"));
}

TEST_F(SeasonCommands, SealSaysWhatItWroteAndThatNothingIsNew) {
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  const Ran first = desk({"seal", "--ledger", north_, "--out", out_});
  EXPECT_EQ(first.exit, 0) << first.err;
  EXPECT_THAT(first.out, HasSubstr("sealed records 1 to "));
  EXPECT_THAT(first.out, HasSubstr("read back and verified"));
  const Ran second = desk({"seal", "--ledger", north_, "--out", out_});
  EXPECT_EQ(second.exit, 0);
  EXPECT_THAT(second.out, HasSubstr("nothing new to seal: " + out_));
  const Ran elsewhere = desk({"seal", "--ledger", north_, "--out", out_ + "/stick"});
  EXPECT_EQ(elsewhere.exit, 0);
  EXPECT_THAT(elsewhere.out, HasSubstr("the same bytes were written"));
  EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", out_, "--from", "2"}).exit, 0);
}

TEST_F(SeasonCommands, ACopiedLedgerHasNothingOfItsOwnToSeal) {
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  std::filesystem::copy_file(north_, office_);
  const Ran ran = desk({"seal", "--ledger", office_, "--out", out_});
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err,
              HasSubstr("nothing was recorded in this ledger since it was made or copied"));
  EXPECT_THAT(ran.err, HasSubstr("begins a stream of its own"));
}

TEST_F(SeasonCommands, SealRefusesWhatItCannotSeal) {
  EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", out_}).exit, 2);
  EXPECT_EQ(desk({"seal", "--ledger", plan_folder_ + "/plots.csv", "--out", out_}).exit, 2);
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", out_, "--from", "0"}).exit, 2);
  EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", out_, "--from", "9999"}).exit, 2);
  EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", plan_folder_ + "/plots.csv"}).exit, 2);
  std::filesystem::remove(north_ + ".key");
  const Ran keyless = desk({"seal", "--ledger", north_, "--out", out_});
  EXPECT_EQ(keyless.exit, 2);
  EXPECT_EQ(lines(keyless.err), 2U);
}

TEST_F(SeasonCommands, AScannedCodeIsTrustedAsTheTabletCallsItself) {
  const std::string file = sealed();
  const auto stream = ledger::Ledger::open(north_).value().my_stream();
  const std::string code = seal::key_line(stream->public_key, stream->device);
  const Ran ran = desk({"trust", "--ledger", office_, "--text", code});
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("trusted: North 1, key " + seal::fingerprint(stream->public_key)));
  EXPECT_EQ(desk({"gather", "--ledger", office_, file}).exit, 0);
  // A second look does not rename what the desk named.
  EXPECT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub", "--label", "N"}).exit, 0);
  EXPECT_THAT(desk({"trust", "--ledger", office_, "--text", code}).out,
              HasSubstr("trusted: N, key"));
  for (const std::string& name : {std::string(), std::string("North\r")}) {
    const Ran odd =
        desk({"trust", "--ledger", office_, "--text", seal::key_line(stream->public_key, name)});
    EXPECT_EQ(odd.exit, 2);
    EXPECT_THAT(odd.err, HasSubstr("the tablet's name"));
  }
  const Ran half = desk({"trust", "--ledger", office_, "--text", code.substr(0, 30)});
  EXPECT_EQ(half.exit, 2);
  EXPECT_THAT(half.err, HasSubstr("no code of a tablet's key"));
  for (const std::vector<std::string>& more :
       {std::vector<std::string>{}, {north_ + ".pub", "--text", code}}) {
    std::vector<std::string> arguments{"trust", "--ledger", office_};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Ran unclear = desk(arguments);
    EXPECT_EQ(unclear.exit, 2);
    EXPECT_THAT(unclear.err, HasSubstr("which key is meant"));
  }
}

TEST_F(SeasonCommands, VerifyNamesTheSignerWhenTheLedgerKnowsThem) {
  const std::string file = sealed();
  const Ran stranger = desk({"verify", file});
  EXPECT_EQ(stranger.exit, 0) << stranger.err;
  EXPECT_THAT(stranger.out, HasSubstr("signer not known here: "));
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub", "--label", "tablet N"}).exit, 0);
  const Ran known = desk({"verify", file, "--ledger", office_});
  EXPECT_EQ(known.exit, 0) << known.err;
  EXPECT_THAT(known.out, HasSubstr("signer: tablet N, key "));
  ASSERT_EQ(desk({"gather", "--ledger", office_, file}).exit, 0);
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub", "--revoke", "--to-seq", "1"}).exit,
            0);
  const Ran revoked = desk({"verify", file, "--ledger", office_});
  EXPECT_EQ(revoked.exit, 1);
  EXPECT_THAT(revoked.err, HasSubstr("trusted no further than record 1"));
}

TEST_F(SeasonCommands, VerifyTellsDamageFromOtherFiles) {
  const std::string file = sealed();
  std::string bytes = files_->read(file, 1 << 20).value();
  bytes[bytes.size() / 2] ^= 1;
  ASSERT_TRUE(files_->write_durably(file, bytes, files::Access::kEveryone));
  const Ran damaged = desk({"verify", file});
  EXPECT_EQ(damaged.exit, 1);
  EXPECT_EQ(lines(damaged.err), 2U) << damaged.err;
  EXPECT_THAT(damaged.err, HasSubstr(file + " does not hold"));
  const Ran other = desk({"verify", plan_folder_ + "/plots.csv"});
  EXPECT_EQ(other.exit, 2);
  EXPECT_THAT(other.err, HasSubstr("plots.csv was not verified"));
  EXPECT_EQ(desk({"verify", (folder_ / "none.zip").string()}).exit, 2);
  EXPECT_EQ(desk({"verify", file, "--ledger", (folder_ / "none.ligule").string()}).exit, 2);
  EXPECT_EQ(desk({"verify"}).exit, 2);
}

TEST_F(SeasonCommands, GatherMakesNoLedgerUnderAMistypedName) {
  const Ran ran = desk({"gather", "--ledger", office_, sealed()});
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr(office_ + ": there is no such ledger"));
  EXPECT_THAT(ran.err, HasSubstr("ligule-desk trust"));
  EXPECT_FALSE(std::filesystem::exists(office_));
}

TEST_F(SeasonCommands, GatherNeedsTrustAndASecondTimeAddsNothing) {
  const std::string file = sealed();
  ASSERT_TRUE(ledger::Ledger::create(office_));
  const Ran before = desk({"gather", "--ledger", office_, file});
  EXPECT_EQ(before.exit, 1);
  EXPECT_THAT(before.err, HasSubstr("signer not known here"));
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub"}).exit, 0);
  const Ran first = desk({"gather", "--ledger", office_, file});
  EXPECT_EQ(first.exit, 0) << first.err;
  EXPECT_THAT(first.out, HasSubstr("North 1 (north.ligule), records 1 to "));
  EXPECT_THAT(first.out, HasSubstr("ledger digest: " + digest_of(north_)));
  const Ran second = desk({"gather", "--ledger", office_, file, file});
  EXPECT_EQ(second.exit, 0);
  EXPECT_THAT(second.out, HasSubstr("nothing new"));
  EXPECT_EQ(digest_of(office_), digest_of(north_));
}

TEST_F(SeasonCommands, GatherTakesTheGoodFilesAndNamesTheOthers) {
  const std::string file = sealed();
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub"}).exit, 0);
  const Ran ran =
      desk({"gather", "--ledger", office_, plan_folder_ + "/plots.csv", file, out_ + "/none.zip"});
  EXPECT_EQ(ran.exit, 2);
  EXPECT_THAT(ran.err, HasSubstr("plots.csv was not gathered"));
  EXPECT_THAT(ran.err, HasSubstr("none.zip was not gathered"));
  EXPECT_EQ(digest_of(office_), digest_of(north_));
  EXPECT_EQ(desk({"gather", "--ledger", plan_folder_ + "/plots.csv", file}).exit, 2);
}

TEST_F(SeasonCommands, GapsAreTold) {
  sealed();
  ASSERT_EQ(desk({"seal", "--ledger", north_, "--out", out_ + "/part", "--from", "3"}).exit, 0);
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub"}).exit, 0);
  const Ran ran = desk({"gather", "--ledger", office_,
                        out_ + "/part/" + files_->list(out_ + "/part").value().front()});
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("gap: records 1 to 2 of North 1"));
  EXPECT_THAT(ran.out, HasSubstr("1 gap, 0 conflicts"));
}

TEST_F(SeasonCommands, VerifyMakesTheWideTablesOfTrustedFilesAgain) {
  const std::string file = sealed();
  const Ran stranger = desk({"verify", file});
  EXPECT_THAT(stranger.out,
              HasSubstr("wide tables: cells, keys and references hold in definitions"));
  EXPECT_THAT(stranger.out, Not(HasSubstr("as this program makes them")));
  ASSERT_EQ(desk({"trust", "--ledger", office_, north_ + ".pub"}).exit, 0);
  const Ran trusted = desk({"verify", "--ledger", office_, file});
  EXPECT_THAT(trusted.out, HasSubstr("wide tables: as this program makes them of the records\n"));
}

TEST_F(SeasonCommands, TrustListsKeysAndWhatIsHeldOfThem) {
  EXPECT_EQ(desk({"trust", "--list", "--ledger", office_}).exit, 2) << "there is no ledger yet";
  const std::string file = sealed();
  const std::string pub = north_ + ".pub";
  ASSERT_EQ(desk({"trust", "--ledger", office_, pub, "--label", "N"}).exit, 0);
  EXPECT_THAT(desk({"trust", "--list", "--ledger", office_}).out, StartsWith("trusted: N, key "));
  ASSERT_EQ(desk({"gather", "--ledger", office_, file}).exit, 0);
  const std::string digest = digest_of(office_);
  const Ran held = desk({"trust", "--list", "--ledger", office_});
  EXPECT_EQ(held.exit, 0) << held.err;
  EXPECT_THAT(held.out, HasSubstr("\n  held: records 1 to 26 of stream "));
  EXPECT_THAT(held.out, HasSubstr(", which calls itself North 1\n"));
  ASSERT_EQ(desk({"trust", "--ledger", office_, pub, "--revoke", "--to-file", file}).exit, 0);
  const Ran revoked = desk({"trust", "--list", "--ledger", office_});
  EXPECT_THAT(revoked.out, StartsWith("revoked: N, key "));
  EXPECT_THAT(revoked.out, HasSubstr("\n  still believed: records up to 26 of stream "));
  EXPECT_EQ(digest_of(office_), digest);
  EXPECT_EQ(desk({"trust", "--list", "--ledger", office_, pub}).exit, 2);
  EXPECT_EQ(desk({"trust", "--list", "--ledger", office_, "--revoke"}).exit, 2);
  ASSERT_EQ(enrol(out_ + "/new.ligule", plan_folder_).exit, 0);
  EXPECT_THAT(desk({"trust", "--list", "--ledger", out_ + "/new.ligule"}).out,
              AllOf(HasSubstr("not trusted by key: "), HasSubstr("which calls itself North 1"),
                    HasSubstr("no key was ever trusted here")));
}

TEST_F(SeasonCommands, TrustPrintsTheFingerprintAndKeepsTheLabel) {
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  const std::string pub = north_ + ".pub";
  const Ran ran = desk({"trust", "--ledger", office_, pub, "--label", "N"});
  EXPECT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("trusted: N, key "));
  const Ran revoked = desk({"trust", "--ledger", office_, pub, "--revoke"});
  EXPECT_THAT(revoked.out, HasSubstr("no longer trusted: N, key "));
  EXPECT_THAT(revoked.out, HasSubstr("none of its records are taken in"));
  const Ran unasked = desk({"trust", "--ledger", office_, pub});
  EXPECT_EQ(unasked.exit, 1);
  EXPECT_THAT(unasked.err, HasSubstr("this key was revoked"));
  EXPECT_THAT(unasked.err, HasSubstr("--again"));
  EXPECT_EQ(desk({"trust", "--ledger", office_, pub, "--again", "--revoke"}).exit, 2);
  EXPECT_EQ(desk({"trust", "--ledger", office_, pub, "--again"}).exit, 0);
  EXPECT_EQ(desk({"trust", "--ledger", office_, pub, "--to-file", pub}).exit, 2);
  EXPECT_EQ(desk({"trust", "--ledger", office_, pub, "--to-seq", "4"}).exit, 2);
  EXPECT_EQ(desk({"trust", "--ledger", office_, pub, "--revoke", "--to-seq", "-1"}).exit, 2);
  for (const char* label : {"", " ", "two\nlines"}) {
    EXPECT_EQ(desk({"trust", "--ledger", office_, pub, "--label", label}).exit, 2) << label;
  }
  EXPECT_EQ(desk({"trust", "--ledger", office_, plan_folder_ + "/plots.csv"}).exit, 2);
  EXPECT_EQ(desk({"trust", "--ledger", office_, out_ + "/none.pub"}).exit, 2);
  EXPECT_EQ(desk({"trust", "--ledger", plan_folder_ + "/plots.csv", pub}).exit, 2);
}

// A lost tablet: what is believed is named by a record that is held, or by a season file.
TEST_F(SeasonCommands, RevokingNamesTheRecordsThatAreStillBelieved) {
  const std::string file = sealed();
  const std::string pub = north_ + ".pub";
  ASSERT_EQ(desk({"trust", "--ledger", office_, pub, "--label", "N"}).exit, 0);
  const auto revoke = [&](std::vector<std::string> more) {
    more.insert(more.begin(), {"trust", "--ledger", office_, pub, "--revoke"});
    return desk(more);
  };
  const Ran nothing_held = revoke({"--to-seq", "2"});
  EXPECT_EQ(nothing_held.exit, 1);
  EXPECT_THAT(nothing_held.err, HasSubstr("nothing signed by this key was gathered here"));
  EXPECT_THAT(nothing_held.err, HasSubstr("--to-file"));
  EXPECT_EQ(desk({"gather", "--ledger", office_, file}).exit, 0) << "it was not revoked";
  EXPECT_THAT(revoke({"--to-seq", "100000"}).err, HasSubstr("record 100000 of it is not held"));
  EXPECT_EQ(revoke({"--to-seq", "2", "--to-file", file}).exit, 2);
  EXPECT_THAT(revoke({"--to-file", file, "--to-file", file}).err,
              HasSubstr("two files of one stream"));
  EXPECT_EQ(revoke({"--to-file", plan_folder_ + "/plots.csv"}).exit, 2);
  const Ran second = revoke({"--to-seq", "2"});
  EXPECT_EQ(second.exit, 0) << second.err;
  EXPECT_THAT(second.out, HasSubstr("still believed: records up to 2 of stream"));
  EXPECT_THAT(second.out, HasSubstr("held here, and they count: records 3 to "));
  const Ran gathered = desk({"gather", "--ledger", office_, file});
  EXPECT_EQ(gathered.exit, 1) << gathered.out;
  EXPECT_THAT(gathered.err, HasSubstr("no further than record 2"));
  EXPECT_THAT(gathered.out, HasSubstr("after a key was revoked: records 3 to "));
  EXPECT_THAT(desk({"ledger-check", "--ledger", office_}).out, HasSubstr("the revoked key of N"));
  const Ran tables = desk({"tables", "--ledger", office_, "--out", folder_ / "tables"});
  EXPECT_THAT(tables.out, HasSubstr("the revoked key of N and not among what is believed of it; "
                                    "they count"))
      << tables.err;
  ASSERT_EQ(revoke({"--to-file", file}).exit, 0);
  ASSERT_EQ(revoke({"--label", "lost one"}).exit, 0) << "a name alone leaves what is believed";
  EXPECT_EQ(desk({"gather", "--ledger", office_, file}).exit, 0);
  ASSERT_EQ(revoke({"--to-seq", "0"}).exit, 0);
  EXPECT_EQ(desk({"gather", "--ledger", office_, file}).exit, 1) << "nothing is believed any more";
  ASSERT_EQ(revoke({"--to-file", file}).exit, 0);
  EXPECT_EQ(desk({"gather", "--ledger", office_, file}).exit, 0);
  EXPECT_EQ(desk({"verify", file, "--ledger", office_}).exit, 0);

  const std::string south = (folder_ / "south.ligule").string();
  ASSERT_EQ(enrol(south, plan_folder_).exit, 0);
  const Ran other =
      desk({"trust", "--ledger", office_, south + ".pub", "--revoke", "--to-file", file});
  EXPECT_EQ(other.exit, 1);
  EXPECT_THAT(other.err, HasSubstr("signed by another key"));
}

// A file that leans on another one is taken whichever is named first; alone it is refused.
TEST_F(SeasonCommands, GatherTriesAgainWhatLeansOnAnotherFile) {
  const std::string early = sealed();
  Plan more = two_block_plan({"ridge", "north", "TF27"});
  write_plan(more, folder_ / "more");
  ASSERT_EQ(desk({"enrol", "--ledger", north_, folder_ / "more"}).exit, 0);
  ASSERT_EQ(desk({"seal", "--ledger", north_, "--out", out_ + "/late"}).exit, 0);
  const std::string late = out_ + "/late/" + files_->list(out_ + "/late").value().front();
  ASSERT_EQ(
      desk({"trust", "--ledger", office_, north_ + ".pub", "--revoke", "--to-file", late}).exit, 0);
  const Ran alone = desk({"gather", "--ledger", office_, early});
  EXPECT_EQ(alone.exit, 1);
  EXPECT_THAT(alone.err, HasSubstr("are not held yet"));
  const Ran both = desk({"gather", "--ledger", office_, early, late});
  EXPECT_EQ(both.exit, 0) << both.err;
  EXPECT_EQ(digest_of(office_), digest_of(north_));
  EXPECT_EQ(lines(both.err), 0U) << both.err;
}

// A desk whose own key is lost goes on with a new one, and says so.
TEST_F(SeasonCommands, ALostKeyIsReplacedAndTold) {
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  std::filesystem::remove(north_ + ".key");
  EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", out_}).exit, 2);
  const Ran again = enrol(north_, plan_folder_);
  EXPECT_EQ(again.exit, 0) << again.err;
  EXPECT_THAT(again.out, HasSubstr("the key of " + north_ + " was lost; a new one was made, "));
  EXPECT_EQ(desk({"seal", "--ledger", north_, "--out", out_}).exit, 0);
}

TEST_F(SeasonCommands, LedgerCheckTellsAWholeLedgerFromADamagedOne) {
  ASSERT_EQ(enrol(north_, plan_folder_).exit, 0);
  const Ran whole = desk({"ledger-check", "--ledger", north_});
  EXPECT_EQ(whole.exit, 0) << whole.err;
  EXPECT_THAT(whole.out, HasSubstr("North 1 (this ledger): records 1 to "));
  EXPECT_THAT(whole.out, HasSubstr("ledger digest: " + digest_of(north_)));
  // The title of the plan, changed inside its record by whoever can write to the file.
  std::string bytes = files_->read(north_, 1 << 24).value();
  std::size_t changed = 0;
  for (std::size_t at = bytes.find("Tall fescue\""); at != std::string::npos;
       at = bytes.find("Tall fescue\"", at)) {
    bytes.replace(at, 4, "Talk");
    ++changed;
  }
  ASSERT_GT(changed, 0U);
  std::ofstream(north_, std::ios::binary | std::ios::trunc) << bytes;
  const Ran damaged = desk({"ledger-check", "--ledger", north_});
  EXPECT_EQ(damaged.exit, 1) << damaged.err;
  EXPECT_THAT(damaged.err, HasSubstr("nothing was changed"));
  EXPECT_EQ(desk({"ledger-check", "--ledger", plan_folder_ + "/plots.csv"}).exit, 2);
  EXPECT_EQ(desk({"ledger-check", "--ledger", out_ + "/none.ligule"}).exit, 2);
}

}  // namespace
}  // namespace ligule::desk
