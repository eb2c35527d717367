// Streams: begun once, and anew in every copy.
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <thread>

#include "storage/ledger/disk_mark.h"
#include "storage/ledger/files_of_ledger.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;

class Copies : public testing::Test {
 protected:
  Folder folder_;
  std::string path_ = folder_.file("a.ledger");
};

TEST_F(Copies, AStreamBeginsWithARecordThatSaysWhose) {
  Ledger ledger = need(Ledger::create(path_));
  const StreamInfo stream = need(ledger.start_stream(start(1, "tablet 3")));
  EXPECT_EQ(stream.device, "tablet 3");
  EXPECT_FALSE(stream.continues);
  EXPECT_TRUE(stream.mine);
  EXPECT_EQ(ledger.my_stream(), stream);
  EXPECT_EQ(need(ledger.streams()), std::vector{stream});
  EXPECT_EQ(need(ledger.newest_id()), RecordId{id(2)});
  const auto first = need(ledger.of_kind(kind::kStream));
  ASSERT_EQ(first.size(), 1U);
  EXPECT_EQ(first[0].details, "{\"device\":\"tablet 3\",\"public_key\":\"" +
                                  Digest{stream.public_key}.hex() +
                                  "\",\"software\":\"ligule test\"}");
}

TEST_F(Copies, ADemoSaysSo) {
  Ledger ledger = need(Ledger::create(path_));
  StreamStart begin = start(1);
  begin.demo = true;
  EXPECT_TRUE(need(ledger.start_stream(begin)).demo);
  EXPECT_NE(need(ledger.of_kind(kind::kStream))[0].details.find("\"demo\":\"1\""),
            std::string::npos);
}

// Its plans and values lie in the same file, so whatever continues it is a demonstration too.
TEST_F(Copies, ACopyOfADemoStaysADemo) {
  StreamStart begin = start(1);
  begin.demo = true;
  {
    Ledger ledger = need(Ledger::create(path_));
    need(ledger.start_stream(begin));
  }
  std::filesystem::copy_file(path_, folder_.file("copy.ledger"));
  Ledger copy = need(Ledger::open(folder_.file("copy.ledger")));
  EXPECT_TRUE(need(copy.start_stream(start(20))).demo);
  ASSERT_TRUE(copy.my_stream());
  EXPECT_TRUE(copy.my_stream()->demo);
  EXPECT_NE(need(copy.of_kind(kind::kStream))[1].details.find("\"demo\":\"1\""), std::string::npos);
  EXPECT_TRUE(need(copy.check()).empty());
}

TEST_F(Copies, AStreamBeginsOnceOnly) {
  Ledger ledger = started(path_, 1);
  const auto again = ledger.start_stream(start(5));
  ASSERT_FALSE(again);
  EXPECT_EQ(again.error().kind, ErrorKind::kConflict);
  EXPECT_EQ(need(ledger.streams()).size(), 1U);
}

TEST_F(Copies, AStreamNeedsIdsAndANameOfPlainText) {
  Ledger ledger = need(Ledger::create(path_));
  StreamStart nameless = start(1, "");
  StreamStart torn = start(1, "a\nb");
  StreamStart software = start(1);
  software.software = "\x01";
  StreamStart no_id = start(1);
  no_id.id = {};
  StreamStart no_record = start(1);
  no_record.record = {};
  for (const StreamStart& begin : {nameless, torn, software, no_id, no_record}) {
    const auto refused = ledger.start_stream(begin);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::kInvalid);
  }
  EXPECT_FALSE(ledger.my_stream());
}

TEST_F(Copies, TheSameFileGoesOnWithItsStreamEvenUnderAnotherName) {
  { const Ledger ledger = started(path_, 1); }
  std::filesystem::rename(path_, folder_.file("b.ledger"));
  Ledger ledger = need(Ledger::open(folder_.file("b.ledger")));
  EXPECT_TRUE(ledger.my_stream());
  EXPECT_EQ(need(ledger.append({reading(10, "101", "note", "x")}))[0].seq, 2);
}

