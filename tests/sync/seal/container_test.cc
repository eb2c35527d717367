#include "sync/seal/container.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "sync/seal/container_layout.h"

namespace ligule::seal {
namespace {

using testing::HasSubstr;

const std::vector<Member> two_members{{"bag/a.txt", "hello\n"},
                                      {"bag/data/b.csv", "x,y\r\n1,2\r\n"}};

std::string packed(const std::vector<Member>& members) {
  return container_bytes(members).value();
}

// The fault read_container() finds; the test fails when it finds none.
Error fault_of(const std::string& bytes) {
  const auto read = read_container(bytes, "s.zip");
  if (read) {
    ADD_FAILURE() << "the container was taken";
    return {};
  }
  return read.error();
}

// A container by the reader's own page, with one member's header changed as a test wants it.
struct Forged {
  std::string name = "bag/a.txt";
  std::string content = "hello\n";
  std::string local = local_header(name, 6, crc32(content));
  std::string bytes() const {
    const std::string directory = central_header(name, 6, crc32(content), 0);
    return local + content + directory +
           end_record(1, static_cast<std::uint32_t>(directory.size()),
                      static_cast<std::uint32_t>(local.size() + content.size()));
  }
};

TEST(Container, ReadsBackWhatItHolds) {
  const std::string bytes = packed(two_members);
  const auto members = read_container(bytes, "s.zip");
  ASSERT_TRUE(members) << one_line(members.error());
  ASSERT_EQ(members->size(), 2U);
  EXPECT_EQ((*members)[0].name, "bag/a.txt");
  EXPECT_EQ((*members)[1].bytes, two_members[1].bytes);
}

TEST(Container, IsAFunctionOfItsMembers) {
  EXPECT_EQ(packed(two_members), packed(two_members));
}

TEST(Container, HoldsAnEmptyMember) {
  const std::string bytes = packed({{"bag/empty", ""}});
  const auto members = read_container(bytes, "s.zip");
  ASSERT_TRUE(members) << one_line(members.error());
  EXPECT_EQ((*members)[0].bytes, "");
}

TEST(Container, Crc32OfTheStandardCheckWord) {
  // "123456789" gives CBF43926: the check value listed for CRC-32 in the CRC RevEng catalogue.
  EXPECT_EQ(crc32("123456789"), 0xCBF43926U);
}

// Proves: taking eight bytes at once is the same as one at a time, at every length and place.
TEST(Container, Crc32IsTheSameTakenByteByByte) {
  std::string text;
  for (int at = 0; at < 40; ++at) {
    std::uint32_t slow = 0xFFFFFFFFU;
    for (const char c : text) {
      slow ^= static_cast<unsigned char>(c);
      for (int bit = 0; bit < 8; ++bit) slow = (slow >> 1U) ^ ((slow & 1U) != 0 ? 0xEDB88320U : 0U);
    }
    EXPECT_EQ(crc32(text), ~slow) << at;
    text += static_cast<char>(at * 37 + 200);
  }
}

TEST(Container, RefusesWhatIsNoZip) {
  const Error error = fault_of("station,site,trial\n");
  EXPECT_EQ(error.kind, ErrorKind::kInvalid);
  EXPECT_EQ(error.where, "s.zip");
  EXPECT_EQ(fault_of("").kind, ErrorKind::kInvalid);
}

TEST(Container, NamesWhatIsWrongWithAMember) {
  struct Case {
    std::size_t at;
    char byte;
    const char* what;
  };
  for (const Case& c :
       {Case{6, 1, "encrypted"}, Case{6, 8, "data descriptor"}, Case{8, 8, "compressed"},
        Case{28, 4, "extra fields"}, Case{10, 1, "header is not in its form"},
        Case{14, 1, "bytes are not those that were written"}}) {
    Forged forged;
    forged.local[c.at] = c.byte;
    const Error error = fault_of(forged.bytes());
    EXPECT_EQ(error.kind, ErrorKind::kDamaged);
    EXPECT_THAT(error.what, HasSubstr(c.what));
    EXPECT_THAT(error.where, HasSubstr("bag/a.txt"));
  }
}

TEST(Container, RefusesNamesThatClimbOrHide) {
  for (const std::string name : {"../evil", "/etc/passwd", "bag/../../evil", "C:\\evil", "bag//a",
                                 "bag/", "bag/a b", "bag/\xc3\xa4", "bag/a\nb"}) {
    const std::string local = local_header(name, 0, 0);
    const std::string directory = central_header(name, 0, 0, 0);
    const std::string bytes = local + directory +
                              end_record(1, static_cast<std::uint32_t>(directory.size()),
                                         static_cast<std::uint32_t>(local.size()));
    EXPECT_THAT(fault_of(bytes).what, HasSubstr("may not have such a name")) << name;
  }
}

TEST(Container, RefusesADoubledName) {
  const std::string once = local_header("bag/a", 0, 0);
  EXPECT_THAT(fault_of(once + once).what, HasSubstr("twice"));
}

TEST(Container, RefusesTooManyMembers) {
  std::string bytes;
  for (std::size_t i = 0; i <= kMaxMembers; ++i) {
    bytes += local_header("bag/" + std::to_string(i), 0, 0);
  }
  EXPECT_THAT(fault_of(bytes).what, HasSubstr("too many members"));
}

// A header may claim four gigabytes: nothing is set aside for a claim, so this costs no memory.
TEST(Container, RefusesAClaimOfMoreBytesThanThereAre) {
  Forged forged;
  forged.local = local_header(forged.name, 0xFFFFFFFEU, 0);
  EXPECT_THAT(fault_of(forged.bytes()).what, HasSubstr("claims more bytes"));
}

TEST(Container, RefusesBytesAfterTheEnd) {
  EXPECT_THAT(fault_of(packed(two_members) + "x").what, HasSubstr("after its end"));
}

TEST(Container, RefusesACutFileAtEveryLength) {
  const std::string whole = packed(two_members);
  for (std::size_t length = 0; length < whole.size(); ++length) {
    EXPECT_FALSE(read_container(whole.substr(0, length), "s.zip")) << length;
  }
}

TEST(Container, RefusesADirectoryOfOtherMembers) {
  std::string bytes = packed(two_members);
  const std::size_t at = bytes.rfind("bag/a.txt");
  bytes[at + 4] = 'b';
  EXPECT_THAT(fault_of(bytes).what, HasSubstr("directory gives it another name"));
}

TEST(Container, RefusesToPackMoreThanTheLimit) {
  const std::string big(kMaxFileBytes, 'x');
  const auto bytes = container_bytes(std::vector<Member>{{"bag/big", big}});
  ASSERT_FALSE(bytes);
  EXPECT_EQ(bytes.error().kind, ErrorKind::kInvalid);
}

}  // namespace
}  // namespace ligule::seal
