// Every way to change a small season file that a test can go through: all must be noticed.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>

#include "sync/seal/bag.h"
#include "sync/seal/season_layout.h"
#include "sync/seal/signature.h"
#include "tests/sync/seal/rated_season.h"

namespace ligule::seal {
namespace {

class Tampering : public testing::Test {
 protected:
  explicit Tampering(Season season) : season_(std::move(season)) {}
  void expect_noticed(const std::string& bytes, const std::string& how) {
    ++tried_;
    if (bytes != sealed_ && read_season_bytes(bytes, "s.zip"))
      ADD_FAILURE() << "unnoticed: " << how;
  }
  void TearDown() override {
    std::printf("%s: %ld changes tried on a file of %zu bytes, none unnoticed\n",
                testing::UnitTest::GetInstance()->current_test_info()->name(), tried_,
                sealed_.size());
    EXPECT_GT(tried_, 0);
  }

  const Season season_;
  const std::string sealed_ = season_.sealed();
  std::vector<Member> members_ = read_container(sealed_, "s.zip").value();
  long tried_ = 0;
};

// A file of records only, and one with wide tables.
class Tamper : public Tampering, public testing::WithParamInterface<bool> {
 protected:
  Tamper() : Tampering(GetParam() ? rated_season() : small_season()) {}
};
INSTANTIATE_TEST_SUITE_P(Files, Tamper, testing::Bool(),
                         [](const auto& file) { return file.param ? "WithTables" : "Small"; });

class TamperSmall : public Tampering {
 protected:
  TamperSmall() : Tampering(small_season()) {}
};

TEST_P(Tamper, EveryFlippedBit) {
  std::string changed = sealed_;
  for (std::size_t at = 0; at < changed.size(); ++at) {
    for (unsigned bit = 0; bit < 8; ++bit) {
      const char before = changed[at];
      changed[at] = static_cast<char>(static_cast<unsigned char>(before) ^ (1U << bit));
      expect_noticed(changed, "bit " + std::to_string(bit) + " of byte " + std::to_string(at));
      changed[at] = before;
    }
  }
}

TEST_P(Tamper, EveryCut) {
  for (std::size_t length = 0; length < sealed_.size(); ++length) {
    expect_noticed(sealed_.substr(0, length), "cut to " + std::to_string(length));
  }
}

TEST_P(Tamper, EveryInsertedAndEveryRemovedByte) {
  for (std::size_t at = 0; at <= sealed_.size(); ++at) {
    std::string changed = sealed_;
    changed.insert(at, 1, 'x');
    expect_noticed(changed, "byte put in at " + std::to_string(at));
    if (at == sealed_.size()) break;
    changed = sealed_;
    changed.erase(at, 1);
    expect_noticed(changed, "byte taken out at " + std::to_string(at));
  }
}

std::string two_names(const std::string& one, const char* how, const std::string& other) {
  return one + " " + how + " " + other;
}

std::vector<std::string> other_names(const std::string& name) {
  return {name + "x", "x" + name, name.substr(0, name.size() - 1), "readme.txt", "other/" + name};
}

TEST_P(Tamper, EveryMemberRemovedRenamedDoubledEmptiedOrMoved) {
  const auto pack = [&](const std::vector<Member>& members, const std::string& how) {
    const auto bytes = container_bytes(members);
    // libzip itself refuses a doubled name; the container test makes such a file by hand.
    if (bytes) expect_noticed(*bytes, how);
  };
  for (std::size_t i = 0; i < members_.size(); ++i) {
    const std::string& name = members_[i].name;
    auto changed = members_;
    changed.erase(changed.begin() + static_cast<std::ptrdiff_t>(i));
    pack(changed, name + " removed");
    for (const std::string& other : other_names(name)) {
      changed = members_;
      changed[i].name = other;
      pack(changed, two_names(name, "renamed to", other));
    }
    changed = members_;
    changed[i].bytes = "";
    pack(changed, name + " emptied");
    for (std::size_t k = 0; k < members_.size(); ++k) {
      if (k == i) continue;
      changed = members_;
      std::swap(changed[i], changed[k]);
      pack(changed, two_names(name, "in the place of", members_[k].name));
      changed = members_;
      std::swap(changed[i].bytes, changed[k].bytes);
      pack(changed, two_names(name, "exchanged with", members_[k].name));
      changed = members_;
      changed[i].bytes = members_[k].bytes;
      pack(changed, two_names(name, "with the bytes of", members_[k].name));
    }
  }
}

TEST_P(Tamper, EveryPlaceForAMemberTooMany) {
  const std::string top = season_name(season_.table.span);
  for (const std::string& name : {top + "/readme.txt", top + "/data/more.csv", std::string("x"),
                                  top + "/tagmanifest-sha512.txt.sig"}) {
    for (std::size_t at = 0; at <= members_.size(); ++at) {
      auto changed = members_;
      changed.insert(changed.begin() + static_cast<std::ptrdiff_t>(at), Member{name, "x"});
      expect_noticed(container_bytes(changed).value(), name + " put in at " + std::to_string(at));
    }
  }
}

// Somebody without the key changes a value and makes everything else fit: chain, stream.csv,
// description, manifests, tag manifests. Only the signature can tell.
TEST_F(TamperSmall, AValueChangedAndAllManifestsMadeAgainWithoutTheKey) {
  Season forged;
  for (std::size_t i = 1; i < season_.bodies.size(); ++i) {
    std::string body = season_.bodies[i];
    const std::size_t at = body.find(",85,%,85,");
    if (at != std::string::npos) body.replace(at, 9, ",95,%,95,");
    forged.add_body(body);
  }
  ASSERT_NE(forged.bodies, season_.bodies);
  ASSERT_EQ(forged.bodies[0], season_.bodies[0]);
  // The forger signs with a key of their own ...
  const SecretKey strange = test_key(99);
  const std::string other_key = season_bytes(forged.table, forged.records_csv(), strange).value();
  expect_noticed(other_key, "signed with another key");
  // ... with that key under the id of the right one, or keeps the old signature.
  auto members = read_container(other_key, "s.zip").value();
  const std::string top = season_name(forged.table.span);
  const std::string tag_manifest(members[8].bytes);
  const std::string comment = trusted_comment(top, forged.table.span.head.hex());
  std::string signature = signature_text(strange, tag_manifest, comment);
  const std::string right_id = signature_text(forged.key, "x", comment);
  const std::size_t line = signature.find('\n') + 1;
  signature.replace(line, 13, right_id.substr(line, 13));  // 13 letters: "ED" and the id
  members[9].bytes = signature;
  expect_noticed(container_bytes(members).value(), "another key under the right id");
  members[9].bytes = members_[9].bytes;
  expect_noticed(container_bytes(members).value(), "the old signature");
}

// With a key of their own all through, the file holds, but says whose it is: a stranger's.
TEST_F(TamperSmall, AWholeFileOfAStrangerNamesTheStrangersKey) {
  Season forged(99);
  forged.add_reading("95", 95);
  ++tried_;
  const auto read = read_season_bytes(forged.sealed(), "s.zip");
  ASSERT_TRUE(read) << one_line(read.error().front());
  EXPECT_NE(read->stream.public_key, season_.key.public_key());
  EXPECT_NE(fingerprint(read->stream.public_key), fingerprint(season_.key.public_key()));
}

}  // namespace
}  // namespace ligule::seal
