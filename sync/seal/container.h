// The ZIP around a season file: stored members and nothing that could differ (FORMAT.md 2).
//
// libzip writes it. Reading does not trust libzip or any library: the container is a pure function
// of its members, so read_container() walks it, makes each header again from the page and compares.
// It allocates nothing that the file itself has not got: a hostile archive cannot fill the memory.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"

namespace ligule::seal {

inline constexpr std::uint64_t kMaxFileBytes = std::uint64_t{512} << 20;
inline constexpr std::size_t kMaxMembers = 64;
inline constexpr std::size_t kMaxNameBytes = 255;

struct Member {
  std::string name;
  std::string_view bytes;  // belongs to the caller
};

// The container's bytes. Names: ASCII, one each. kInvalid when it would pass kMaxFileBytes, kIo
// when libzip could not do it.
[[nodiscard]] Result<std::string> container_bytes(std::span<const Member> members);

// The members of a container; their bytes are views into it. kInvalid when it does not begin like a
// ZIP file at all; kDamaged, naming the member and what is wrong with it, when it is a ZIP file but
// not one that container_bytes() makes, down to the last byte. where is put into errors.
[[nodiscard]] Result<std::vector<Member>> read_container(std::string_view bytes,
                                                         const std::string& where);

}  // namespace ligule::seal
