// Bytes as text and digests of bytes, by libsodium; for this room's own files.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace ligule::seal {

using Bytes = std::span<const std::uint8_t>;

// A text's bytes as libsodium takes them.
[[nodiscard]] Bytes bytes_of(std::string_view text);
// And back.
[[nodiscard]] std::string text_of(Bytes bytes);

// Lower-case hex digits.
[[nodiscard]] std::string hex(Bytes bytes);
// RFC 4648 base64 with padding, and back: empty unless text is exactly what base64() writes.
[[nodiscard]] std::string base64(Bytes bytes);
[[nodiscard]] std::optional<std::string> from_base64(std::string_view text);
// RFC 4648 base32 without padding.
[[nodiscard]] std::string base32(Bytes bytes);

using Wide = std::array<std::uint8_t, 64>;
[[nodiscard]] Wide sha512(std::string_view bytes);
[[nodiscard]] Wide blake2b_512(std::string_view bytes);
[[nodiscard]] std::array<std::uint8_t, 32> blake2b_256(std::string_view bytes);

}  // namespace ligule::seal
