#include "storage/ledger/digest.h"

#include <gtest/gtest.h>

namespace ligule {
namespace {

TEST(Digest, Sha256GivesThePublishedExamples) {
  // NIST, "Cryptographic Standards and Guidelines: Example Values", SHA256.pdf (one-block and
  // two-block message of FIPS 180-4); the million letters are from FIPS 180-2, appendix B.3. The
  // empty message is checked with coreutils sha256sum.
  EXPECT_EQ(sha256("abc").hex(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq").hex(),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(sha256(std::string(1'000'000, 'a')).hex(),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  EXPECT_EQ(sha256("").hex(), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

TEST(Digest, ChainIsTheHashOfTheDigestBeforeAndTheBody) {
  const Digest first = chained(Digest{}, "abc");
  EXPECT_EQ(first, sha256(std::string(32, '\0') + "abc"));
  const std::string before(first.bytes.begin(), first.bytes.end());
  EXPECT_EQ(chained(first, "def"), sha256(before + "def"));
  EXPECT_NE(chained(first, "def"), chained(Digest{}, "def"));
}

TEST(Digest, ReadsBackWhatItWrites) {
  const Digest digest = sha256("x");
  EXPECT_EQ(parse_digest(digest.hex()), digest);
}

TEST(Digest, AnythingButSixtyFourLowerCaseHexDigitsIsRefused) {
  const std::string good = sha256("x").hex();
  std::string upper = good;
  upper[0] = 'A';
  std::string other = good;
  other[63] = 'g';
  for (const std::string& text : {std::string(), good.substr(1), good + "0", upper, other}) {
    const auto parsed = parse_digest(text);
    ASSERT_FALSE(parsed) << text;
    EXPECT_EQ(parsed.error().kind, ErrorKind::kInvalid) << text;
  }
}

}  // namespace
}  // namespace ligule
