// The key pair of a ledger, and how a person compares keys by eye.
//
// A key names a tablet (or a desk), not a person. The secret part lies beside the ledger as
// LEDGER.key (mode 0600), never inside it; the public part beside it as LEDGER.pub. Both are in the
// file forms of minisign, so that other tools read them. Ed25519 (RFC 8032) by libsodium.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

#include "storage/files/file_system.h"
#include "storage/ledger/ledger.h"

namespace ligule::seal {

using ledger::PublicKey;
using KeyId = std::array<std::uint8_t, 8>;
using Seed = std::array<std::uint8_t, 32>;
using SignatureBytes = std::array<std::uint8_t, 64>;

// The secret half. Its memory is wiped when it goes.
class SecretKey {
 public:
  // From the machine's random source.
  [[nodiscard]] static SecretKey fresh();
  // The key of an RFC 8032 seed; ledgers for demonstration use it to come out the same every time.
  [[nodiscard]] static SecretKey from_seed(const Seed& seed);
  SecretKey(SecretKey&& other) noexcept;
  SecretKey& operator=(SecretKey&& other) noexcept;
  SecretKey(const SecretKey&) = delete;
  SecretKey& operator=(const SecretKey&) = delete;
  ~SecretKey();

  [[nodiscard]] const PublicKey& public_key() const { return public_key_; }
  // The 64 bytes of RFC 8032 over the message as it is.
  [[nodiscard]] SignatureBytes sign(std::string_view message) const;
  // The secret key file: a minisign secret key without a passphrase.
  [[nodiscard]] std::string file_text() const;

 private:
  SecretKey() = default;
  std::array<std::uint8_t, 64> secret_{};
  PublicKey public_key_{};
};

// The first 8 bytes of BLAKE2b-512 of the public key: what signature files name their key by.
[[nodiscard]] KeyId key_id(const PublicKey& key);
// "K3MQ-7XWA-2PLD-VN5T": RFC 4648 base32 of the first 10 bytes of BLAKE2b-512 of the public key,
// short enough to compare by eye, long enough (80 bits) that nobody makes a second key to match.
[[nodiscard]] std::string fingerprint(const PublicKey& key);

// The minisign public key file of a key, and back. kInvalid for anything else; where is put into
// the error.
[[nodiscard]] std::string public_key_text(const PublicKey& key);
[[nodiscard]] Result<PublicKey> parse_public_key(std::string_view text, const std::string& where);
[[nodiscard]] Result<SecretKey> parse_secret_key(std::string_view text, const std::string& where);

// One line for a scanner: "ligule-key KEY DEVICE", KEY the second line of the public key file.
// Back: kInvalid for anything else.
[[nodiscard]] std::string key_line(const PublicKey& key, std::string_view device);
struct NamedKey {
  PublicKey key{};
  std::string device;  // as the tablet calls itself
};
[[nodiscard]] Result<NamedKey> parse_key_line(std::string_view line, const std::string& where);

// Where a ledger's keys lie: the ledger's whole path and ".key", ".pub".
[[nodiscard]] files::Path secret_key_path(const std::string& ledger);
[[nodiscard]] files::Path public_key_path(const std::string& ledger);

[[nodiscard]] Result<PublicKey> load_public_key(files::FileSystem& files, const files::Path& file);
// kNotFound when the ledger has no key file, kInvalid when it is none. A missing .pub is written
// again.
[[nodiscard]] Result<SecretKey> load_secret_key(files::FileSystem& files,
                                                const std::string& ledger);
// Writes both files. kConflict when there is a secret key already: it is never replaced.
[[nodiscard]] Result<void> keep_secret_key(files::FileSystem& files, const std::string& ledger,
                                           const SecretKey& key);

// 64 random bits from the machine, for ids.
[[nodiscard]] std::uint64_t random_bits();

}  // namespace ligule::seal
