// Making and opening the file: what is refused, and that what is refused is left alone.
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <filesystem>

#include "storage/ledger/file_form.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;

class File : public testing::Test {
 protected:
  // A closed ledger of some records.
  void make(int records = 3) {
    Ledger ledger = started(path_, 1);
    std::vector<Record> drafts;
    for (int i = 0; i < records; ++i)
      drafts.push_back(reading(10 + static_cast<std::uint64_t>(i), "101", "note", "x"));
    need(ledger.append(drafts));
  }
  std::string refusal(Access access = Access::kReadWrite) {
    return error_line(Ledger::open(path_, access));
  }

  Folder folder_;
  std::string path_ = folder_.file("a.ledger");
};

// A ledger of the first version, as it was written on 2026-11-27
// (tests/published/season_sample.cc): what later programs change must go on reading it.
TEST_F(File, ALedgerOfTheFirstVersionOpensWithEveryRecord) {
  std::filesystem::copy_file(
      std::filesystem::path(LIGULE_TEST_DATA) / "storage/ledger/data/version1.ledger", path_);
  for (const Access access : {Access::kReadOnly, Access::kReadWrite}) {
    const Ledger ledger = need(Ledger::open(path_, access));
    EXPECT_EQ(need(ledger.digest()).hex(),
              "61a3d9b063db2073f35ea33da2a682103b2482223333ded4d37eda39cf60bdc8");
    ASSERT_EQ(need(ledger.spans()).size(), 1U);
    EXPECT_EQ(need(ledger.spans())[0].last, 9);
  }
}

// Proves: what a file is can be told before it is brought to this version.
TEST_F(File, SaysWhichVersionWroteItAndIsNotChangedByThat) {
  std::filesystem::copy_file(
      std::filesystem::path(LIGULE_TEST_DATA) / "storage/ledger/data/version1.ledger", path_);
  const FileForm form = need(file_form(path_));
  EXPECT_EQ(form.version, 1);
  EXPECT_EQ(form.present, 2);
  EXPECT_EQ(form.records, 9);
  EXPECT_TRUE(form.older());
  EXPECT_EQ(raw_value(path_, "PRAGMA user_version"), "1");
  { const Ledger ledger = need(Ledger::open(path_)); }
  EXPECT_FALSE(need(file_form(path_)).older());
  ASSERT_EQ(raw_sql(path_, "PRAGMA user_version=99"), "");
  const auto newer = file_form(path_);
  ASSERT_FALSE(newer);
  EXPECT_EQ(newer.error().kind, ErrorKind::kNewerVersion);
  EXPECT_EQ(file_form(folder_.file("none")).error().kind, ErrorKind::kNotFound);
}

// What version 1 trusted to a number is believed to the record that is held there.
TEST_F(File, TheTrustOfTheFirstVersionIsCarriedOver) {
  std::filesystem::copy_file(
      std::filesystem::path(LIGULE_TEST_DATA) / "storage/ledger/data/version1.ledger", path_);
  ASSERT_EQ(raw_sql(path_,
                    "INSERT INTO trusted_key SELECT public_key,'N','revoked',4 FROM stream;"
                    "INSERT INTO trusted_key VALUES(zeroblob(32),'O','revoked',NULL)"),
            "");
  for (const Access access : {Access::kReadOnly, Access::kReadWrite, Access::kReadOnly}) {
    const Ledger ledger = need(Ledger::open(path_, access));
    const auto keys = need(ledger.trusted_keys());
    ASSERT_EQ(keys.size(), 2U);
    const StreamId stream = need(ledger.streams()).front().id;
    EXPECT_EQ(keys[0].label, "N");
    EXPECT_EQ(keys[0].status, Trust::kRevoked);
    EXPECT_EQ(keys[0].believed,
              (std::vector<Believed>{{stream, 4, need(ledger.digest_at(stream, 4))}}));
    EXPECT_TRUE(keys[1].believed.empty());
    EXPECT_TRUE(need(ledger.check()).empty());
  }
  EXPECT_EQ(raw_value(path_, "PRAGMA user_version"), "2");
}

