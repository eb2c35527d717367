// Signatures and digests against the vectors of their standards.
#include <gtest/gtest.h>

#include "storage/ledger/digest.h"
#include "sync/seal/encoding.h"
#include "sync/seal/keys.h"
#include "sync/seal/signature.h"

namespace ligule::seal {
namespace {

std::string from_hex(std::string_view text) {
  std::string bytes;
  for (std::size_t i = 0; i + 1 < text.size(); i += 2) {
    bytes += static_cast<char>(std::stoi(std::string(text.substr(i, 2)), nullptr, 16));
  }
  return bytes;
}

// RFC 8032, section 7.1: TEST 1, TEST 2, TEST 3 and TEST SHA(abc).
TEST(PublishedVectors, Ed25519OfRfc8032) {
  struct Vector {
    const char *seed, *public_key, *message, *signature;
  };
  const Vector vectors[] = {
      {"9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
       "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
       "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701c"
       "f9b46bd25bf5f0595bbe24655141438e7a100b"},
      {"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
       "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
       "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0"
       "f11d8c387b2eaeb4302aeeb00d291612bb0c00"},
      {"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
       "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
       "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f76098"
       "4dc6594a7c15e9716ed28dc027beceea1ec40a"},
      {"833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
       "ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
       "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a2192992a274fc1a836ba3c23a3"
       "feebbd454d4423643ce80e2a9ac94fa54ca49f",
       "dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b58909351fc9ac90b3ecfdfbc7c664"
       "31e0303dca179c138ac17ad9bef1177331a704"},
  };
  for (const Vector& vector : vectors) {
    Seed seed{};
    const std::string bytes = from_hex(vector.seed);
    std::copy(bytes.begin(), bytes.end(), seed.begin());
    const SecretKey key = SecretKey::from_seed(seed);
    EXPECT_EQ(hex(key.public_key()), vector.public_key);
    const std::string message = from_hex(vector.message);
    const SignatureBytes signature = key.sign(message);
    EXPECT_EQ(hex(signature), vector.signature);
    EXPECT_TRUE(signature_holds(signature, message, key.public_key()));
    EXPECT_FALSE(signature_holds(signature, message + "x", key.public_key()));
  }
}

// FIPS 180-4 examples of "abc" (csrc.nist.gov, SHA256.pdf and SHA512.pdf).
TEST(PublishedVectors, Sha2OfFips180) {
  EXPECT_EQ(sha256("abc").hex(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(hex(sha512("abc")),
            "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a"
            "2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f");
}

// RFC 7693, appendix A: BLAKE2b-512 of "abc".
TEST(PublishedVectors, Blake2bOfRfc7693) {
  EXPECT_EQ(hex(blake2b_512("abc")),
            "ba80a53f981c4d0d6a2797b69f12f6e94c212f14685ac4b74b12bb6fdbffa2d1"
            "7d87c5392aab792dc252d5de4533cc9518d38aa8dbf1925ab92386edd4009923");
}

}  // namespace
}  // namespace ligule::seal