// Proves: a copied ledger starts a new stream that names the old one.
TEST_F(Copies, ACopiedFileStartsANewStreamThatNamesTheOld) {
  {
    Ledger ledger = started(path_, 1);
    need(ledger.append({reading(10, "101", "note", "x")}));
  }
  const std::string copy = folder_.file("copy.ledger");
  std::filesystem::copy_file(path_, copy);
  Ledger ledger = need(Ledger::open(copy));
  EXPECT_FALSE(ledger.my_stream());
  const auto kept = ledger.append({reading(11, "101", "note", "y")});
  ASSERT_FALSE(kept);
  EXPECT_EQ(kept.error().kind, ErrorKind::kNotFound);
  // Ids go on after those of the stream before.
  EXPECT_EQ(need(ledger.newest_id()), RecordId{id(10)});
  // The old stream's id can't be used again.
  const auto same = ledger.start_stream(start(1));
  ASSERT_FALSE(same);
  EXPECT_EQ(same.error().kind, ErrorKind::kConflict);
  const StreamInfo begun = need(ledger.start_stream(start(20)));
  EXPECT_EQ(begun.continues, StreamId{id(1)});
  EXPECT_EQ(need(ledger.append({reading(22, "101", "note", "y")}))[0].seq, 2);
  EXPECT_TRUE(need(ledger.check()).empty());
  // The original goes on as before.
  EXPECT_TRUE(need(Ledger::open(path_)).my_stream());
}

// An older state written over the file keeps its inode; going on would number records twice.
TEST_F(Copies, AnOlderStatePutBackOverTheFileStartsANewStream) {
  const std::string older = folder_.file("older");
  {
    Ledger ledger = started(path_, 1);
    need(ledger.append({reading(10, "101", "note", "x")}));
  }
  std::filesystem::copy_file(path_, older);
  {
    Ledger ledger = need(Ledger::open(path_));
    ASSERT_TRUE(ledger.my_stream());
    need(ledger.append({reading(11, "101", "note", "y")}));
  }
  std::ofstream(path_, std::ios::binary) << std::ifstream(older, std::ios::binary).rdbuf();

  Ledger ledger = need(Ledger::open(path_));
  EXPECT_FALSE(ledger.my_stream());
  EXPECT_EQ(need(ledger.start_stream(start(20))).continues, StreamId{id(1)});
  EXPECT_EQ(need(ledger.append({reading(22, "101", "note", "z")}))[0].seq, 2);
  EXPECT_TRUE(need(Ledger::open(path_)).my_stream()) << "the new stream goes on";
  EXPECT_TRUE(need(ledger.check()).empty()) << "what it lacks of the old stream is no damage";
}

TEST_F(Copies, ALostOrSpoiledNoteOfTheNewestRecordStopsNothing) {
  { const Ledger ledger = started(path_, 1); }
  for (const char* note : {"", "not a note", "\xff"}) {
    std::ofstream(path_ + ".last", std::ios::binary) << note;
    EXPECT_TRUE(need(Ledger::open(path_)).my_stream()) << note;
  }
  std::filesystem::remove(path_ + ".last");
  EXPECT_TRUE(need(Ledger::open(path_)).my_stream());
}

TEST_F(Copies, ABackupIsMarkedAsACopyWhereverItLies) {
  Ledger ledger = started(path_, 1);
  need(ledger.append({reading(10, "101", "percent_stand", "80")}));
  const std::string copy = folder_.file("backup.ledger");
  need(ledger.backup_to(copy));
  EXPECT_EQ(raw_value(copy, "SELECT copied FROM this_file"), "1");
  Ledger restored = need(Ledger::open(copy));
  EXPECT_FALSE(restored.my_stream());
  EXPECT_EQ(need(restored.digest()), need(ledger.digest()));
  EXPECT_EQ(need(restored.claims(trial())).size(), 1U);
  EXPECT_TRUE(need(restored.check()).empty());
  struct stat found {};
  ASSERT_EQ(stat(copy.c_str(), &found), 0);
  EXPECT_EQ(found.st_mode & 0777U, 0600U);
  // Put back in the place of the original, with the original's own number on the disk: the mark
  // alone tells.
  need(restored.start_stream(start(30)));
  EXPECT_EQ(raw_value(copy, "SELECT copied FROM this_file"), "0");
}

