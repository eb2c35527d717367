// Archives and tables that are made to do harm: each is refused by one line, in a child process
// that may have 256 MiB and a few seconds.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <fstream>
#include <functional>

#include "tests/storage/files/faulty_file_system.h"
#include "tests/storage/files/little_memory.h"
#include "tests/sync/seal/hostile_zip.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::seal {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::StartsWith;

constexpr std::uint64_t kLittle = std::uint64_t{256} << 20U;
constexpr unsigned kSeconds = 60;

class Hostile : public testing::Test {
 protected:
  // The first fault as people see it, or "holds" and the lines of what was found.
  std::string read(const std::string& bytes) {
    const files::Path file = folder_ / "h.zip";
    std::ofstream(file, std::ios::binary) << bytes;
    return files::in_little_memory(kLittle, kSeconds, [&] {
      const auto files = files::real_file_system();
      const auto season = read_season_file(*files, file);
      if (!season) return one_line(season.error().front());
      std::string said = "holds";
      for (const std::string& line : season->findings()) said += "\n" + line;
      return said;
    });
  }

  files::TestFolder folder_;
  const std::string sealed_ = small_season().sealed();
};

struct Case {
  const char* what;                         // the trait of the archive
  std::function<void(HostileZip&)> change;  // the archive is a season file otherwise
  const char* names;                        // the member, or another place
  const char* says;                         // what is wrong
};

constexpr std::size_t kRecordsAt = 3;  // data/records.csv
constexpr const char* kRecordsName = "/data/records.csv: ";

// A case whose name is refused; the name stands in both headers.
Case named(const char* what, const std::string& name, const char* shown) {
  return {what,
          [name](HostileZip& zip) {
            zip.each_header(kRecordsAt, [&](HostileHeader& header) { header.name = name; });
          },
          shown, "a member may not have such a name"};
}
// A case in which both headers of records.csv say something false.
Case both(const char* what, const std::function<void(HostileHeader&)>& change, const char* says) {
  return {what, [change](HostileZip& zip) { zip.each_header(kRecordsAt, change); }, kRecordsName,
          says};
}
// A case in which the header in front says something false.
Case front(const char* what, const std::function<void(HostileHeader&)>& change, const char* says) {
  return {what, [change](HostileZip& zip) { change(zip.members[kRecordsAt].front); }, kRecordsName,
          says};
}
// A case in which the line in the directory, or what stands around it, says something false.
Case line(const char* what, const std::function<void(HostileMember&)>& change, const char* says) {
  return {what, [change](HostileZip& zip) { change(zip.members[kRecordsAt]); }, kRecordsName, says};
}
Case attributes(const char* what, std::uint32_t bits, const char* says) {
  return line(
      what, [bits](HostileMember& member) { member.attributes = bits; }, says);
}
Case whole(const char* what, std::function<void(HostileZip&)> change, const char* says) {
  return {what, std::move(change), "h.zip: ", says};
}

