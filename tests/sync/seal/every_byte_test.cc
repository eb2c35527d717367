// Every other value of every byte of a small season file, every cut, every byte put in or taken
// out: all must be noticed. Then the same behind a container, and behind manifests, that somebody
// made to fit, so that what stands further in is shown to notice too. In eight parts, which ctest
// runs side by side; each prints what it tried.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <functional>

#include "sync/seal/bag.h"
#include "sync/seal/container_layout.h"
#include "sync/seal/season_layout.h"
#include "sync/seal/signature.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::seal {
namespace {

#if defined(__SANITIZE_ADDRESS__)
constexpr bool kAll = false;
constexpr const char* kHowMany = " (one bit of each byte only: sanitizers)";
#else
constexpr bool kAll = true;
constexpr const char* kHowMany = "";
#endif

constexpr std::size_t kParts = 8;

class EveryByte : public testing::TestWithParam<std::size_t> {
 protected:
  EveryByte() {
    season_.add_reading("12.5", 12.5);
    sealed_ = season_.sealed();
    members_ = read_container(sealed_, "s.zip").value();
  }
  void TearDown() override {
    std::printf("%s, part %zu of %zu: %ld changes tried on a file of %zu bytes, %ld unnoticed%s\n",
                testing::UnitTest::GetInstance()->current_test_info()->name(), GetParam() + 1,
                kParts, tried_, sealed_.size(), unnoticed_, kHowMany);
    EXPECT_GT(tried_, 0);
    EXPECT_EQ(unnoticed_, 0);
  }

  void expect_noticed(const std::string& bytes, std::string_view how, std::size_t at) {
    if (bytes == sealed_) return;
    ++tried_;
    if (!read_season_bytes(bytes, "s.zip")) return;
    ++unnoticed_;
    if (unnoticed_ < 10) ADD_FAILURE() << "unnoticed: " << how << " " << at;
  }
  [[nodiscard]] static bool in_my_part(std::size_t at) { return at % kParts == GetParam(); }

  // Every other value of the bytes of text that are in this part, or one each.
  static void each_other_value(std::string& text, bool all,
                               const std::function<void(std::size_t)>& act) {
    for (std::size_t at = 0; at < text.size(); ++at) {
      if (!in_my_part(at)) continue;
      const char before = text[at];
      for (unsigned change = 1; change < 256; change = all ? change + 1 : change * 256) {
        text[at] = static_cast<char>(static_cast<unsigned char>(before) ^ change);
        act(at);
      }
      text[at] = before;
    }
  }
  // The container of members as FORMAT.md 2 says, without libzip, which takes longer.
  static std::string packed(const std::vector<Member>& members) {
    std::string out, directory;
    for (const Member& member : members) {
      const auto size = static_cast<std::uint32_t>(member.bytes.size());
      const std::uint32_t crc = crc32(member.bytes);
      directory += central_header(member.name, size, crc, static_cast<std::uint32_t>(out.size()));
      out += local_header(member.name, size, crc) + std::string(member.bytes);
    }
    return out + directory +
           end_record(static_cast<std::uint16_t>(members.size()),
                      static_cast<std::uint32_t>(directory.size()),
                      static_cast<std::uint32_t>(out.size()));
  }
  [[nodiscard]] Member in_bag(std::size_t at) const {
    return {std::string(kSeasonMembers.at(at)), members_[at].bytes};
  }

  Season season_;
  std::string sealed_;
  std::vector<Member> members_;
  long tried_ = 0, unnoticed_ = 0;
};

TEST_P(EveryByte, IsOfAnotherValue) {
  std::string changed = sealed_;
  each_other_value(changed, kAll,
                   [&](std::size_t at) { expect_noticed(changed, "another value of byte", at); });
}

TEST_P(EveryByte, IsWhereTheFileIsCut) {
  for (std::size_t length = 0; length < sealed_.size(); ++length) {
    if (in_my_part(length)) expect_noticed(sealed_.substr(0, length), "cut to", length);
  }
}

TEST_P(EveryByte, IsTakenOut) {
  for (std::size_t at = 0; at < sealed_.size(); ++at) {
    if (!in_my_part(at)) continue;
    std::string changed = sealed_;
    expect_noticed(changed.erase(at, 1), "taken out: byte", at);
  }
}

TEST_P(EveryByte, IsPutIn) {
  for (std::size_t at = 0; at <= sealed_.size(); ++at) {
    if (!in_my_part(at)) continue;
    for (const char put : {'\0', '\xff', sealed_[at == 0 ? 0 : at - 1]}) {
      std::string changed = sealed_;
      expect_noticed(changed.insert(at, 1, put), "put in at", at);
    }
  }
}

TEST_P(EveryByte, IsAnotherBehindARightContainer) {
  for (std::size_t n = 0; n < members_.size(); ++n) {
    auto members = members_;
    std::string text(members[n].bytes);
    each_other_value(text, false, [&](std::size_t at) {
      members[n].bytes = text;
      expect_noticed(packed(members), kSeasonMembers.at(n), at);
    });
  }
}

// Chain, description and stream table do not fit either, but the signature is looked at before.
TEST_P(EveryByte, OfThePayloadIsAnotherBehindRightManifests) {
  for (const std::size_t n : {2U, 3U, 4U}) {
    std::string text(members_[n].bytes);
    each_other_value(text, false, [&](std::size_t at) {
      std::vector<Member> listed{in_bag(2), in_bag(3), in_bag(4)};
      listed[n - 2].bytes = text;
      const auto last = parse_record(season_.bodies.back()).value();
      const auto tags =
          tag_files({last.at.local_date, season_name(season_.table.span), false}, listed);
      auto members = members_;
      members[n].bytes = text;
      const auto put = [&](std::size_t member, std::string_view path) {
        members[member].bytes = std::ranges::find(tags, path, &BagFile::path)->bytes;
      };
      for (const std::size_t tag : {0U, 1U, 5U, 6U, 7U, 8U}) put(tag, kSeasonMembers.at(tag));
      expect_noticed(packed(members), kSeasonMembers.at(n), at);
    });
  }
}

// All made to fit and signed with the right key, but for the head that is stated: the chain.
TEST_P(EveryByte, OfTheRecordsIsAnotherBehindARightSignature) {
  std::string rows = season_.records_csv();
  each_other_value(rows, false, [&](std::size_t at) {
    const auto bytes = season_bytes(season_.table, rows, season_.key);
    if (bytes) expect_noticed(*bytes, "data/records.csv", at);
  });
}

INSTANTIATE_TEST_SUITE_P(Parts, EveryByte, testing::Range(std::size_t{0}, kParts));

}  // namespace
}  // namespace ligule::seal
