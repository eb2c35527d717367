#include "sync/seal/keys.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>

#include "sync/seal/encoding.h"
#include "sync/seal/signature.h"

namespace ligule::seal {
namespace {

using testing::HasSubstr;
using testing::MatchesRegex;

class Keys : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::temp_directory_path() /
              ("ligule_keys_" + std::to_string(getpid()) + "_" +
               testing::UnitTest::GetInstance()->current_test_info()->name());
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
    ledger_ = (folder_ / "north.ligule").string();
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::unique_ptr<files::FileSystem> files_ = files::real_file_system();
  files::Path folder_;
  std::string ledger_;
};

Seed seed_of(std::uint8_t fill) {
  Seed seed{};
  seed.fill(fill);
  return seed;
}

TEST_F(Keys, AreKeptForTheOwnerOnlyAndReadBack) {
  const SecretKey key = SecretKey::fresh();
  ASSERT_TRUE(keep_secret_key(*files_, ledger_, key));
  struct stat info {};
  ASSERT_EQ(stat((ledger_ + ".key").c_str(), &info), 0);
  EXPECT_EQ(info.st_mode & 0777U, 0600U);
  const auto again = load_secret_key(*files_, ledger_);
  ASSERT_TRUE(again) << one_line(again.error());
  EXPECT_EQ(again->public_key(), key.public_key());
  EXPECT_EQ(again->sign("words"), key.sign("words"));
  EXPECT_EQ(load_public_key(*files_, ledger_ + ".pub"), key.public_key());
}

TEST_F(Keys, ASecondKeyNeverReplacesTheFirst) {
  ASSERT_TRUE(keep_secret_key(*files_, ledger_, SecretKey::fresh()));
  const auto second = keep_secret_key(*files_, ledger_, SecretKey::fresh());
  ASSERT_FALSE(second);
  EXPECT_EQ(second.error().kind, ErrorKind::kConflict);
}

TEST_F(Keys, ALostPublicFileIsWrittenAgain) {
  ASSERT_TRUE(keep_secret_key(*files_, ledger_, SecretKey::from_seed(seed_of(1))));
  std::filesystem::remove(ledger_ + ".pub");
  ASSERT_TRUE(load_secret_key(*files_, ledger_));
  EXPECT_TRUE(load_public_key(*files_, ledger_ + ".pub"));
}

TEST_F(Keys, AMissingKeyIsNotFound) {
  EXPECT_EQ(load_secret_key(*files_, ledger_).error().kind, ErrorKind::kNotFound);
  EXPECT_EQ(load_public_key(*files_, ledger_ + ".pub").error().kind, ErrorKind::kNotFound);
}

TEST_F(Keys, EveryFlippedByteOfTheSecretFileIsNoticed) {
  const SecretKey key = SecretKey::from_seed(seed_of(3));
  const std::string text = key.file_text();
  // The comment is for people; from the second line on every byte counts.
  for (std::size_t at = text.find('\n') + 1; at + 1 < text.size(); ++at) {
    std::string changed = text;
    changed[at] = changed[at] == 'A' ? 'B' : 'A';
    EXPECT_FALSE(parse_secret_key(changed, "k")) << at;
  }
}

TEST_F(Keys, EveryChangedLetterOfAPublicKeyIsNoticed) {
  const std::string text = public_key_text(SecretKey::from_seed(seed_of(3)).public_key());
  ASSERT_TRUE(parse_public_key(text, "k"));
  for (std::size_t at = text.find('\n') + 1; at + 1 < text.size(); ++at) {
    std::string changed = text;
    changed[at] = changed[at] == 'A' ? 'B' : 'A';
    const auto parsed = parse_public_key(changed, "k.pub");
    ASSERT_FALSE(parsed) << at;
    EXPECT_EQ(parsed.error().where, "k.pub");
  }
}

TEST_F(Keys, APublicKeyThatTravelledThroughMailIsTaken) {
  std::string text = public_key_text(SecretKey::from_seed(seed_of(3)).public_key());
  std::string with_crlf;
  for (const char c : text) with_crlf += c == '\n' ? "\r\n" : std::string(1, c);
  EXPECT_TRUE(parse_public_key(with_crlf, "k"));
}

TEST_F(Keys, OneLineForAScannerSaysKeyAndTablet) {
  const PublicKey key = SecretKey::from_seed(seed_of(3)).public_key();
  const std::string line = key_line(key, "North, 1");
  const auto named = parse_key_line(line, "--text");
  ASSERT_TRUE(named);
  EXPECT_EQ(named->key, key);
  EXPECT_EQ(named->device, "North, 1");
  for (std::size_t cut = 0; cut < line.size() - std::string("North, 1").size(); ++cut) {
    const auto parsed = parse_key_line(std::string_view(line).substr(0, cut), "--text");
    ASSERT_FALSE(parsed) << cut;
    EXPECT_EQ(parsed.error().kind, ErrorKind::kInvalid);
    EXPECT_EQ(parsed.error().where, "--text");
  }
  std::string misread = line;
  misread[20] = misread[20] == 'A' ? 'B' : 'A';
  EXPECT_FALSE(parse_key_line(misread, "--text"));
}

TEST_F(Keys, OtherFilesAreNoKeys) {
  for (const std::string text : {"", "hello", "untrusted comment: x", "untrusted comment: x\n\n",
                                 "untrusted comment: x\nAAAA\n"}) {
    EXPECT_EQ(parse_public_key(text, "k").error().kind, ErrorKind::kInvalid) << text;
    EXPECT_EQ(parse_secret_key(text, "k").error().kind, ErrorKind::kInvalid) << text;
  }
}

TEST_F(Keys, FingerprintsAreFourGroupsAndDiffer) {
  const std::string one = fingerprint(SecretKey::from_seed(seed_of(1)).public_key());
  EXPECT_THAT(one, MatchesRegex("[A-Z2-7]{4}-[A-Z2-7]{4}-[A-Z2-7]{4}-[A-Z2-7]{4}"));
  EXPECT_NE(one, fingerprint(SecretKey::from_seed(seed_of(2)).public_key()));
}

TEST(Encoding, Base32OfTheRfcWords) {
  // RFC 4648 section 10, without the padding.
  EXPECT_EQ(base32(bytes_of("")), "");
  EXPECT_EQ(base32(bytes_of("f")), "MY");
  EXPECT_EQ(base32(bytes_of("fo")), "MZXQ");
  EXPECT_EQ(base32(bytes_of("foobar")), "MZXW6YTBOI");
}

TEST(Encoding, Base64OfTheRfcWordsHasOneSpelling) {
  // RFC 4648 section 10.
  EXPECT_EQ(base64(bytes_of("fo")), "Zm8=");
  EXPECT_EQ(base64(bytes_of("foobar")), "Zm9vYmFy");
  EXPECT_EQ(from_base64("Zm8="), "fo");
  for (const char* other : {"Zm9=", "Zm8", "Zm8==", "Zm 8=", "Zm8=\n", "%"}) {
    EXPECT_FALSE(from_base64(other)) << other;
  }
}

class Signatures : public testing::Test {
 protected:
  SecretKey key_ = SecretKey::from_seed(seed_of(9));
  std::string text_ = signature_text(key_, "message", "season-1 head:00");