std::vector<Case> cases_of_names() {
  using namespace std::string_literals;
  std::vector<Case> cases{
      named("climbing", "../evil.csv", "../evil.csv: "),
      named("climbing within", "season/data/../../../evil", "season/data/../../../evil: "),
      named("climbing at the end", "season/..", "season/..: "),
      named("absolute", "/etc/passwd", "/etc/passwd: "),
      named("two slashes", "season//records.csv", "season//records.csv: "),
      named("network path", "//server/share/x", "//server/share/x: "),
      named("backslash", "season\\data\\x.csv", "season\\data\\x.csv: "),
      named("climbing by backslash", "..\\..\\evil", "..\\..\\evil: "),
      named("drive", "C:evil", "C:evil: "),
      named("stream of a file", "season/records.csv:evil", "season/records.csv:evil: "),
      named("NUL within", "season/a\0.csv"s, "season/a?.csv: "),
      named("line end within", "season/a\nb", "season/a?b: "),
      named("escape sequence", "season/\x1b[2Jx", "season/?[2Jx: "),
      named("letters beyond ASCII", "season/\xc3\xa4.csv", "season/??.csv: "),
      named("overlong slash", "season/..\xc0\xaf..\xc0\xafx", "season/..??..??x: "),
      named("space", "season/a b", "season/a b: "),
      named("a folder", "season/data/", "season/data/: "),
      named("home folder", "~/x", "~/x: "),
      {"no name at all", named("", "", "").change, "member 4: ", "its name cannot be read"},
      {"a name of 65,535 bytes", named("", std::string(65535, 'n'), "").change,
       "member 4: ", "its name cannot be read"},
      {"a name of 256 bytes", named("", std::string(256, 'n'), "").change,
       "member 4: ", "its name cannot be read"},
  };
  const auto added = [](const char* what, const char* path, const char* says) {
    return Case{what,
                [path](HostileZip& zip) {
                  const std::string top =
                      zip.members[0].front.name.substr(0, zip.members[0].front.name.find('/'));
                  zip.add(top + path, "x");
                },
                path + 1, says};
  };
  cases.push_back(added("the same name twice", "/data/records.csv", "it is there twice"));
  cases.push_back(added("twins of case", "/data/RECORDS.csv", "it does not belong there"));
  cases.push_back(added("a device's name", "/data/CON", "it does not belong there"));
  cases.push_back(added("a point at the end", "/data/records.csv.", "it does not belong there"));
  cases.push_back(added("a hidden file", "/.profile", "it does not belong there"));
  cases.push_back(line(
      "another name in the directory", [](HostileMember& member) { member.line.name.back() = 'w'; },
      "the directory gives it another name"));
  cases.push_back(line(
      "a longer name in the directory", [](HostileMember& member) { member.line.name += "x"; },
      "the directory gives it another name"));
  return cases;
}

std::vector<Case> cases_of_members() {
  const auto flagged = [](std::uint16_t flags) {
    return [flags](HostileHeader& header) { header.flags = flags; };
  };
  const auto packed = [](std::uint16_t method) {
    return [method](HostileHeader& header) { header.method = method; };
  };
  return {
      attributes("a link", 0120777U << 16U, "it is a link"),
      attributes("a folder", (0040755U << 16U) | 16U, "it is a folder"),
      attributes("a character device", 0020666U << 16U, "it is a device or pipe"),
      attributes("a block device", 0060660U << 16U, "it is a device or pipe"),
      attributes("a pipe", 0010644U << 16U, "it is a device or pipe"),
      attributes("a socket", 0140644U << 16U, "it is a device or pipe"),
      attributes("set user id", 0104755U << 16U, "attributes are not those of a plain file"),
      attributes("attributes of DOS", 32U, "attributes are not those of a plain file"),
      both("encrypted", flagged(1), "it is encrypted"),
      both("strong encryption", flagged(0x41), "it is encrypted"),
      both("strong encryption without the first flag", flagged(0x40), "it is encrypted"),
      both("masked headers", flagged(0x2000), "its header is not in its form"),
      both("names in UTF-8", flagged(0x800), "its header is not in its form"),
      both("patched data", flagged(0x20), "its header is not in its form"),
      both("method of AES", packed(99), "it is compressed"),
      both("deflate64", packed(9), "it is compressed"),
      line(
          "flags in the directory only", [](HostileMember& member) { member.line.flags = 1; },
          "its line in the directory is not that of its header"),
      {"a data descriptor",
       [](HostileZip& zip) {
         HostileMember& member = zip.members[kRecordsAt];
         zip.each_header(kRecordsAt, [](HostileHeader& header) { header.flags = 8; });
         member.behind = "PK\x07\x08" + four_bytes(member.front.crc) +
                         four_bytes(member.front.packed) + four_bytes(member.front.size);
         member.front.crc = member.front.packed = member.front.size = 0;
       },
       kRecordsName, "it has a data descriptor"},
      {"a megabyte that unpacks to 166",
       [](HostileZip& zip) {
         HostileMember& member = zip.members[kRecordsAt];
         member.content = deflated_zeros(645277);
         zip.each_header(kRecordsAt, [&](HostileHeader& header) {
           header.method = 8;
           header.packed = static_cast<std::uint32_t>(member.content.size());
           header.size = 258 * 645277U + 1;
         });
       },
       kRecordsName, "it is compressed"},
      both(
          "a claim of 4 GiB packed", [](HostileHeader& h) { h.packed = 0xFFFFFFFE; },
          "its header is not in its form"),
      both(
          "a claim of 4 GiB unpacked", [](HostileHeader& h) { h.size = 0xFFFFFFFE; },
          "it claims more bytes than the file has"),
      both(
          "a claim of 4 GiB", [](HostileHeader& h) { h.packed = h.size = 0xFFFFFFFE; },
          "it claims more bytes than the file has"),
      front(
          "a claim of 4 GiB in front", [](HostileHeader& h) { h.size = 0xFFFFFFFE; },
          "it claims more bytes than the file has"),
      both(
          "a claim of ZIP64", [](HostileHeader& h) { h.packed = h.size = 0xFFFFFFFF; },
          "it claims more bytes than the file has"),
      {"a claim of one byte more than there is",
       [](HostileZip& zip) {
         const std::size_t rest =
             zip.bytes().size() - zip.bytes().find(zip.members[kRecordsAt].content);
         zip.each_header(kRecordsAt, [&](HostileHeader& header) {
           header.packed = header.size = static_cast<std::uint32_t>(rest + 1);
         });
       },
       kRecordsName, "it claims more bytes than the file has"},
      front(
          "extra field of ZIP64",
          [](HostileHeader& h) {
            h.extra = two_bytes(1) + two_bytes(16) + eight_bytes(h.size) + eight_bytes(h.packed);
          },
          "it has extra fields"),
      front(
          "extra field of another name",
          [](HostileHeader& h) {
            h.extra = two_bytes(0x7075) + two_bytes(6) +
                      "\x01"
                      "abcde";
          },
          "it has extra fields"),
      line(
          "extra field in the directory",
          [](HostileMember& member) {
            member.line.extra = two_bytes(1) + two_bytes(8) + eight_bytes(0);
          },
          "it has extra fields in the directory"),
      line(
          "a member's comment", [](HostileMember& member) { member.comment = "run me"; },
          "it has a comment"),
      line(
          "another disk", [](HostileMember& member) { member.disk = 1; }, "on another disk"),
      line(
          "lying over the first", [](HostileMember& member) { member.offset = 0; },
          "the directory says that it stands elsewhere"),
      line(
          "lying in itself", [](HostileMember& member) { member.further = 1; },
          "the directory says that it stands elsewhere"),
      line(
          "beyond the file", [](HostileMember& member) { member.offset = 0xFFFFFFF0; },
          "the directory says that it stands elsewhere"),
      line(
          "another checksum in the directory", [](HostileMember& member) { ++member.line.crc; },
          "its line in the directory is not that of its header"),
      both(
          "another checksum", [](HostileHeader& header) { ++header.crc; },
          "its bytes are not those that were written"),
  };
}

