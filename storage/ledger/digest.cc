#include "storage/ledger/digest.h"

#include <sodium.h>

#include <algorithm>

namespace ligule {
namespace {

constexpr std::string_view kHex = "0123456789abcdef";
static_assert(crypto_hash_sha256_BYTES == 32);

const unsigned char* bytes_of(std::string_view text) {
  // The library takes unsigned bytes; char may alias them.
  return reinterpret_cast<const unsigned char*>(text.data());
}

}  // namespace

std::string Digest::hex() const {
  std::string out;
  out.reserve(2 * bytes.size());
  for (const std::uint8_t byte : bytes) {
    out += kHex[byte >> 4U];
    out += kHex[byte & 0x0fU];
  }
  return out;
}

Result<Digest> parse_digest(std::string_view hex) {
  Digest digest;
  const bool sound = hex.size() == 64 && std::ranges::all_of(hex, [](char c) {
                       return kHex.find(c) != std::string_view::npos;
                     });
  if (!sound) {
    return fail(ErrorKind::kInvalid, "'" + std::string(hex) + "' is not a digest", {},
                "a digest has 64 lower-case hex digits");
  }
  for (std::size_t i = 0; i < digest.bytes.size(); ++i) {
    digest.bytes[i] =
        static_cast<std::uint8_t>((kHex.find(hex[2 * i]) << 4U) | kHex.find(hex[2 * i + 1]));
  }
  return digest;
}

Digest sha256(std::string_view bytes) {
  Digest digest;
  crypto_hash_sha256(digest.bytes.data(), bytes_of(bytes), bytes.size());
  return digest;
}

Digest chained(const Digest& before, std::string_view body) {
  Digest digest;
  crypto_hash_sha256_state state;
  crypto_hash_sha256_init(&state);
  crypto_hash_sha256_update(&state, before.bytes.data(), before.bytes.size());
  crypto_hash_sha256_update(&state, bytes_of(body), body.size());
  crypto_hash_sha256_final(&state, digest.bytes.data());
  return digest;
}

}  // namespace ligule
