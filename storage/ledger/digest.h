// SHA-256 digests and the chain of a stream's records. The only header of ours in front of the
// crypto library on this floor.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <string>
#include <string_view>

#include "storage/trial/error.h"

namespace ligule {

struct Digest {
  std::array<std::uint8_t, 32> bytes{};

  auto operator<=>(const Digest&) const = default;
  // 64 lower-case hex digits.
  [[nodiscard]] std::string hex() const;
};

// kInvalid unless 64 lower-case hex digits.
[[nodiscard]] Result<Digest> parse_digest(std::string_view hex);

// SHA-256 (FIPS 180-4) of bytes.
[[nodiscard]] Digest sha256(std::string_view bytes);

// The digest of a record: SHA-256(before || body). The first record of a stream stands on 32 zero
// bytes.
[[nodiscard]] Digest chained(const Digest& before, std::string_view body);

}  // namespace ligule