  Error fault(const std::string& text, std::string_view message, const PublicKey& key) {
    const auto checked = check_signature(text, message, key, "t.minisig");
    if (checked) ADD_FAILURE() << "the signature was taken";
    return checked ? Error{} : checked.error();
  }
  std::string with_line(std::size_t number, const std::string& line) const {
    std::string out;
    std::size_t start = 0;
    for (std::size_t i = 1; start < text_.size(); ++i) {
      const std::size_t end = text_.find('\n', start);
      out += (i == number ? line : text_.substr(start, end - start)) + "\n";
      start = end + 1;
    }
    return out;
  }
};

TEST_F(Signatures, HoldAndGiveTheTrustedComment) {
  EXPECT_EQ(check_signature(text_, "message", key_.public_key(), "t"), "season-1 head:00");
}

TEST_F(Signatures, OfAnotherMessageDoNotHold) {
  EXPECT_THAT(fault(text_, "massage", key_.public_key()).what, HasSubstr("tag manifest"));
}

TEST_F(Signatures, OfAnotherKeyAreNamedSo) {
  EXPECT_THAT(fault(text_, "message", SecretKey::from_seed(seed_of(8)).public_key()).what,
              HasSubstr("another key"));
}

TEST_F(Signatures, CoverTheTrustedComment) {
  EXPECT_THAT(
      fault(with_line(3, "trusted comment: season-2 head:00"), "message", key_.public_key()).what,
      HasSubstr("trusted comment"));
}

TEST_F(Signatures, OfTheUnhashedKindAreRefused) {
  std::string bytes = "Ed" + std::string(72, 'x');
  EXPECT_THAT(fault(with_line(2, base64(bytes_of(bytes))), "message", key_.public_key()).what,
              HasSubstr("hashed kind"));
}

TEST_F(Signatures, OfAnotherFormAreRefused) {
  const std::string base = text_;
  for (const std::string& text :
       {std::string(), base + "\n", base.substr(0, base.size() - 1), with_line(1, "comment: x"),
        with_line(3, "season-1"), base.substr(base.find('\n') + 1)}) {
    EXPECT_THAT(fault(text, "message", key_.public_key()).what, HasSubstr("form of four lines"));
  }
  EXPECT_THAT(fault(with_line(4, "AAAA"), "message", key_.public_key()).what,
              HasSubstr("holds no signature"));
}

TEST_F(Signatures, NoticeEveryFlippedBit) {
  for (std::size_t at = 0; at < text_.size(); ++at) {
    for (unsigned bit = 0; bit < 8; ++bit) {
      std::string changed = text_;
      changed[at] = static_cast<char>(static_cast<unsigned char>(changed[at]) ^ (1U << bit));
      EXPECT_FALSE(check_signature(changed, "message", key_.public_key(), "t")) << at;
    }
  }
}

}  // namespace
}  // namespace ligule::seal
