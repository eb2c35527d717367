// The note beside a ledger of how far its streams had come: it never goes back, knows every stream,
// and one that an older program wrote is read.
#include "storage/ledger/high_water.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <filesystem>
#include <thread>

#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;
using testing::HasSubstr;

class HighWaterNote : public testing::Test {
 protected:
  static StreamId stream(std::uint64_t n) { return StreamId{id(n)}; }
  // As versions up to 2026-11 wrote it.
  static std::string old_line(StreamId of, const std::string& seq) {
    return of.text() + " " + std::string(20 - seq.size(), '0') + seq + "\n";
  }

  Folder folder_{true};
  std::string path_ = folder_.file("a.ledger"), note_ = path_ + ".last";
};

TEST_F(HighWaterNote, HasALineForEachStream) {
  for (std::uint64_t n = 1; n < 40; ++n)
    note_high_water(path_, stream(n), static_cast<std::int64_t>(n));
  note_high_water(path_, stream(7), 1'000);
  for (std::uint64_t n = 1; n < 40; ++n)
    EXPECT_EQ(high_water(path_, stream(n)), n == 7 ? 1'000 : static_cast<std::int64_t>(n));
  EXPECT_EQ(high_water(path_, stream(40)), 0);
  EXPECT_EQ(high_waters(path_).size(), 39U);
  const std::string text = file_bytes(note_);
  EXPECT_EQ(text.size(), 39U * 64);
  for (std::size_t at = 63; at < text.size(); at += 64) EXPECT_EQ(text[at], '\n');
  struct stat about {};
  ASSERT_EQ(stat(note_.c_str(), &about), 0);
  EXPECT_EQ(about.st_mode & 0777U, 0600U);
}

TEST_F(HighWaterNote, NeverGoesBack) {
  note_high_water(path_, stream(1), 11);
  note_high_water(path_, stream(1), 10);
  EXPECT_EQ(high_water(path_, stream(1)), 11);
}

// A batch that is tried again may stand behind the newest record.
TEST_F(HighWaterNote, OfABatchThatIsTriedAgainNeither) {
  Ledger ledger = started(path_, 1);
  need(ledger.append({reading(10, "101", "note", "x")}));
  need(ledger.append({reading(11, "101", "note", "y")}));
  EXPECT_EQ(need(ledger.append({reading(10, "101", "note", "x")})).front().seq, 2);
  EXPECT_EQ(high_water(path_, stream(1)), 3);
}

TEST_F(HighWaterNote, TwoProgramsLoseEachOthersLinesNever) {
  std::vector<std::thread> programs;
  programs.reserve(4);
  for (std::uint64_t program = 0; program < 4; ++program)
    programs.emplace_back([this, program] {
      for (std::int64_t seq = 1; seq <= 200; ++seq) {
        note_high_water(path_, stream(program), seq);
        note_high_water(path_, stream(9), 4 * seq + static_cast<std::int64_t>(program));
      }
    });
  for (std::thread& program : programs) program.join();
  for (std::uint64_t program = 0; program < 4; ++program)
    EXPECT_EQ(high_water(path_, stream(program)), 200);
  EXPECT_EQ(high_water(path_, stream(9)), 803);
}

TEST_F(HighWaterNote, OfAnOlderVersionIsReadAndGoesOn) {
  write_bytes(note_, old_line(stream(1), "12"));
  EXPECT_EQ(high_water(path_, stream(1)), 12);
  note_high_water(path_, stream(2), 5);
  note_high_water(path_, stream(1), 13);
  EXPECT_EQ(high_water(path_, stream(1)), 13);
  EXPECT_EQ(high_water(path_, stream(2)), 5);
  // What an older version reads: the first 58 bytes.
  EXPECT_EQ(file_bytes(note_).substr(0, 57), old_line(stream(1), "13").substr(0, 57));
  // And how it writes, whatever stands there.
  std::string text = file_bytes(note_);
  text.replace(0, 58, old_line(stream(2), "9"));
  write_bytes(note_, text);
  EXPECT_EQ(high_water(path_, stream(2)), 9);
  EXPECT_EQ(high_waters(path_).size(), 1U);
}

TEST_F(HighWaterNote, LinesThatSayNothingAreWrittenOver) {
  note_high_water(path_, stream(1), 3);
  note_high_water(path_, stream(2), 4);
  std::string text = file_bytes(note_);
  text.replace(0, 64, 64, '\0');
  write_bytes(note_, text.substr(0, 100));
  EXPECT_TRUE(high_waters(path_).empty()) << "a line that is cut off says nothing";
  note_high_water(path_, stream(3), 5);
  EXPECT_EQ(high_water(path_, stream(3)), 5);
  EXPECT_EQ(file_bytes(note_).size(), 128U);
}

// A whole ledger would be taken for one that lost records, and with a log beside it be refused.
TEST_F(HighWaterNote, AChangedBitNeverSaysAnotherNumber) {
  note_high_water(path_, stream(1), 604);
  const std::string text = file_bytes(note_);
  for (std::size_t bit = 0; bit < 8 * text.size(); ++bit) {
    std::string changed = text;
    changed[bit / 8] = static_cast<char>(changed[bit / 8] ^ (1 << (bit % 8)));
    write_bytes(note_, changed);
    for (const HighWater& each : high_waters(path_)) {
      EXPECT_EQ(each.stream, stream(1)) << "bit " << bit;
      EXPECT_EQ(each.seq, 604) << "bit " << bit;
    }
  }
  write_bytes(note_, text);
  EXPECT_EQ(high_water(path_, stream(1)), 604);
}

// As this version wrote it first, without the sum.
TEST_F(HighWaterNote, LinesWithoutASumAreRead) {
  const std::string said = old_line(stream(1), "12").substr(0, 57);
  write_bytes(note_, said + "      \n");
  EXPECT_EQ(high_water(path_, stream(1)), 12);
  note_high_water(path_, stream(1), 13);
  EXPECT_EQ(high_water(path_, stream(1)), 13);
}

// Whoever puts a link there would have a file of ours written over.
TEST_F(HighWaterNote, IsNeverWrittenByALink) {
  const std::string other = folder_.file("other");
  write_bytes(other, "another file");
  std::filesystem::create_symlink(other, note_);
  note_high_water(path_, stream(1), 3);
  note_high_water(path_, stream(1), 4);
  EXPECT_EQ(file_bytes(other), "another file");
  EXPECT_EQ(high_water(path_, stream(1)), 4) << "the link is out of the way";
}

TEST_F(HighWaterNote, IsLoweredOnlyFromWhatWasRead) {
  note_high_water(path_, stream(1), 8);
  note_high_water(path_, stream(2), 8);
  note_high_water(path_, stream(3), 9);
  lower_high_water(path_, {stream(1), 8}, 5);
  lower_high_water(path_, {stream(2), 8}, 0);
  lower_high_water(path_, {stream(3), 8}, 5);
  EXPECT_EQ(high_water(path_, stream(1)), 5);
  EXPECT_EQ(high_water(path_, stream(2)), 0);
  EXPECT_EQ(high_water(path_, stream(3)), 9) << "somebody noted more meanwhile";
}

TEST_F(HighWaterNote, IsOneWhoeverComesByALink) {
  const std::string link = folder_.file("link");
  std::filesystem::create_symlink(path_, link);
  { const Ledger ledger = started(path_, 1); }
  {
    Ledger ledger = need(Ledger::open(link));
    need(ledger.append({reading(10, "101", "note", "x")}));
  }
  EXPECT_EQ(high_water(path_, stream(1)), 2);
  EXPECT_EQ(high_water(link, stream(1)), 2);
  EXPECT_FALSE(std::filesystem::exists(link + ".last"));
}

TEST_F(HighWaterNote, OfALedgerInMemoryThereIsNone) {
  Ledger memory = need(Ledger::in_memory());
  const Ledger other = started(path_, 1);
  StreamInfo from = *other.my_stream();
  from.mine = false;
  need(memory.absorb(from, 1, {}, bodies(other, from.id, 1, 1)));
  EXPECT_FALSE(std::filesystem::exists(":memory:.last"));
}

}  // namespace
}  // namespace ligule::ledger
