#include "sync/seal/container_layout.h"

#include <array>

namespace ligule::seal {
namespace {

// [n][byte]: what a byte comes to with n zero bytes after it, so that eight bytes are taken at
// once.
using CrcTables = std::array<std::array<std::uint32_t, 256>, 8>;

constexpr CrcTables make_crc_tables() {
  CrcTables tables{};
  for (std::uint32_t byte = 0; byte < 256; ++byte) {
    std::uint32_t rest = byte;
    for (int bit = 0; bit < 8; ++bit) rest = (rest >> 1U) ^ ((rest & 1U) != 0 ? 0xEDB88320U : 0U);
    tables[0][byte] = rest;
  }
  for (std::size_t n = 1; n < tables.size(); ++n) {
    for (std::size_t byte = 0; byte < 256; ++byte) {
      const std::uint32_t rest = tables[n - 1][byte];
      tables[n][byte] = (rest >> 8U) ^ tables[0][rest & 255U];
    }
  }
  return tables;
}

constexpr std::uint16_t kNeedsVersion = 10;            // 1.0: stored members, no folders
constexpr std::uint16_t kMadeBy = (3U << 8U) | 63U;    // a Unix system, version 6.3 of the standard
constexpr std::uint32_t kAttributes = 0100644U << 16;  // a plain file, mode 0644

// Little-endian numbers one after the other.
class Writer {
 public:
  Writer& mark(std::string_view text) {
    text_ += text;
    return *this;
  }
  Writer& two(std::uint16_t value) {
    text_ += static_cast<char>(value & 255U);
    text_ += static_cast<char>(value >> 8U);
    return *this;
  }
  Writer& four(std::uint32_t value) {
    return two(static_cast<std::uint16_t>(value & 0xFFFFU))
        .two(static_cast<std::uint16_t>(value >> 16U));
  }
  [[nodiscard]] std::string text() const { return text_; }

 private:
  std::string text_;
};

// What both headers of a member share: from "version needed" to "extra field length".
void common(Writer& out, std::string_view name, std::uint32_t size, std::uint32_t crc) {
  out.two(kNeedsVersion).two(0).two(0).two(0).two(kFirstDay).four(crc).four(size).four(size);
  out.two(static_cast<std::uint16_t>(name.size())).two(0);
}

}  // namespace

std::uint32_t crc32(std::string_view bytes) {
  static constexpr CrcTables kTables = make_crc_tables();
  const auto byte = [&](std::size_t at) {
    return static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at]));
  };
  std::uint32_t rest = 0xFFFFFFFFU;
  for (; bytes.size() >= 8; bytes.remove_prefix(8)) {
    rest ^= byte(0) | byte(1) << 8U | byte(2) << 16U | byte(3) << 24U;
    rest = kTables[7][rest & 255U] ^ kTables[6][(rest >> 8U) & 255U] ^
           kTables[5][(rest >> 16U) & 255U] ^ kTables[4][rest >> 24U] ^ kTables[3][byte(4)] ^
           kTables[2][byte(5)] ^ kTables[1][byte(6)] ^ kTables[0][byte(7)];
  }
  for (std::size_t at = 0; at < bytes.size(); ++at)
    rest = (rest >> 8U) ^ kTables[0][(rest ^ byte(at)) & 255U];
  return ~rest;
}

std::string local_header(std::string_view name, std::uint32_t size, std::uint32_t crc) {
  Writer out;
  out.mark(kLocalMark);
  common(out, name, size, crc);
  return out.mark(name).text();
}

std::string central_header(std::string_view name, std::uint32_t size, std::uint32_t crc,
                           std::uint32_t offset) {
  Writer out;
  out.mark(kCentralMark).two(kMadeBy);
  common(out, name, size, crc);
  out.two(0).two(0).two(0).four(kAttributes).four(offset);
  return out.mark(name).text();
}

std::string end_record(std::uint16_t members, std::uint32_t directory_bytes,
                       std::uint32_t directory_offset) {
  Writer out;
  out.mark({"PK\x05\x06", 4}).two(0).two(0).two(members).two(members);
  return out.four(directory_bytes).four(directory_offset).two(0).text();
}

}  // namespace ligule::seal
