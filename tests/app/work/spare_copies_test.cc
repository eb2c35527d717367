// Spare copies on cards: made, kept to two, found on another tablet, gone on from.
#include "app/work/spare_copies.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <fstream>

#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::work {
namespace {

using namespace ledger::sample;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

class SpareCopies : public testing::Test {
 protected:
  SpareCopies() { std::filesystem::create_directories(card_); }

  flow::SpareCopy copy(int minute) {
    return need(make_spare_copy(ledger_, *files_, card_, at(minute).utc));
  }
  [[nodiscard]] std::vector<std::string> on_card() const {
    return need(files_->list(card_ / "ligule-spare"));
  }
  // A tablet of its own, with nothing but its stream.
  ledger::Ledger spare() { return started(folder_.file("spare.ledger"), 500, "South 2"); }
  std::vector<flow::FoundCopy> found(const ledger::Ledger& by) {
    return spare_copies_of_others(by, *files_, roots_);
  }
  static std::string path(const flow::SpareCopy& copy) {
    return copy.place + "/ligule-spare/" + copy.file_name;
  }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  Folder folder_{true};
  files::Path card_ = folder_.file("media/CARD");
  MediaRoots roots_{{folder_.file("media")}, false};
  ledger::Ledger ledger_ = started(folder_.file("a.ledger"), 1, "North 1");
};

// A card may come from anybody.
TEST_F(SpareCopies, ALinkOnTheCardLeadsNowhere) {
  std::filesystem::create_directories(folder_.file("home"));
  std::filesystem::create_directory_symlink(folder_.file("home"), card_ / "ligule-spare");
  const auto made = make_spare_copy(ledger_, *files_, card_, at(0).utc);
  ASSERT_FALSE(made);
  EXPECT_EQ(made.error().kind, ErrorKind::kRefused);
  EXPECT_TRUE(std::filesystem::is_empty(folder_.file("home")));
}

TEST_F(SpareCopies, TheLastTwoStayOnTheCard) {
  need(ledger_.append({plan_record(9, plan())}));
  const auto first = copy(0);
  const auto second = copy(15);
  EXPECT_THAT(on_card(), ElementsAre(first.file_name, second.file_name));
  const auto third = copy(30);
  EXPECT_THAT(on_card(), ElementsAre(second.file_name, third.file_name));
  const auto newest = newest_spare_copy(ledger_, *files_, roots_);
  ASSERT_TRUE(newest);
  EXPECT_EQ(newest->file_name, third.file_name);
  EXPECT_EQ(newest->at, date::floor<std::chrono::seconds>(at(30).utc));
}

TEST_F(SpareCopies, TwoWithinASecondAreTwo) {
  const auto first = copy(0);
  const auto second = copy(0);
  EXPECT_NE(first.file_name, second.file_name);
  EXPECT_THAT(on_card(), SizeIs(2));
}

TEST_F(SpareCopies, WhatAPulledCardLeftHalfMadeGoes) {
  const std::string file = copy(0).file_name, half = file + ".unfinished";
  // And of a version before.
  for (const std::string& name : {half, half + "-journal", file + ".new"})
    std::ofstream(card_ / "ligule-spare" / name) << "half";
  copy(15);
  EXPECT_THAT(on_card(), SizeIs(2));
  EXPECT_FALSE(std::filesystem::exists(card_ / "ligule-spare" / half));
  EXPECT_FALSE(std::filesystem::exists(card_ / "ligule-spare" / (file + ".new")));
}

TEST_F(SpareCopies, ACardMayBeSharedAndStrangersFilesStay) {
  std::filesystem::create_directories(card_ / "ligule-spare");
  for (const char* name :
       {"notes.txt", "x.ledger",
        "01a21b34-0000-7000-8000-000000000001-0000000009-20261399T000000Z.ledger"})
    std::ofstream(card_ / "ligule-spare" / name) << "mine";
  const ledger::Ledger other = spare();
  need(make_spare_copy(other, *files_, card_, at(5).utc));
  copy(0);
  copy(15);
  copy(30);
  EXPECT_THAT(on_card(), SizeIs(6)) << "three strangers, one of the other tablet, two of this";
  EXPECT_EQ(newest_spare_copy(other, *files_, roots_)->at,
            date::floor<std::chrono::seconds>(at(5).utc));
}

TEST_F(SpareCopies, ALedgerThatNobodyWroteToHasNone) {
  const ledger::Ledger blank = need(ledger::Ledger::create(folder_.file("blank.ledger")));
  const auto made = make_spare_copy(blank, *files_, card_, at(0).utc);
  ASSERT_FALSE(made);
  EXPECT_EQ(made.error().kind, ErrorKind::kRefused);
  EXPECT_FALSE(newest_spare_copy(blank, *files_, roots_));
}

TEST_F(SpareCopies, WhereNothingCanBeMadeIsSaidPlaceByPlace) {
  std::ofstream(folder_.file("media/CARD/ligule-spare")) << "a file in the folder's place";
  std::filesystem::create_directories(folder_.file("media/STICK"));
  const flow::LedgerCopied done = make_spare_copies(ledger_, *files_, roots_, at(0).utc);
  ASSERT_THAT(done.failed, SizeIs(1));
  EXPECT_EQ(done.failed[0].place, card_.string());
  ASSERT_THAT(done.made, SizeIs(1));
  EXPECT_THAT(done.made[0].place, HasSubstr("STICK"));
  const flow::LedgerCopied none = make_spare_copies(ledger_, *files_, {}, at(0).utc);
  EXPECT_THAT(none.made, IsEmpty());
  EXPECT_THAT(none.failed, IsEmpty());
}

TEST_F(SpareCopies, ACardWithTooLittleRoomLosesAnOldCopyFirst) {
  copy(0);
  const auto last = copy(15);
  files::FaultyFileSystem tight(*files_);
  tight.have_room(1000);
  const auto made = need(make_spare_copy(ledger_, tight, card_, at(30).utc));
  EXPECT_THAT(on_card(), ElementsAre(last.file_name, made.file_name));
  need(make_spare_copy(ledger_, tight, card_, at(45).utc));
  EXPECT_THAT(on_card(), SizeIs(2)) << "the last one stays until there is another";
}

// A limit on the size of files stands for the full card: the copy can't be written whole.
TEST_F(SpareCopies, AFullCardKeepsWhatItHas) {
  const auto first = copy(0);
  const auto last = copy(15);
  std::vector<Record> more;
  more.reserve(4000);
  for (std::uint64_t n = 0; n < 4000; ++n)
    more.push_back(reading(1000 + n, "101", "percent_stand", "80"));
  need(ledger_.append({plan_record(9, plan())}));
  need(ledger_.append(std::move(more)));
  const pid_t child = fork();
  ASSERT_GE(child, 0);
  if (child == 0) {
    (void)std::signal(SIGXFSZ, SIG_IGN);
    const rlimit small{300'000, 300'000};
    if (setrlimit(RLIMIT_FSIZE, &small) != 0) _exit(2);
    const auto mine = ledger::Ledger::open(folder_.file("a.ledger"), ledger::Access::kReadOnly);
    if (!mine) _exit(3);
    _exit(make_spare_copy(*mine, *files_, card_, at(30).utc) ? 4 : 0);
  }
  int status = 0;
  ASSERT_EQ(waitpid(child, &status, 0), child);
  ASSERT_TRUE(WIFEXITED(status));
  EXPECT_EQ(WEXITSTATUS(status), 0) << "2: no limit, 3: not opened, 4: it was made";
  EXPECT_THAT(on_card(), ElementsAre(first.file_name, last.file_name)) << "nothing half made";
}

// The clock was a month ahead, then put right: what reaches further is the newer copy.
TEST_F(SpareCopies, AClockThatIsPutBackHidesNothing) {
  constexpr int kMonth = 30 * 24 * 60 * 60;
  need(ledger_.append({plan_record(9, plan())}));
  copy(kMonth);
  need(ledger_.append({reading(10, "101", "percent_stand", "80")}));
  const auto right = copy(0);
  EXPECT_EQ(newest_spare_copy(ledger_, *files_, roots_)->file_name, right.file_name);
  const ledger::Ledger other = spare();
  ASSERT_THAT(found(other), SizeIs(1));
  EXPECT_EQ(found(other)[0].path, path(right));
  need(ledger_.append({reading(11, "102", "percent_stand", "80")}));
  const auto later = copy(60);
  EXPECT_THAT(on_card(), ElementsAre(right.file_name, later.file_name));
}

TEST_F(SpareCopies, AnotherTabletFindsTheNewestThatOpens) {
  need(ledger_.append({plan_record(9, plan())}));
  const auto first = copy(0);
  const auto second = copy(15);
  const ledger::Ledger other = spare();
  auto all = found(other);
  ASSERT_THAT(all, SizeIs(1));
  EXPECT_EQ(all[0].device, "North 1");
  EXPECT_EQ(all[0].records, 2);
  EXPECT_EQ(all[0].path, path(second));
  EXPECT_EQ(all[0].place, "CARD");
  EXPECT_THAT(found(ledger_), IsEmpty()) << "its own";
  std::ofstream(path(second), std::ios::trunc) << "the card was pulled";
  all = found(other);
  ASSERT_THAT(all, SizeIs(1));
  EXPECT_EQ(all[0].path, path(first));
}

TEST_F(SpareCopies, TheOtherTabletGoesOnAndBothAreOneLedgerInTheEnd) {
  need(ledger_.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80")}));
  const auto made = copy(0);
  ledger::Ledger other = spare();
  const TookOver took = need(take_over(other, path(made)));
  EXPECT_EQ(took.device, "North 1");
  EXPECT_EQ(took.records, 3);
  EXPECT_EQ(need(other.plans()).size(), 1U);
  EXPECT_EQ(need(other.claims(trial())).size(), 1U);
  need(other.append({reading(510, "102", "percent_stand", "70")}));
  EXPECT_EQ(other.my_stream()->device, "South 2") << "it writes its own stream";
  // The first tablet was not dead after all: what both gave stands against each other, no fork.
  need(ledger_.append({reading(11, "102", "percent_stand", "60")}));
  const TookOver again = need(take_over(other, path(copy(15))));
  EXPECT_EQ(again.records, 1);
  EXPECT_EQ(need(other.claims(trial())).size(), 3U);
  EXPECT_TRUE(need(other.check()).empty());
}

// The user version of an SQLite file stands at offset 60, most significant byte first (SQLite,
// "Database File Format", section 1.3).
TEST_F(SpareCopies, OneOfANewerVersionIsToldNotPassedOver) {
  need(ledger_.append({plan_record(9, plan())}));
  const std::string made = path(copy(0));
  std::fstream file(made, std::ios::in | std::ios::out | std::ios::binary);
  file.seekp(63);
  file.put(99);
  file.close();
  const auto copies = found(spare());
  ASSERT_THAT(copies, SizeIs(1));
  EXPECT_EQ(copies[0].device, "");
  ASSERT_TRUE(copies[0].refused);
  EXPECT_EQ(copies[0].refused->kind, ErrorKind::kNewerVersion);
}

TEST_F(SpareCopies, WhatIsNoCopyIsNotTaken) {
  ledger::Ledger other = spare();
  const Digest before = need(other.digest());
  EXPECT_EQ(take_over(other, folder_.file("none.ledger")).error().kind, ErrorKind::kNotFound);
  std::ofstream(folder_.file("text.ledger")) << "no database";
  EXPECT_FALSE(take_over(other, folder_.file("text.ledger")));
  EXPECT_EQ(need(other.digest()), before);
}

// A key that somebody revoked here is not trusted again by a card, and none is by a card alone.
TEST_F(SpareCopies, NoKeyIsTrustedByACard) {
  ledger::Ledger other = spare();
  const std::string made = path(copy(0));
  need(take_over(other, made));
  EXPECT_THAT(need(other.trusted_keys()), IsEmpty());
  ledger::Ledger third = started(folder_.file("third.ledger"), 700, "East 3");
  need(third.trust({ledger_.my_stream()->public_key, "North 1", ledger::Trust::kRevoked}));
  const auto took = take_over(third, made);
  ASSERT_FALSE(took);
  EXPECT_EQ(took.error().kind, ErrorKind::kNotTrusted);
  EXPECT_EQ(need(third.trusted_keys()).front().status, ledger::Trust::kRevoked);
}

// One tablet's records are refused, the other's come: both is told.
TEST_F(SpareCopies, WhatIsLeftOutIsToldBesideWhatCame) {
  ledger::Ledger second = started(folder_.file("second.ledger"), 600, "West 4");
  need(take_over(ledger_, path(need(make_spare_copy(second, *files_, card_, at(3).utc)))));
  ledger::Ledger other = spare();
  need(other.trust({second.my_stream()->public_key, "West 4", ledger::Trust::kRevoked}));
  const TookOver took = need(take_over(other, path(copy(5))));
  EXPECT_EQ(took.records, 1);
  ASSERT_TRUE(took.refused);
  EXPECT_EQ(took.refused->kind, ErrorKind::kNotTrusted);
}

// A page of a card that reads back otherwise: nobody else would notice.
TEST_F(SpareCopies, ACopyWhoseRecordsAreNotWhatTheyWereIsNotTaken) {
  need(ledger_.append({plan_record(9, plan()), reading(10, "101", "percent_stand", "80")}));
  const std::string made = path(copy(0));
  const std::string guard =
      raw_value(made, "SELECT sql FROM sqlite_master WHERE name='record_no_update'");
  for (const std::string& sql :
       {std::string("DROP TRIGGER record_no_update"),
        std::string("UPDATE record SET body=replace(body,',80,',',90,') WHERE body LIKE '%,80,%'"),
        guard})
    ASSERT_EQ(raw_sql(made, sql), "") << sql;
  ledger::Ledger other = spare();
  const auto took = take_over(other, made);
  ASSERT_FALSE(took);
  EXPECT_THAT(took.error().what, HasSubstr("not those its digests say"));
  EXPECT_THAT(need(other.claims(trial())), IsEmpty());
}

}  // namespace
}  // namespace ligule::work