TEST_F(File, TablesThatTheFirstVersionDidNotHaveAreDamage) {
  std::filesystem::copy_file(
      std::filesystem::path(LIGULE_TEST_DATA) / "storage/ledger/data/version1.ledger", path_);
  // With this version's projections, which alone are known by name.
  const std::string fresh = folder_.file("fresh.ledger");
  { const Ledger ledger = need(Ledger::create(fresh)); }
  for (const std::string name : {"shift", "shift_stream"}) {
    const std::string sql =
        raw_value(fresh, "SELECT sql FROM sqlite_schema WHERE name='" + name + "'");
    ASSERT_EQ(raw_sql(path_, sql), "") << sql;
  }
  const std::string version = raw_value(fresh, "SELECT projections FROM this_file");
  ASSERT_EQ(raw_sql(path_, "UPDATE this_file SET projections=" + version), "");
  ASSERT_TRUE(Ledger::open(path_, Access::kReadOnly));
  ASSERT_EQ(raw_sql(path_, "CREATE TABLE more(a)"), "");
  const auto opened = Ledger::open(path_);
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged);
}

// Projections of another version may be any tables, but no trigger: they are dropped and made anew.
TEST_F(File, ProjectionsOfAnotherVersionAreReplacedUnlessTheyActOnTheirOwn) {
  { const Ledger ledger = need(Ledger::create(path_)); }
  ASSERT_EQ(raw_sql(path_,
                    "DROP TABLE definition; CREATE TABLE definition(other TEXT) STRICT;"
                    "CREATE TABLE of_another_name(a TEXT) STRICT;"
                    "UPDATE this_file SET projections=3"),
            "");
  for (const Access access :
       {Access::kReadOnly, Access::kReadWrite, Access::kReadOnly, Access::kReadWrite}) {
    const Ledger ledger = need(Ledger::open(path_, access));
    EXPECT_FALSE(need(ledger.definition("none")));
    EXPECT_TRUE(need(ledger.check()).empty());
  }
  EXPECT_EQ(raw_value(path_, "SELECT count(*) FROM sqlite_schema WHERE name='of_another_name'"),
            "0");
  ASSERT_EQ(raw_sql(path_,
                    "UPDATE this_file SET projections=3;"
                    "CREATE TRIGGER t AFTER INSERT ON item BEGIN DELETE FROM item; END"),
            "");
  const auto opened = Ledger::open(path_);
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged);
}

TEST_F(File, ANewLedgerIsEmptyAndOnlyItsOwnersToRead) {
  const Ledger ledger = need(Ledger::create(path_));
  EXPECT_EQ(ledger.path(), path_);
  EXPECT_FALSE(ledger.my_stream());
  EXPECT_TRUE(need(ledger.spans()).empty());
  EXPECT_TRUE(need(ledger.streams()).empty());
  EXPECT_FALSE(need(ledger.newest_id()));
  EXPECT_TRUE(need(ledger.plans()).empty());
  EXPECT_EQ(need(ledger.digest()), sha256(""));
  for (const char* suffix : {"", "-wal", "-shm"}) {
    struct stat found {};
    ASSERT_EQ(stat((path_ + suffix).c_str(), &found), 0) << suffix;
    EXPECT_EQ(found.st_mode & 0777U, 0600U) << suffix;
  }
  EXPECT_FALSE(std::filesystem::exists(path_ + ".unfinished"));
}

TEST_F(File, CarriesItsMarks) {
  make();
  EXPECT_EQ(raw_value(path_, "PRAGMA application_id"), "1279870805");  // "LIGU"
  EXPECT_EQ(raw_value(path_, "PRAGMA user_version"), "2");
  EXPECT_EQ(raw_value(path_, "PRAGMA journal_mode"), "wal");
  EXPECT_EQ(file_bytes(path_).substr(68, 4), "LIGU");
}

TEST_F(File, IsNotMadeOverSomethingElse) {
  write_bytes(path_, "mine");
  EXPECT_EQ(
      error_line(Ledger::create(path_)),
      "conflict: " + path_ + ": something of that name is there already (choose another name)");
  EXPECT_EQ(file_bytes(path_), "mine");
}

TEST_F(File, IsNotMadeInAFolderThatIsNotThere) {
  const auto made = Ledger::create(folder_.file("no/a.ledger"));
  ASSERT_FALSE(made);
  EXPECT_EQ(made.error().kind, ErrorKind::kNotFound);
}

TEST_F(File, RestsOfAStartThatWasCutOffDoNotStopTheNext) {
  write_bytes(path_ + ".unfinished", "half a ledger");
  write_bytes(path_ + ".unfinished-wal", "half a log");
  EXPECT_TRUE(Ledger::create(path_));
}

