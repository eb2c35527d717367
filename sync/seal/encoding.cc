#include "sync/seal/encoding.h"

#include <sodium.h>

namespace ligule::seal {

Bytes bytes_of(std::string_view text) {
  return {reinterpret_cast<const std::uint8_t*>(text.data()), text.size()};
}

std::string text_of(Bytes bytes) {
  return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

std::string hex(Bytes bytes) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string text;
  text.reserve(bytes.size() * 2);
  for (const std::uint8_t byte : bytes) {
    text += kDigits[byte >> 4U];
    text += kDigits[byte & 15U];
  }
  return text;
}

std::string base64(Bytes bytes) {
  constexpr int kVariant = sodium_base64_VARIANT_ORIGINAL;
  std::string text(sodium_base64_encoded_len(bytes.size(), kVariant), '\0');
  sodium_bin2base64(text.data(), text.size(), bytes.data(), bytes.size(), kVariant);
  text.pop_back();  // the terminating zero
  return text;
}

std::optional<std::string> from_base64(std::string_view text) {
  std::string bytes(text.size(), '\0');
  std::size_t length = 0;
  if (sodium_base642bin(reinterpret_cast<unsigned char*>(bytes.data()), bytes.size(), text.data(),
                        text.size(), nullptr, &length, nullptr,
                        sodium_base64_VARIANT_ORIGINAL) != 0) {
    return std::nullopt;
  }
  bytes.resize(length);
  // Padding bits that are not zero would be a second spelling.
  if (base64(bytes_of(bytes)) != text) return std::nullopt;
  return bytes;
}

std::string base32(Bytes bytes) {
  constexpr std::string_view kDigits = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
  std::string text;
  std::uint32_t held = 0;
  unsigned bits = 0;
  for (const std::uint8_t byte : bytes) {
    held = (held << 8U) | byte;
    for (bits += 8; bits >= 5; bits -= 5) text += kDigits[(held >> (bits - 5)) & 31U];
  }
  if (bits > 0) text += kDigits[(held << (5 - bits)) & 31U];
  return text;
}

Wide sha512(std::string_view bytes) {
  Wide digest{};
  const Bytes in = bytes_of(bytes);
  crypto_hash_sha512(digest.data(), in.data(), in.size());
  return digest;
}

Wide blake2b_512(std::string_view bytes) {
  Wide digest{};
  const Bytes in = bytes_of(bytes);
  crypto_generichash(digest.data(), digest.size(), in.data(), in.size(), nullptr, 0);
  return digest;
}

std::array<std::uint8_t, 32> blake2b_256(std::string_view bytes) {
  std::array<std::uint8_t, 32> digest{};
  const Bytes in = bytes_of(bytes);
  crypto_generichash(digest.data(), digest.size(), in.data(), in.size(), nullptr, 0);
  return digest;
}

}  // namespace ligule::seal
