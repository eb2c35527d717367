#include "sync/seal/keys.h"

#include <sodium.h>

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include "sync/seal/encoding.h"

namespace ligule::seal {
namespace {

constexpr std::string_view kCommentStart = "untrusted comment: ";
constexpr std::string_view kKeyLine = "ligule-key ";
constexpr std::uint64_t kMaxKeyFile = 4096;

// minisign's secret key file holds, in base64: "Ed", how the passphrase was stretched (two zero
// bytes: there is none), "B2", salt and limits of the stretching (zero), key id, seed and public
// key, and BLAKE2b-256 of "Ed", key id, seed and public key.
constexpr std::size_t kSaltAndLimits = 32 + 8 + 8;
constexpr std::size_t kSecretFileBytes = 2 + 2 + 2 + kSaltAndLimits + 8 + 64 + 32;
constexpr std::size_t kPublicFileBytes = 2 + 8 + 32;

// libsodium picks its code for this processor once; -1 would mean that there is no random source.
void start_sodium() {
  static const bool started = sodium_init() >= 0;
  if (!started) std::abort();
}

// The second of exactly two lines, the first an untrusted comment; CRLF line ends are taken too.
Result<std::string> second_line(std::string_view text, const std::string& where) {
  std::string unix_text;
  std::ranges::copy_if(text, std::back_inserter(unix_text), [](char c) { return c != '\r'; });
  const std::size_t end = unix_text.find('\n');
  if (!unix_text.starts_with(kCommentStart) || end == std::string::npos) {
    return fail(ErrorKind::kInvalid, "this is no key file", where,
                "its first line starts with '" + std::string(kCommentStart) + "'");
  }
  std::string line = unix_text.substr(end + 1);
  if (line.ends_with('\n')) line.pop_back();
  return line;
}

// Where the ledger lies, whatever link it is named by: it has one key.
std::string lying_at(const std::string& ledger) {
  std::error_code none;
  if (!std::filesystem::is_symlink(ledger, none)) return ledger;
  const auto file = std::filesystem::canonical(ledger, none);
  return none ? ledger : file.string();
}

}  // namespace

SecretKey SecretKey::fresh() {
  start_sodium();
  Seed seed{};
  randombytes_buf(seed.data(), seed.size());
  SecretKey key = from_seed(seed);
  sodium_memzero(seed.data(), seed.size());
  return key;
}

SecretKey SecretKey::from_seed(const Seed& seed) {
  start_sodium();
  SecretKey key;
  crypto_sign_seed_keypair(key.public_key_.data(), key.secret_.data(), seed.data());
  return key;
}

SecretKey::SecretKey(SecretKey&& other) noexcept
    : secret_(other.secret_), public_key_(other.public_key_) {
  sodium_memzero(other.secret_.data(), other.secret_.size());
}

SecretKey& SecretKey::operator=(SecretKey&& other) noexcept {
  if (this != &other) {
    secret_ = other.secret_;
    public_key_ = other.public_key_;
    sodium_memzero(other.secret_.data(), other.secret_.size());
  }
  return *this;
}

SecretKey::~SecretKey() {
  sodium_memzero(secret_.data(), secret_.size());
}

SignatureBytes SecretKey::sign(std::string_view message) const {
  SignatureBytes signature{};
  const Bytes in = bytes_of(message);
  crypto_sign_detached(signature.data(), nullptr, in.data(), in.size(), secret_.data());
  return signature;
}

std::string SecretKey::file_text() const {
  const std::string signed_part = text_of(key_id(public_key_)) + text_of(secret_);
  std::string bytes = std::string("Ed") + std::string(2, '\0') + "B2";
  bytes += std::string(kSaltAndLimits, '\0') + signed_part;
  bytes += text_of(blake2b_256("Ed" + signed_part));
  return std::string(kCommentStart) +
         "ligule secret key: whoever has it can sign as this tablet\n" + base64(bytes_of(bytes)) +
         "\n";
}

KeyId key_id(const PublicKey& key) {
  const Wide digest = blake2b_512(text_of(key));
  KeyId id{};
  std::copy_n(digest.begin(), id.size(), id.begin());
  return id;
}

std::string fingerprint(const PublicKey& key) {
  const std::string letters = base32(Bytes(blake2b_512(text_of(key))).first(10));
  return letters.substr(0, 4) + "-" + letters.substr(4, 4) + "-" + letters.substr(8, 4) + "-" +
         letters.substr(12, 4);
}

std::string public_key_text(const PublicKey& key) {
  const std::string bytes = "Ed" + text_of(key_id(key)) + text_of(key);
  return std::string(kCommentStart) + "ligule public key " + fingerprint(key) + "\n" +
         base64(bytes_of(bytes)) + "\n";
}

Result<PublicKey> parse_public_key(std::string_view text, const std::string& where) {
  const auto line = second_line(text, where);
  if (!line) return std::unexpected(line.error());
  const auto bytes = from_base64(*line);
  if (!bytes || bytes->size() != kPublicFileBytes || !bytes->starts_with("Ed")) {
    return fail(ErrorKind::kInvalid, "the second line is no Ed25519 public key", where,
                "copy LEDGER.pub from the tablet again");
  }
  PublicKey key{};
  std::copy_n(bytes->end() - 32, 32, key.begin());
  // A key made by another program has a random id; a season file is only ever signed by one whose
  // id comes from the key, so that a mistyped letter in the key shows here.
  const KeyId id = key_id(key);
  if (bytes->substr(2, 8) != text_of(id)) {
    return fail(ErrorKind::kInvalid, "the key and its id do not belong together", where,
                "copy LEDGER.pub from the tablet again");
  }
  return key;
}

std::string key_line(const PublicKey& key, std::string_view device) {
  const std::string file = public_key_text(key);
  const std::size_t second = file.find('\n') + 1;
  return std::string(kKeyLine) + file.substr(second, file.size() - second - 1) + " " +
         std::string(device);
}

Result<NamedKey> parse_key_line(std::string_view line, const std::string& where) {
  const std::size_t space = line.find(' ', std::min(line.size(), kKeyLine.size()));
  if (!line.starts_with(kKeyLine) || space == std::string_view::npos)
    return fail(ErrorKind::kInvalid, "this is no code of a tablet's key", where,
                "scan the code that Tablet, Code shows, whole");
  const std::string key(line.substr(kKeyLine.size(), space - kKeyLine.size()));
  const auto read = parse_public_key(std::string(kCommentStart) + "\n" + key + "\n", where);
  if (!read) return std::unexpected(read.error());
  return NamedKey{*read, std::string(line.substr(space + 1))};
}

Result<SecretKey> parse_secret_key(std::string_view text, const std::string& where) {
  const auto line = second_line(text, where);
  if (!line) return std::unexpected(line.error());
  const auto bytes = from_base64(*line);
  if (!bytes || bytes->size() != kSecretFileBytes || !bytes->starts_with("Ed")) {
    return fail(ErrorKind::kInvalid, "the second line is no Ed25519 secret key", where,
                "bring LEDGER.key back from a copy");
  }
  constexpr std::size_t kSeedAt = 2 + 2 + 2 + kSaltAndLimits + 8;
  Seed seed{};
  std::copy_n(bytes->begin() + kSeedAt, seed.size(), seed.begin());
  SecretKey key = SecretKey::from_seed(seed);
  sodium_memzero(seed.data(), seed.size());
  // Exactly what file_text() makes of that seed, so that no damaged file signs with a wrong key.
  if (second_line(key.file_text(), where) != line) {
    return fail(ErrorKind::kInvalid, "the secret key is damaged or kept under a passphrase", where,
                "bring LEDGER.key back from a copy");
  }
  return key;
}

files::Path secret_key_path(const std::string& ledger) {
  return lying_at(ledger) + ".key";
}

files::Path public_key_path(const std::string& ledger) {
  return lying_at(ledger) + ".pub";
}

Result<PublicKey> load_public_key(files::FileSystem& files, const files::Path& file) {
  const auto text = files.read(file, kMaxKeyFile);
  if (!text) return std::unexpected(text.error());
  return parse_public_key(*text, file.string());
}

Result<SecretKey> load_secret_key(files::FileSystem& files, const std::string& ledger) {
  const files::Path path = secret_key_path(ledger);
  auto text = files.read(path, kMaxKeyFile);
  if (!text) return std::unexpected(text.error());
  auto key = parse_secret_key(*text, path.string());
  sodium_memzero(text->data(), text->size());
  if (!key) return key;
  const auto has_public = files.exists(public_key_path(ledger));
  if (!has_public) return std::unexpected(has_public.error());
  if (!*has_public) {
    const auto written = files.write_durably(
        public_key_path(ledger), public_key_text(key->public_key()), files::Access::kEveryone);
    if (!written) return std::unexpected(written.error());
  }
  return key;
}

Result<void> keep_secret_key(files::FileSystem& files, const std::string& ledger,
                             const SecretKey& key) {
  const files::Path path = secret_key_path(ledger);
  const auto there = files.exists(path);
  if (!there) return std::unexpected(there.error());
  if (*there) {
    return fail(ErrorKind::kConflict, "there is a secret key already", path.string(),
                "it is never replaced: move it away if it is not this ledger's");
  }
  std::string text = key.file_text();
  const auto written = files.write_durably(path, text, files::Access::kOwnerOnly);
  sodium_memzero(text.data(), text.size());
  if (!written) return written;
  return files.write_durably(public_key_path(ledger), public_key_text(key.public_key()),
                             files::Access::kEveryone);
}

std::uint64_t random_bits() {
  start_sodium();
  std::uint64_t bits = 0;
  randombytes_buf(&bits, sizeof bits);
  return bits;
}

}  // namespace ligule::seal