// Somebody makes a ledger anew and calls it so until it takes the other's place.
TEST_F(File, ALedgerOfTheSameNameWithNewBehindStays) {
  const std::string copy = folder_.file("copy");
  for (const std::string& other : {path_ + ".new", copy + ".new"}) {
    const Ledger ledger = started(other, 1);
  }
  const std::string bytes = file_bytes(path_ + ".new"), more = file_bytes(copy + ".new");
  const Ledger made = need(Ledger::create(path_));
  need(made.backup_to(copy));
  EXPECT_EQ(file_bytes(path_ + ".new"), bytes);
  EXPECT_EQ(file_bytes(copy + ".new"), more);
}

TEST_F(File, ThatIsNotThereIsNotFound) {
  EXPECT_EQ(refusal(), "not found: " + path_ + ": there is no such ledger (check the name)");
  EXPECT_FALSE(std::filesystem::exists(path_));
}

TEST_F(File, AFolderIsNoLedger) {
  std::filesystem::create_directory(path_);
  EXPECT_EQ(refusal(), "invalid: " + path_ + ": this is not a file (name another file)");
}

TEST_F(File, OtherFilesAreNoLedgers) {
  write_bytes(path_, "just some text that is long enough to be looked at by anybody");
  EXPECT_EQ(refusal().substr(0, 8), "invalid:");
  write_bytes(path_, "");
  EXPECT_EQ(refusal(),
            "invalid: " + path_ +
                ": this is no ledger (name another file; one that was emptied comes back "
                "from season files and spare copies)");
  EXPECT_EQ(file_bytes(path_), "");
}

TEST_F(File, AnotherApplicationsDatabaseIsRefusedAndLeftAlone) {
  make();
  ASSERT_EQ(raw_sql(path_, "PRAGMA application_id=7; PRAGMA wal_checkpoint(TRUNCATE)"), "");
  const std::string before = file_bytes(path_);
  EXPECT_EQ(refusal(),
            "invalid: " + path_ +
                ": this is no ledger (name another file; one that was emptied comes back "
                "from season files and spare copies)");
  EXPECT_EQ(file_bytes(path_), before);
}

TEST_F(File, ANewerVersionIsRefusedAndLeftAlone) {
  make();
  ASSERT_EQ(raw_sql(path_, "PRAGMA user_version=3; PRAGMA wal_checkpoint(TRUNCATE)"), "");
  const std::string before = file_bytes(path_);
  EXPECT_EQ(refusal(), "newer version: " + path_ +
                           ": the ledger is of version 3, this program reads 2 (open it with a "
                           "newer version of the program)");
  EXPECT_EQ(file_bytes(path_), before);
}

TEST_F(File, MissingOrForeignPartsAreDamage) {
  for (const char* sql :
       {"DROP TRIGGER record_no_delete",
        "CREATE TRIGGER spy AFTER INSERT ON record BEGIN DELETE FROM seal; END",
        "CREATE VIEW v AS SELECT 1", "DROP TABLE seal", "PRAGMA user_version=0"}) {
    path_ = folder_.file(std::to_string(std::hash<std::string>{}(sql)));
    make();
    ASSERT_EQ(raw_sql(path_, sql), "");
    EXPECT_EQ(refusal().substr(0, 8), "damaged:") << sql;
  }
}

TEST_F(File, ADamagedFileIsNeverWrittenTo) {
  make(400);
  const std::string whole = file_bytes(path_);
  int noticed = 0;
  // Each page's first bytes, which any quick look at the pages must miss the sense of.
  for (std::size_t at = 4096; at < whole.size(); at += 4096) {
    std::string spoiled = whole;
    spoiled[at] = static_cast<char>(~static_cast<unsigned char>(spoiled[at]));
    write_bytes(path_, spoiled);
    const auto opened = Ledger::open(path_);
    if (opened) continue;
    ++noticed;
    EXPECT_EQ(opened.error().kind, ErrorKind::kDamaged) << at;
    EXPECT_FALSE(opened.error().mend.empty());
    EXPECT_EQ(file_bytes(path_), spoiled) << at;
  }
  EXPECT_GT(noticed, 10);
}

TEST_F(File, ACutFileIsDamaged) {
  make(400);
  const std::string whole = file_bytes(path_);
  write_bytes(path_, whole.substr(0, whole.size() / 2));
  EXPECT_EQ(refusal().substr(0, 8), "damaged:");
}

