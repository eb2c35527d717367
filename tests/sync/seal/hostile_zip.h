// Archives as nobody would make them, put together by hand from the ZIP format (APPNOTE.TXT 6.3.3,
// sections 4.3 to 4.5): every number of every header can be said falsely.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sync/seal/container.h"
#include "sync/seal/container_layout.h"

namespace ligule::seal {

inline std::string two_bytes(std::uint32_t number) {
  return {static_cast<char>(number & 255U), static_cast<char>(number >> 8U & 255U)};
}
inline std::string four_bytes(std::uint32_t number) {
  return two_bytes(number & 0xFFFFU) + two_bytes(number >> 16U);
}
inline std::string eight_bytes(std::uint64_t number) {
  return four_bytes(static_cast<std::uint32_t>(number)) +
         four_bytes(static_cast<std::uint32_t>(number >> 32U));
}

// What the header in front of a member says of it, or its line in the directory.
struct HostileHeader {
  std::string name, extra;
  std::uint16_t flags = 0, method = 0;
  std::uint32_t crc = 0, packed = 0, size = 0;

  [[nodiscard]] std::string common() const {
    return two_bytes(10) + two_bytes(flags) + two_bytes(method) + two_bytes(0) +
           two_bytes(kFirstDay) + four_bytes(crc) + four_bytes(packed) + four_bytes(size) +
           two_bytes(static_cast<std::uint32_t>(name.size())) +
           two_bytes(static_cast<std::uint32_t>(extra.size()));
  }
};

struct HostileMember {
  HostileHeader front, line;
  std::string content, behind;  // behind: between the content and what comes next
  bool in_front = true, listed = true;
  // Of the line in the directory.
  std::uint16_t disk = 0;
  std::uint32_t attributes = 0100644U << 16U;
  std::optional<std::uint32_t> offset;  // where it truly stands, unless said,
  std::uint32_t further = 0;            // or so many bytes further
  std::string comment;
};

struct HostileZip {
  std::vector<HostileMember> members;
  std::string prefix, before_directory, before_end, suffix;
  // The end record; what is not said is true.
  std::uint16_t disk = 0, directory_disk = 0;
  std::optional<std::uint16_t> count_here, count;
  std::optional<std::uint32_t> directory_bytes, directory_at;
  std::string comment;

  HostileMember& add(const std::string& name, const std::string& content) {
    HostileMember member;
    member.content = content;
    member.front.name = name;
    member.front.crc = crc32(content);
    member.front.packed = member.front.size = static_cast<std::uint32_t>(content.size());
    member.line = member.front;
    return members.emplace_back(member);
  }
  // Both headers of a member.
  void each_header(std::size_t member, const auto& change) {
    change(members[member].front);
    change(members[member].line);
  }

  [[nodiscard]] std::string end_of(std::size_t at, std::size_t size) const {
    const auto listed = static_cast<std::uint16_t>(members.size());
    return std::string("PK\x05\x06", 4) + two_bytes(disk) + two_bytes(directory_disk) +
           two_bytes(count_here.value_or(listed)) + two_bytes(count.value_or(listed)) +
           four_bytes(directory_bytes.value_or(static_cast<std::uint32_t>(size))) +
           four_bytes(directory_at.value_or(static_cast<std::uint32_t>(at))) +
           two_bytes(static_cast<std::uint32_t>(comment.size())) + comment;
  }
  [[nodiscard]] std::string bytes() const {
    std::string out = prefix, directory;
    for (const HostileMember& member : members) {
      const auto at = static_cast<std::uint32_t>(out.size());
      if (member.in_front) {
        out += std::string(kLocalMark) + member.front.common() + member.front.name +
               member.front.extra + member.content + member.behind;
      }
      if (!member.listed) continue;
      directory += std::string(kCentralMark) + two_bytes(0x033F) + member.line.common() +
                   two_bytes(static_cast<std::uint32_t>(member.comment.size())) +
                   two_bytes(member.disk) + two_bytes(0) + four_bytes(member.attributes) +
                   four_bytes(member.offset.value_or(at) + member.further) + member.line.name +
                   member.line.extra + member.comment;
    }
    out += before_directory;
    const std::size_t at = out.size();
    return out + directory + before_end + end_of(at, directory.size()) + suffix;
  }
};

// The same archive as a sealed one, to be spoilt.
inline HostileZip taken_apart(const std::string& sealed) {
  HostileZip zip;
  const auto members = read_container(sealed, "s.zip").value();
  for (const Member& member : members) zip.add(member.name, std::string(member.bytes));
  return zip;
}

// A deflate stream (RFC 1951 section 3.2.6, fixed codes) of so many pairs "258 bytes as the one
// before", after one zero byte: 13 bits each.
inline std::string deflated_zeros(std::size_t pairs) {
  std::string out;
  unsigned held = 0, count = 0;
  const auto bit = [&](unsigned value) {
    held |= value << count;
    if (++count < 8) return;
    out += static_cast<char>(held);
    held = count = 0;
  };
  const auto code = [&](unsigned value, unsigned length) {  // most significant bit first
    for (unsigned at = length; at > 0; --at) bit(value >> (at - 1) & 1U);
  };
  bit(1);               // the last block
  code(0b10, 2);        // fixed codes: 01, least significant bit first
  code(0b00110000, 8);  // a zero byte
  for (std::size_t pair = 0; pair < pairs; ++pair) {
    code(0b11000101, 8);  // length 258
    code(0, 5);           // distance 1
  }
  code(0, 7);  // the end
  while (count != 0) bit(0);
  return out;
}

}  // namespace ligule::seal