// Values are kept while a copy is made: it is of one moment.
TEST_F(Copies, ABackupIsOfOneMomentWhoeverWritesMeanwhile) {
  { const Ledger ledger = started(path_, 1); }
  std::atomic<bool> done = false;
  std::thread writer([&] {
    Ledger ledger = need(Ledger::open(path_));
    for (std::uint64_t n = 100; !done; ++n)
      need(ledger.append({reading(n, "101", "percent_stand", "80")}));
  });
  const Ledger reader = need(Ledger::open(path_, Access::kReadOnly));
  for (int n = 0; n < 40; ++n) {
    const std::string copy = folder_.file("copy" + std::to_string(n));
    const auto made = reader.backup_to(copy);
    EXPECT_TRUE(made) << n << " " << one_line(made.error());
    if (!made) break;
  }
  done = true;
  writer.join();
}

// A card that is worn gives back something else than was written.
TEST_F(Copies, WhatReadsBackDifferentlyIsNoCopy) {
  write_bytes(folder_.file("copy"), std::string(3'000'000, 'a'));
  need(read_back(folder_.file("copy"), forget_cached));
  const auto worn = read_back(folder_.file("copy"), [](const std::string& path) {
    std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
    file.seekp(2'500'000);
    file.put('b');
  });
  ASSERT_FALSE(worn);
  EXPECT_EQ(worn.error().kind, ErrorKind::kDamaged);
  const auto pulled = read_back(folder_.file("copy"),
                                [](const std::string& path) { std::filesystem::remove(path); });
  ASSERT_FALSE(pulled);
  EXPECT_EQ(pulled.error().kind, ErrorKind::kNotFound);
  EXPECT_EQ(read_back(folder_.file("none"), forget_cached).error().kind, ErrorKind::kNotFound);
  EXPECT_EQ(read_back(folder_.file("."), forget_cached).error().kind, ErrorKind::kIo);
}

// A card may be write-protected, or mounted so.
TEST_F(Copies, ABackupNeedsNoFileBesideItToBeRead) {
  const Ledger ledger = started(path_, 1);
  std::filesystem::create_directory(folder_.file("card"));
  const std::string copy = folder_.file("card/backup.ledger");
  need(ledger.backup_to(copy));
  const Ledger reader = need(Ledger::open(copy, Access::kReadOnly));
  EXPECT_EQ(need(reader.digest()), need(ledger.digest()));
  std::vector<std::string> there;
  for (const auto& each : std::filesystem::directory_iterator(folder_.file("card")))
    there.push_back(each.path().filename().string());
  EXPECT_EQ(there, std::vector<std::string>{"backup.ledger"});
}

TEST_F(Copies, ABackupIsRefusedWhereItCannotBe) {
  const Ledger ledger = started(path_, 1);
  const auto over = ledger.backup_to(path_);
  ASSERT_FALSE(over);
  EXPECT_EQ(over.error().kind, ErrorKind::kConflict);
  const auto nowhere = ledger.backup_to(folder_.file("no/b.ledger"));
  ASSERT_FALSE(nowhere);
  EXPECT_EQ(nowhere.error().kind, ErrorKind::kNotFound);
}

TEST_F(Copies, ABackupOfAFileOpenForReadingWorks) {
  { const Ledger ledger = started(path_, 1); }
  const Ledger reader = need(Ledger::open(path_, Access::kReadOnly));
  need(reader.backup_to(folder_.file("b.ledger")));
  EXPECT_EQ(need(need(Ledger::open(folder_.file("b.ledger"))).digest()), need(reader.digest()));
}

