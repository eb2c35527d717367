// The chain as a program that shares no code with ours sees it.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <cstdlib>

#include "storage/trial/record_line.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;

class Chain : public testing::Test {
 protected:
  // Writes records.csv and stream.csv of seq first to the end as sync/seal/FORMAT.md says.
  void write_tables(std::int64_t first) {
    const StreamInfo stream = need(ledger_.streams()).at(0);
    const Span span = need(ledger_.spans()).at(0);
    std::string records;
    for (const std::string_view column : kRecordColumns)
      records += (records.empty() ? "" : ",") + std::string(column);
    records += "\r\n";
    for (const std::string& body : bodies(ledger_, stream.id, first, span.last))
      records += body + "\r\n";
    write_bytes(folder_.file("records.csv"), records);
    const std::vector<std::string> cells{stream.id.text(),
                                         stream.device,
                                         Digest{stream.public_key}.hex(),
                                         "",
                                         "0",
                                         std::to_string(first),
                                         std::to_string(span.last),
                                         need(ledger_.digest_at(stream.id, first - 1)).hex(),
                                         span.head.hex()};
    write_bytes(folder_.file("stream.csv"),
                "stream,device,public_key,continues,demo,first,last,digest_before,head\r\n" +
                    join_line(cells) + "\r\n");
  }

  int verdict() {
    const std::string command = std::string("python3 ") + LIGULE_TEST_DATA +
                                "/storage/ledger/verify_chain.py " + folder_.file("records.csv") +
                                " " + folder_.file("stream.csv") + " >/dev/null 2>&1";
    const int status = std::system(command.c_str());  // NOLINT(concurrency-mt-unsafe): one thread
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  }

  // Changes a table by hand and asks again.
  int verdict_after(const std::string& table, const std::string& from, const std::string& to) {
    std::string bytes = file_bytes(folder_.file(table));
    const std::string whole = bytes;
    bytes.replace(bytes.find(from), from.size(), to);
    write_bytes(folder_.file(table), bytes);
    const int answer = verdict();
    write_bytes(folder_.file(table), whole);
    return answer;
  }

  Folder folder_{true};
  Ledger ledger_ = started(folder_.file("a.ledger"), 1, "tablet, the \"old\" one");
};

TEST_F(Chain, HoldsByAScriptThatSharesNoCode) {
  Record note = reading(12, "102", "note", "");
  note.entered = "lodged, \"flat\" – Süd";
  note.value.reset();
  need(ledger_.append({plan_record(10, plan()), reading(11, "101", "percent_stand", "80"), note}));
  for (const std::int64_t first : {1, 3}) {
    write_tables(first);
    EXPECT_EQ(verdict(), 0) << first;
  }
}

TEST_F(Chain, AChangeByHandIsSeenByThatScript) {
  need(ledger_.append(
      {reading(10, "101", "percent_stand", "80"), reading(11, "102", "percent_stand", "70")}));
  write_tables(1);
  ASSERT_EQ(verdict(), 0);
  EXPECT_EQ(verdict_after("records.csv", ",80,", ",90,"), 1);
  EXPECT_EQ(verdict_after("records.csv", ",2,", ",4,"), 1);
  EXPECT_EQ(verdict_after("records.csv", "\r\n", "\n"), 1);
  EXPECT_EQ(verdict_after("records.csv", "seq", "sea"), 1);
  EXPECT_EQ(verdict_after("stream.csv", ",3,", ",2,"), 1);
  std::filesystem::remove(folder_.file("stream.csv"));
  EXPECT_EQ(verdict(), 2);
}

}  // namespace
}  // namespace ligule::ledger
