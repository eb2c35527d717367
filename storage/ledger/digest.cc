#include "storage/ledger/digest.h"

#include <nettle/sha2.h>

#include <algorithm>
#include <span>

namespace ligule {
namespace {

constexpr std::string_view kHex = "0123456789abcdef";
static_assert(SHA256_DIGEST_SIZE == 32);

// Of parts that stand one behind the other.
class Sum {
 public:
  Sum() { sha256_init(&state_); }
  void add(std::string_view part) {
    // The library takes unsigned bytes; char may alias them.
    add(std::span(reinterpret_cast<const std::uint8_t*>(part.data()), part.size()));
  }
  void add(std::span<const std::uint8_t> part) { sha256_update(&state_, part.size(), part.data()); }
  [[nodiscard]] Digest take() {
    Digest digest;
    sha256_digest(&state_, digest.bytes.size(), digest.bytes.data());
    return digest;
  }

 private:
  sha256_ctx state_{};
};

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
  Sum sum;
  sum.add(bytes);
  return sum.take();
}

Digest chained(const Digest& before, std::string_view body) {
  Sum sum;
  sum.add(before.bytes);
  sum.add(body);
  return sum.take();
}

}  // namespace ligule