TEST_F(File, IsReadWhileItsLogIsNotFoldedIn) {
  Ledger ledger = started(path_, 1);
  need(ledger.append({reading(10, "101", "note", "x")}));
  ASSERT_GT(std::filesystem::file_size(path_ + "-wal"), 0U);
  const Ledger reader = need(Ledger::open(path_, Access::kReadOnly));
  EXPECT_EQ(need(reader.digest()), need(ledger.digest()));
  EXPECT_TRUE(need(reader.check()).empty());
}

// What a process without the rights of root reports: "ok N" with N claims, or the error.
std::string seen_by_nobody(const std::string& path) {
  int ends[2];
  if (pipe(ends) != 0) return "no pipe";
  const pid_t child = fork();
  if (child == 0) {
    if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0)) _exit(3);
    std::string answer;
    const auto ledger = Ledger::open(path, Access::kReadOnly);
    if (!ledger) {
      answer = error_line(ledger);
    } else {
      const auto claims = ledger->claims(trial());
      answer = claims ? "ok " + std::to_string(claims->size()) : error_line(claims);
    }
    const auto told = write(ends[1], answer.data(), answer.size());
    _exit(told == static_cast<ssize_t>(answer.size()) ? 0 : 4);
  }
  close(ends[1]);
  std::string answer(500, ' ');
  const ssize_t got = read(ends[0], answer.data(), answer.size());
  close(ends[0]);
  waitpid(child, nullptr, 0);
  return answer.substr(0, static_cast<std::size_t>(std::max<ssize_t>(0, got)));
}

TEST_F(File, IsReadFromAFolderThatCannotBeWritten) {
  make(3);
  ASSERT_FALSE(std::filesystem::exists(path_ + "-wal"));
  ASSERT_EQ(chmod(path_.c_str(), 0444), 0);
  ASSERT_EQ(chmod(folder_.file("").c_str(), 0555), 0);
  EXPECT_EQ(seen_by_nobody(path_), "ok 3");
  ASSERT_EQ(chmod(folder_.file("").c_str(), 0755), 0);
}

TEST_F(File, ALogThatCannotBeReadThereIsNotPassedOver) {
  Ledger ledger = started(path_, 1);
  need(ledger.append({reading(10, "101", "note", "x")}));
  // As a stick looks that was pulled out of a running tablet: the file and its log, nothing else.
  std::filesystem::create_directory(folder_.file("stick"));
  const std::string stick = folder_.file("stick/a.ledger");
  write_bytes(stick, file_bytes(path_));
  write_bytes(stick + "-wal", file_bytes(path_ + "-wal"));
  ASSERT_EQ(chmod(stick.c_str(), 0444), 0);
  ASSERT_EQ(chmod(folder_.file("stick").c_str(), 0555), 0);
  ASSERT_EQ(chmod(folder_.file("").c_str(), 0755), 0);
  EXPECT_EQ(seen_by_nobody(stick).substr(0, 3), "io:");
  ASSERT_EQ(chmod(folder_.file("stick").c_str(), 0755), 0);
}

TEST_F(File, WithoutRightsIsAnErrorWithWhatToDo) {
  make();
  ASSERT_EQ(chmod(folder_.file("").c_str(), 0755), 0);  // the file itself stays its owner's
  if (geteuid() != 0) GTEST_SKIP() << "SKIPPED: needs another user's file";
  const std::string answer = seen_by_nobody(path_);
  EXPECT_EQ(answer.substr(0, 3), "io:");
  EXPECT_NE(answer.find("check the rights"), std::string::npos) << answer;
}

TEST_F(File, OlderProjectionsAreReplayedAtOpening) {
  make(3);
  ASSERT_EQ(raw_sql(path_, "DELETE FROM item; UPDATE this_file SET projections=0"), "");
  const Ledger ledger = need(Ledger::open(path_));
  EXPECT_EQ(need(ledger.claims(trial())).size(), 3U);
  EXPECT_TRUE(need(ledger.check()).empty());
}

TEST_F(File, WithoutItsOwnRowIsDamaged) {
  make();
  ASSERT_EQ(raw_sql(path_, "DELETE FROM this_file"), "");
  EXPECT_EQ(refusal(Access::kReadOnly).substr(0, 8), "damaged:");
}

}  // namespace
}  // namespace ligule::ledger
