// Salvage of what is left in a log, and of files that are made to take memory or time.
#include "storage/ledger/salvage.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <functional>

#include "tests/storage/files/little_memory.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;
using testing::HasSubstr;

constexpr std::size_t kPage = 4096;
constexpr std::uint64_t kLittle = std::uint64_t{256} << 20U;

std::size_t records_in(const Salvaged& found) {
  std::size_t records = 0;
  for (const WholeRun& run : found.runs) records += run.bodies.size();
  return records;
}

class SalvageOfALog : public testing::Test {
 protected:
  // What was kept last, with a note that is longer than a page, stands in the log alone.
  SalvageOfALog() {
    Ledger ledger = started(path_, 1);
    need(ledger.append({plan_record(9, plan())}));
    need(ledger.checkpoint());
    for (std::uint64_t n = 10; n < 16; ++n)
      need(ledger.append({reading(n, "101", "note", std::string(n == 12 ? 9'000 : 9, 'x'))}));
    file_ = file_bytes(path_);
    log_ = file_bytes(path_ + "-wal");
  }
  void leave(const std::string& log) {
    write_bytes(path_, file_);
    write_bytes(path_ + "-wal", log);
  }

  Folder folder_{true};
  std::string path_ = folder_.file("a.ledger");
  std::string file_, log_;
};

// Of the log's head and the first frame's: no byte of them is needed for any record.
TEST_F(SalvageOfALog, NoByteOfItsHeadIsNeeded) {
  for (std::size_t at = 0; at < 56; ++at) {
    for (const unsigned bits : {0x01U, 0x80U, 0xffU}) {
      std::string log = log_;
      log[at] = static_cast<char>(static_cast<std::uint8_t>(log[at]) ^ bits);
      leave(log);
      const Salvaged found = need(salvage(path_));
      EXPECT_EQ(records_in(found), 8U) << "byte " << at;
      EXPECT_TRUE(found.lost.empty()) << "byte " << at;
    }
  }
}

TEST_F(SalvageOfALog, ByALinkTheLogIsFoundToo) {
  leave(log_);
  const std::string link = folder_.file("link");
  std::filesystem::create_symlink(path_, link);
  EXPECT_EQ(records_in(need(salvage(link))), 8U);
}

// Pages full of rows of table `record`, each of a million bytes by its header, that begin 11 bytes
// after one another and go on in the page `next` gives (fileformat2.html, 1.6 and 2.1).
std::string made_to_fill(std::size_t pages,
                         const std::function<std::uint32_t(std::uint32_t)>& next) {
  constexpr std::size_t kRows = 40;
  constexpr std::size_t kFirst = 8;
  // NULL, id, a byte, id, empty text, 1, a text of 1,000,000 bytes, digest.
  const std::string head("\x0b\x00\x2c\x01\x2c\x0d\x09\xfa\x89\x0d\x4c", 11);
  // Of 1,000,076 bytes so many stand in the page: 489 + (1,000,076 - 489) % 4092.
  constexpr std::size_t kHere = 1'628;
  std::string file;
  file.reserve(pages * kPage);
  for (std::uint32_t number = 1; number <= pages; ++number) {
    std::string page(kPage, static_cast<char>(number));
    const std::uint32_t to = next(number);
    const std::string pointer{static_cast<char>(to >> 24U), static_cast<char>(to >> 16U),
                              static_cast<char>(to >> 8U), static_cast<char>(to)};
    page.replace(0, 4, pointer);
    for (std::size_t at = kFirst; at < kFirst + kRows * head.size(); at += head.size()) {
      page.replace(at, head.size(), head);
      page.replace(at + kHere, 4, pointer);
    }
    file += page;
  }
  return file;
}

std::string salvaged_in_little_memory(const std::string& path) {
  return files::in_little_memory(kLittle, 60, [&] {
    const auto found = salvage(path);
    return found ? std::string("something was found") : one_line(found.error());
  });
}

TEST(SalvageOfAHostileFile, OverflowPagesThatLeadInARing) {
  const Folder folder(true);
  const std::string path = folder.file("a.ledger");
  write_bytes(path, made_to_fill(22, [](std::uint32_t page) { return page % 22 + 1; }));
  EXPECT_THAT(salvaged_in_little_memory(path), HasSubstr("no record of a ledger can be found"));
}

TEST(SalvageOfAHostileFile, ManyRowsThatShareTheirPages) {
  const Folder folder(true);
  const std::string path = folder.file("a.ledger");
  write_bytes(path, made_to_fill(600, [](std::uint32_t page) { return page % 600 + 1; }));
  EXPECT_THAT(salvaged_in_little_memory(path), HasSubstr("no record of a ledger can be found"));
}

TEST(SalvageOfAHostileFile, AGigabyteOfNothing) {
  const Folder folder(true);
  const std::string path = folder.file("a.ledger");
  write_bytes(path, "x");
  std::filesystem::resize_file(path, std::uintmax_t{1} << 30U);
  EXPECT_EQ(salvaged_in_little_memory(path),
            path +
                ": it is larger than the 512 MiB that are searched for records (take its "
                "records from season files and older copies)");
  std::filesystem::resize_file(path, std::uintmax_t{400} << 20U);
  if (files::memory_is_limited()) {
    EXPECT_THAT(salvaged_in_little_memory(path), HasSubstr("there is not memory enough"));
  }
}

}  // namespace
}  // namespace ligule::ledger
