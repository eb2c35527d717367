// A season file from a stranger, through the desk's own commands: it writes nothing outside the
// ledger it is gathered into, fills no memory, and none of its texts is run. (What archives are
// refused, one by one: tests/sync/seal/hostile_test.cc.)
#include <sys/resource.h>

#include <cstdio>
#include <filesystem>

#include "storage/trial/details.h"
#include "sync/seal/keys.h"
#include "tests/storage/files/little_memory.h"
#include "tests/sync/desk/season_fixture.h"
#include "tests/sync/seal/hostile_zip.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::desk {
namespace {

using ledger::sample::raw_value;
using testing::HasSubstr;

constexpr const char* kSql = "'); DROP TABLE record; DELETE FROM item; --";

class Stranger : public SeasonCommands {
 protected:
  std::string write(const std::string& name, const std::string& bytes) {
    const std::string path = (folder_.path() / name).string();
    ledger::sample::write_bytes(path, bytes);
    return path;
  }
  // Everything below and beside the test's folder that such a file might reach.
  std::vector<std::string> around() const {
    std::vector<std::string> found;
    for (const auto& each : std::filesystem::recursive_directory_iterator(folder_.path()))
      found.push_back(each.path().string());
    for (const char* outside : {"/evil", "/tmp/evil", "/etc/evil.csv"})
      if (std::filesystem::exists(outside)) found.emplace_back(outside);
    std::ranges::sort(found);
    return found;
  }
  // The same without the tables and the ledger with its logs.
  std::vector<std::string> beside() const {
    std::vector<std::string> found = around();
    std::erase_if(found, [&](const std::string& each) {
      return each.starts_with(out_) || each.starts_with(office_);
    });
    return found;
  }
  // What a command says in a child with 256 MiB, and the most memory it took.
  std::string in_child(const std::vector<std::string>& words) {
    return files::in_little_memory(std::uint64_t{256} << 20U, 60, [&] {
      std::ostringstream out, err;
      const int exit = run(words, out, err, *files_);
      rusage used{};
      ::getrusage(RUSAGE_SELF, &used);
      return "exit " + std::to_string(exit) + " " + std::to_string(used.ru_maxrss / 1024) + " " +
             err.str();
    });
  }
};

TEST_F(Stranger, WritesNothingOutsideItsPlace) {
  const seal::Season season = seal::small_season();
  const std::string key = write("n.pub", seal::public_key_text(season.key.public_key()));
  ASSERT_EQ(desk({"trust", "--ledger", office_, key}).exit, 0);
  const std::string sealed = season.sealed();
  const std::string before = digest_of(office_);
  int tried = 0;
  for (const std::string& name :
       {std::string("../evil"), std::string("../../../../../../../../tmp/evil"),
        std::string("/etc/evil.csv"), std::string("C:\\evil"), std::string("season/../../evil"),
        std::string("//host/share/evil"), std::string("CON"), std::string("season/nul.csv"),
        std::string(255, 'n'), std::string(300, 'n'), std::string("~/evil")}) {
    for (const bool link : {false, true}) {
      seal::HostileZip zip = seal::taken_apart(sealed);
      zip.each_header(3, [&](seal::HostileHeader& header) { header.name = name; });
      if (link) zip.members[3].attributes = 0120777U << 16U;
      const std::string file = write("h.zip", zip.bytes());
      const auto there = around();
      for (const std::vector<std::string>& words :
           {std::vector<std::string>{"verify", file}, {"gather", "--ledger", office_, file}}) {
        const Ran ran = desk(words);
        EXPECT_NE(ran.exit, 0) << name;
        EXPECT_THAT(ran.err, HasSubstr("h.zip"));
      }
      EXPECT_EQ(around(), there) << name;
      ++tried;
    }
  }
  EXPECT_EQ(digest_of(office_), before);
  std::printf("%d names and links: nothing was written\n", tried);
}

// A season file whose one reading is of a measure of that code, signed like any other.
std::string file_of_measure(const std::string& code) {
  constexpr std::string_view kMeasure = ",percent_stand,";
  seal::Season usual;
  usual.add_reading("85", 85);
  std::string reading = usual.bodies.back();
  reading.replace(reading.find(kMeasure), kMeasure.size(), "," + code + ",");
  seal::Season season;
  season.add_body(reading);
  return season.sealed();
}

// A folder below --out is named by the code of a measure: it must be no way out.
TEST_F(Stranger, NamesNoFolderOutsideTheTables) {
  const std::string key = write("n.pub", seal::public_key_text(seal::test_key().public_key()));
  ASSERT_EQ(desk({"trust", "--ledger", office_, key}).exit, 0);
  for (const char* code : {"../../evil", "/tmp/evil", "..", "a/b", ".hidden"}) {
    Record record = seal::Season().envelope(kind::kReading);
    record.measure = code;
    const auto body = record_body(record);
    EXPECT_TRUE(!body || !parse_record(*body)) << code;
    const std::string file = write("f.zip", file_of_measure(code));
    const auto there = beside();
    const std::string held = digest_of(office_);
    const Ran gathered = desk({"gather", "--ledger", office_, file});
    EXPECT_EQ(gathered.exit, 1) << code;
    EXPECT_THAT(gathered.err, HasSubstr("f.zip")) << code;
    EXPECT_EQ(digest_of(office_), held) << code;
    desk({"tables", "--ledger", office_, "--out", out_});
    EXPECT_FALSE(std::filesystem::exists(out_ + "/measures")) << code;
    EXPECT_EQ(beside(), there) << code;
  }
  // It was the code that was refused.
  const Ran usual = desk({"gather", "--ledger", office_, write("f.zip", file_of_measure("cover"))});
  EXPECT_EQ(usual.exit, 0) << usual.err;
}

// Text that would be SQL stands in every cell that takes text; it comes back as it was.
TEST_F(Stranger, RunsNoSql) {
  seal::Season season;
  season.table.stream.device = kSql;
  season.bodies.clear();
  Record first = season.envelope(kind::kStream);
  first.details = details_text({{"device", kSql},
                                {"public_key", seal::hex(season.table.stream.public_key)},
                                {"software", kSql}});
  season.add(first);
  Record event = season.envelope(kind::kEvent);
  event.entered = kSql;
  event.reason = kSql;
  event.raw = kSql;
  event.details = details_text({{"words", kSql}, {kSql, kSql}});
  season.add(event);
  season.add_reading("85", 85);
  const std::string file = write("s.zip", season.sealed());
  const std::string key = write("n.pub", seal::public_key_text(season.key.public_key()));
  ASSERT_EQ(desk({"trust", "--ledger", office_, key, "--label", kSql}).exit, 0);
  const std::string tables = raw_value(office_, "SELECT count(*) FROM sqlite_schema");
  const Ran gathered = desk({"gather", "--ledger", office_, file});
  EXPECT_EQ(gathered.exit, 0) << gathered.err;
  EXPECT_EQ(raw_value(office_, "SELECT count(*) FROM sqlite_schema"), tables);
  EXPECT_EQ(raw_value(office_, "SELECT count(*) FROM record"), "3");
  EXPECT_EQ(raw_value(office_, "SELECT device FROM stream"), kSql);
  EXPECT_EQ(desk({"ledger-check", "--ledger", office_}).exit, 0);
  for (const char* command : {"settle", "clock"})
    EXPECT_EQ(desk({command, "--ledger", office_}).exit, 0) << command;
  const auto ledger = ledger::sample::need(ledger::Ledger::open(office_));
  const auto events = ledger::sample::need(ledger.of_kind(kind::kEvent));
  ASSERT_EQ(events.size(), 1U);
  EXPECT_EQ(events.front().reason, kSql);
  EXPECT_EQ(events.front().raw, kSql);
}

// The most memory that any of them takes, beside what the program takes for a whole small file.
TEST_F(Stranger, FillsNoMemory) {
  if (!files::memory_is_limited()) GTEST_SKIP() << "SKIPPED: no limit of memory holds here";
  const std::string sealed = seal::small_season().sealed();
  const auto spoilt = [&](const std::function<void(seal::HostileZip&)>& change) {
    seal::HostileZip zip = seal::taken_apart(sealed);
    change(zip);
    return zip.bytes();
  };
  const auto claims = [](std::uint32_t bytes) {
    return [bytes](seal::HostileZip& zip) {
      zip.each_header(3, [&](seal::HostileHeader& h) { h.packed = h.size = bytes; });
    };
  };
  const std::vector<std::pair<const char*, std::function<std::string()>>> cases{
      {"a whole small file", [&] { return sealed; }},
      {"one megabyte that unpacks to 166",
       [&] {
         return spoilt([](seal::HostileZip& zip) {
           zip.members[3].content = seal::deflated_zeros(645277);
           zip.each_header(3, [&](seal::HostileHeader& h) {
             h.method = 8;
             h.packed = static_cast<std::uint32_t>(zip.members[3].content.size());
             h.size = 258 * 645277U + 1;
           });
         });
       }},
      {"a claim of 4 GiB", [&] { return spoilt(claims(0xFFFFFFFE)); }},
      {"a million members counted",
       [&] {
         return spoilt([](seal::HostileZip& zip) {
           while (zip.members.size() < 65535)
             zip.add("s/" + std::to_string(zip.members.size()), "");
           // A ZIP without ZIP64 can count no more: the rest are only there.
           std::string more;
           for (int n = 0; n < 935'000; ++n) more += "PK\x03\x04";
           zip.before_directory = more;
         });
       }},
      {"JSON that is nested 400,000 deep",
       [] {
         seal::Season season = seal::small_season();
         Record record = season.envelope(kind::kPlan);
         record.details = "{\"a\":" + std::string(400'000, '[') + std::string(400'000, ']') + "}";
         record.plan = sha256(record.details).hex();
         season.add(record);
         season.add_note("last");
         return season.sealed();
       }},
      {"a line of 1 MiB of commas",
       [] {
         seal::Season season = seal::small_season();
         season.add_body(std::string(1'000'000, ','));
         season.add_note("last");
         return season.sealed();
       }},
      {"rows of 40 MiB without an end",
       [&] {
         return spoilt([](seal::HostileZip& zip) {
           std::string& rows = zip.members[3].content;
           rows += std::string(std::size_t{40} << 20U, 'x');
           zip.each_header(3, [&](seal::HostileHeader& h) {
             h.packed = h.size = static_cast<std::uint32_t>(rows.size());
             h.crc = seal::crc32(rows);
           });
         });
       }},
  };
  for (const auto& [what, make] : cases) {
    const std::string file = write("m.zip", make());
    const std::string said = in_child({"verify", file});
    ASSERT_THAT(said, testing::StartsWith("exit ")) << what;
    const std::string rest = said.substr(said.find(' ', 5) + 1);
    std::printf("%s: %s MiB at most; %s\n", what, rest.substr(0, rest.find(' ')).c_str(),
                rest.substr(rest.find(' ') + 1, 110).c_str());
    const bool whole = what == cases.front().first;
    EXPECT_THAT(said, testing::StartsWith(whole ? "exit 0" : "exit ")) << what;
    EXPECT_EQ(said.starts_with("exit 0"), whole) << what;
    EXPECT_THAT(said, testing::Not(HasSubstr("not enough memory"))) << what;
  }
}

// A plan folder of a stranger's stick.
TEST_F(Stranger, APlanFolderFillsNoMemoryAndLeadsNowhere) {
  if (!files::memory_is_limited()) GTEST_SKIP() << "SKIPPED: no limit of memory holds here";
  const std::string plots = plan_folder_ + "/plots.csv";
  const std::string sound = ledger::sample::file_bytes(plots);
  const std::string header = sound.substr(0, sound.find('\n') + 1);
  const auto judged = [&](const char* what) {
    const std::string said = in_child({"plan-check", plan_folder_});
    EXPECT_THAT(said, testing::StartsWith("exit ")) << what;
    EXPECT_FALSE(said.starts_with("exit 0")) << what;
    EXPECT_THAT(said, testing::Not(HasSubstr("not enough memory"))) << what;
    std::printf("%s: %s\n", what, said.substr(0, 130).c_str());
  };
  ledger::sample::write_bytes(plots, header + std::string(std::size_t{60} << 20U, ','));
  judged("one line of 60 MiB");
  std::string rows = header;
  for (int n = 0; n < 1'000'000; ++n) rows += "1,1,E1,1,1,1\n";
  ledger::sample::write_bytes(plots, rows);
  judged("a million rows");
  // As large as is read, and every row at fault.
  ledger::sample::write_bytes(plots, rows.substr(0, std::size_t{4} << 20U));
  judged("four megabytes of faults");
  ledger::sample::write_bytes(plots, header + std::string((std::size_t{4} << 20U) - 1000, ','));
  judged("one line of four megabytes of commas");
  std::string pairs = header;
  while (pairs.size() < (std::size_t{4} << 20U) - 4) pairs += ",\n";
  ledger::sample::write_bytes(plots, pairs);
  judged("two million rows of nothing");
  ledger::sample::write_bytes(plots, header + "\"" + std::string(std::size_t{60} << 20U, 'x'));
  judged("a quote that never ends");
  std::filesystem::remove(plots);
  std::filesystem::create_symlink("/dev/zero", plots);
  judged("a link to a device without an end");
}

}  // namespace
}  // namespace ligule::desk