// A tree of devices as the kernel shows it: a disk, its partition, and an encrypted volume on that.
class Disks : public testing::Test {
 protected:
  Disks() {
    std::filesystem::create_directories(system_ / "dev/block");
    add("devices/a/block/disk", "8:0");
    add("devices/a/block/disk/part", "8:1");
    write("devices/a/block/disk/part/partition", "1");
    add("devices/virtual/block/layer", "253:0");
    std::filesystem::create_directories(system_ / "devices/virtual/block/layer/slaves");
    std::filesystem::create_directory_symlink(system_ / "devices/a/block/disk/part",
                                              system_ / "devices/virtual/block/layer/slaves/part");
  }
  void add(const std::string& place, const std::string& numbers) {
    std::filesystem::create_directories(system_ / place);
    std::filesystem::create_directory_symlink(system_ / place, system_ / "dev/block" / numbers);
  }
  void write(const std::string& place, const std::string& text) {
    std::filesystem::create_directories((system_ / place).parent_path());
    std::ofstream(system_ / place) << text << "\n";
  }
  std::string mark(std::uint32_t major, std::uint32_t minor) {
    return disk_mark(system_.string(), major, minor);
  }

  Folder folder_;
  std::filesystem::path system_ = folder_.file("sys");
};

TEST_F(Disks, SayByWhatTheyAreKnownHoweverManyLayersLieOverThem) {
  EXPECT_EQ(mark(8, 1), "") << "it says nothing";
  write("devices/a/block/disk/device/serial", "0x0");
  EXPECT_EQ(mark(8, 0), "device/serial:0x0");
  write("devices/a/block/disk/device/cid", " 1501004d ");
  EXPECT_EQ(mark(8, 0), "device/cid:1501004d") << "a card's whole id, not its short number";
  EXPECT_EQ(mark(8, 1), "device/cid:1501004d");
  EXPECT_EQ(mark(253, 0), "device/cid:1501004d");
  EXPECT_EQ(mark(9, 9), "") << "no such device";
  add("devices/b/block/other", "8:16");
  std::filesystem::create_directory_symlink(system_ / "devices/b/block/other",
                                            system_ / "devices/virtual/block/layer/slaves/other");
  EXPECT_EQ(mark(253, 0), "") << "on two disks";
}

TEST_F(Disks, ThatDoNotSayWhichTheyAreMayBeTheSame) {
  EXPECT_TRUE(may_be_same_disk("", "serial:15"));
  EXPECT_TRUE(may_be_same_disk("serial:15", ""));
  EXPECT_TRUE(may_be_same_disk("serial:15", "serial:15"));
  EXPECT_TRUE(may_be_same_disk("serial:15", "wwid:naa.15")) << "another kernel asks elsewhere";
  EXPECT_FALSE(may_be_same_disk("serial:15", "serial:16"));
}

// The image of a whole disk on another one: everything in the file is the same, even its number.
TEST_F(Copies, ALedgerOnAnotherDiskIsACopy) {
  { Ledger ledger = started(path_, 1); }
  if (disk_mark_of(path_).empty())
    GTEST_SKIP() << "SKIPPED: this machine's disk does not say which it is";
  EXPECT_EQ(raw_value(path_, "SELECT mark FROM disk"), disk_mark_of(path_));
  EXPECT_TRUE(need(Ledger::open(path_)).my_stream());
  ASSERT_EQ(raw_sql(path_, "UPDATE disk SET mark=mark||'1'"), "");
  Ledger copy = need(Ledger::open(path_));
  EXPECT_FALSE(copy.my_stream());
  EXPECT_EQ(need(copy.start_stream(start(20))).continues, StreamId{id(1)});
  EXPECT_TRUE(need(Ledger::open(path_)).my_stream());
}

// One that did not say yet where it lies says so once it is opened for writing.
TEST_F(Copies, ALedgerFromBeforeNotesItsDisk) {
  { Ledger ledger = started(path_, 1); }
  if (disk_mark_of(path_).empty())
    GTEST_SKIP() << "SKIPPED: this machine's disk does not say which it is";
  ASSERT_EQ(raw_sql(path_, "DELETE FROM disk"), "");
  EXPECT_TRUE(need(Ledger::open(path_, Access::kReadOnly)).my_stream());
  EXPECT_EQ(raw_value(path_, "SELECT count(*) FROM disk"), "0");
  EXPECT_TRUE(need(Ledger::open(path_)).my_stream());
  EXPECT_EQ(raw_value(path_, "SELECT mark FROM disk"), disk_mark_of(path_));
}

}  // namespace
}  // namespace ligule::ledger