std::vector<Case> cases_of_archives() {
  const std::string zip64_end = std::string("PK\x06\x06", 4) + eight_bytes(44) + two_bytes(45) +
                                two_bytes(45) + four_bytes(0) + four_bytes(0) + eight_bytes(10) +
                                eight_bytes(10) + eight_bytes(1000) + eight_bytes(1000);
  const std::string zip64_locator =
      std::string("PK\x06\x07", 4) + four_bytes(0) + eight_bytes(1000) + four_bytes(1);
  return {
      whole(
          "end records of ZIP64",
          [=](HostileZip& zip) { zip.before_end = zip64_end + zip64_locator; },
          "it has the records of a ZIP64 file"),
      whole(
          "a locator of ZIP64", [=](HostileZip& zip) { zip.before_end = zip64_locator; },
          "it has the records of a ZIP64 file"),
      whole(
          "a comment", [](HostileZip& zip) { zip.comment = "hello"; }, "it has a comment"),
      whole(
          "a program in front", [](HostileZip& zip) { zip.prefix = "MZ\x90"; },
          "this is no season file"),
      whole(
          "a script in front", [](HostileZip& zip) { zip.prefix = "#!/bin/sh\n"; },
          "this is no season file"),
      whole(
          "the mark of a split archive", [](HostileZip& zip) { zip.prefix = "PK\x07\x08"; },
          "this is no season file"),
      whole(
          "nothing but an end", [](HostileZip& zip) { zip.members.clear(); },
          "this is no season file"),
      whole(
          "two end records", [](HostileZip& zip) { zip.suffix = zip.end_of(0, 0); },
          "22 bytes stand after its end"),
      whole(
          "a second archive behind", [](HostileZip& zip) { zip.suffix = zip.bytes(); },
          "bytes stand after its end"),
      whole(
          "one of several disks", [](HostileZip& zip) { zip.disk = 1; },
          "it says that it is one of several disks"),
      whole(
          "its directory on another disk", [](HostileZip& zip) { zip.directory_disk = 1; },
          "it says that it is one of several disks"),
      whole(
          "fewer members here", [](HostileZip& zip) { zip.count_here = 1; },
          "its end record counts other members"),
      whole(
          "65,535 members counted", [](HostileZip& zip) { zip.count_here = zip.count = 65535; },
          "its end record counts other members"),
      whole(
          "the directory elsewhere", [](HostileZip& zip) { zip.directory_at = 0; },
          "the directory stands elsewhere"),
      whole(
          "a directory of 4 GiB", [](HostileZip& zip) { zip.directory_bytes = 0xFFFFFFFE; },
          "the directory stands elsewhere"),
      whole(
          "bytes before the directory", [](HostileZip& zip) { zip.before_directory = "hidden"; },
          "neither a member nor the directory"),
      whole(
          "data record of an archive",
          [](HostileZip& zip) { zip.before_directory = "PK\x06\x08" + four_bytes(0); },
          "neither a member nor the directory"),
      whole(
          "a signature of ZIP",
          [](HostileZip& zip) { zip.before_end = "PK\x05\x05" + two_bytes(0); },
          "no end record stands after its directory"),
      {"bytes between members", [](HostileZip& zip) { zip.members[kRecordsAt].behind = "hidden"; },
       "h.zip: ", "neither a member nor the directory"},
      {"a member that the directory does not list",
       [](HostileZip& zip) { zip.members[kRecordsAt].listed = false; }, kRecordsName,
       "the directory gives it another name"},
      {"a member that only the directory lists",
       [](HostileZip& zip) {
         zip.add("season/ghost", "");
         zip.members.back().in_front = false;
       },
       "h.zip: ", "its directory lists more than its members"},
      {"a member within another",
       [](HostileZip& zip) {
         HostileZip inner;
         inner.add("season/inner", "hidden");
         HostileMember& outer = zip.members[kRecordsAt];
         const HostileMember& hidden = inner.members[0];
         outer.content +=
             std::string(kLocalMark) + hidden.front.common() + hidden.front.name + hidden.content;
         zip.each_header(kRecordsAt, [&](HostileHeader& header) {
           header.crc = crc32(outer.content);
           header.packed = header.size = static_cast<std::uint32_t>(outer.content.size());
         });
         zip.members.push_back(hidden);
         zip.members.back().in_front = false;
       },
       "h.zip: ", "its directory lists more than its members"},
      whole(
          "65 members",
          [](HostileZip& zip) {
            while (zip.members.size() < 65) zip.add("s/" + std::to_string(zip.members.size()), "");
          },
          "it has too many members"),
      whole(
          "65,535 members",
          [](HostileZip& zip) {
            while (zip.members.size() < 65535)
              zip.add("s/" + std::to_string(zip.members.size()), "");
          },
          "it has too many members"),
  };
}

