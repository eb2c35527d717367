// The bytes of a stored ZIP as FORMAT.md 2 fixes them, for the reader.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

namespace ligule::seal {

inline constexpr std::string_view kLocalMark{"PK\x03\x04", 4};
inline constexpr std::string_view kCentralMark{"PK\x01\x02", 4};
inline constexpr std::size_t kLocalHeaderBytes = 30;
inline constexpr std::uint16_t kFirstDay = 33;  // 1980-01-01, the first day ZIP knows

// The checksum ZIP uses: CRC-32 of ISO/IEC 8802-3 (polynomial 0xEDB88320, reflected).
[[nodiscard]] std::uint32_t crc32(std::string_view bytes);

// The header in front of a member's bytes, and its line in the central directory; offset is where
// the header in front stands in the file.
[[nodiscard]] std::string local_header(std::string_view name, std::uint32_t size,
                                       std::uint32_t crc);
[[nodiscard]] std::string central_header(std::string_view name, std::uint32_t size,
                                         std::uint32_t crc, std::uint32_t offset);
// The last 22 bytes.
[[nodiscard]] std::string end_record(std::uint16_t members, std::uint32_t directory_bytes,
                                     std::uint32_t directory_offset);

}  // namespace ligule::seal