TEST_F(Hostile, TheArchiveThatIsSpoiltHoldsOtherwise) {
  EXPECT_EQ(taken_apart(sealed_).bytes(), sealed_);
  EXPECT_THAT(read(sealed_), StartsWith("holds"));
}

TEST_F(Hostile, EveryArchiveIsRefusedByALineThatNamesIt) {
  std::vector<Case> cases = cases_of_names();
  for (const auto& more : {cases_of_members(), cases_of_archives()})
    cases.insert(cases.end(), more.begin(), more.end());
  for (const Case& c : cases) {
    HostileZip zip = taken_apart(sealed_);
    c.change(zip);
    const std::string bytes = zip.bytes();
    zip = {};
    EXPECT_THAT(read(bytes), AllOf(HasSubstr("h.zip"), HasSubstr(c.names), HasSubstr(c.says)))
        << c.what;
  }
  std::printf("%zu hostile archives refused, each by name%s\n", cases.size(),
              files::memory_is_limited() ? " and in 256 MiB" : "; memory was not limited");
}

// Behind a right container: members that are small in every season file may not be large.
TEST_F(Hostile, TablesThatFillTheMemoryAreRefused) {
  constexpr std::size_t kMuch = std::size_t{40} << 20U;
  int tried = 0;
  for (const auto& [member, filling] :
       {std::pair{5, '\n'}, std::pair{6, '\n'}, std::pair{7, '\n'}, std::pair{8, '\n'},
        std::pair{9, '\n'}, std::pair{4, ','}, std::pair{2, '['}, std::pair{1, '\n'},
        std::pair{0, '\n'}}) {
    HostileZip zip = taken_apart(sealed_);
    auto& spoilt = zip.members[static_cast<std::size_t>(member)];
    const std::string name = spoilt.front.name;
    HostileZip made;
    for (std::size_t n = 0; n < zip.members.size(); ++n) {
      made.add(zip.members[n].front.name, n == static_cast<std::size_t>(member)
                                              ? spoilt.content + std::string(kMuch, filling)
                                              : zip.members[n].content);
    }
    const std::string bytes = made.bytes();
    made = {};
    const std::string inner = name.substr(name.find('/') + 1);
    EXPECT_THAT(read(bytes), HasSubstr(", " + inner + ": it is larger than it can be"));
    ++tried;
  }
  std::printf("%d members of 40 MiB refused\n", tried);
}

// Signed with the right key, so that only the rows themselves can be refused, or do harm.
TEST_F(Hostile, RowsThatFillTheMemoryAreReadOrRefused) {
  constexpr std::size_t kDeep = 400'000;
  const std::string nested = R"({"a":)" + std::string(kDeep, '[') + std::string(kDeep, ']') + "}";
  const auto with = [](const std::function<void(Season&)>& more) {
    Season season = small_season();
    more(season);
    season.add_note("last");
    return season.sealed();
  };
  const auto row = [](std::string_view what, const std::string& details) {
    return [what, details](Season& season) {
      Record record = season.envelope(what);
      record.details = details;
      if (what == kind::kPlan) record.plan = sha256(details).hex();
      if (what == kind::kDefinition || what == kind::kLimits)
        record.definition = sha256(details).hex();
      season.add(record);
    };
  };
  for (const std::string_view what : {kind::kEvent, kind::kPlan, kind::kDefinition, kind::kLimits,
                                      std::string_view("soil_core")}) {
    EXPECT_THAT(read(with(row(what, nested))), HasSubstr("column details: '{\"a\":[[[[[")) << what;
    // As deep as may be, as long as may be.
    const std::string wide = R"({"a":")" + std::string(1'000'000, '[') + R"(","b":)" +
                             std::string(63, '[') + std::string(63, ']') + "}";
    EXPECT_THAT(read(with(row(what, wide))), StartsWith("holds")) << what;
  }
  EXPECT_THAT(read(with(row("soil_core", std::string(kDeep, '{')))),
              HasSubstr("column details: '{{{"));
  EXPECT_THAT(read(with([](Season& s) { s.add_body(std::string(1'000'000, ',')); })),
              HasSubstr("the line has more than 10000 cells"));
  EXPECT_THAT(read(with([](Season& s) { s.add_body(std::string(9'000, ',')); })),
              HasSubstr("the row has not 29 columns"));
  EXPECT_THAT(read(with([](Season& s) { s.add_body("\"" + std::string(1'000'000, '"')); })),
              HasSubstr("not in canonical form"));
}

TEST_F(Hostile, ManyRecordsThatMakeNoSenseAreCountedNotKept) {
  constexpr int kMany = 60'000;
  const std::string sealed = [] {
    Season season = small_season();
    for (int n = 0; n < kMany; ++n) season.add(season.envelope(kind::kPerson));
    for (int n = 0; n < kMany; ++n) {
      Record record = season.envelope(kind::kEvent);
      record.at.offset = std::chrono::minutes(1081);
      season.add(record);
    }
    return season.sealed();
  }();
  const std::string said = read(sealed);
  EXPECT_THAT(said, HasSubstr("carried for nothing: 59995 more records"));
  EXPECT_THAT(said, HasSubstr("remark: 59995 more records"));
}

}  // namespace
}  // namespace ligule::seal
