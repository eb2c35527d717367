// Storage left where the ledger lies, and what the ledger takes of it.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>

namespace ligule::work {

struct Space {
  std::optional<std::int64_t> free_bytes;  // for a person without special rights; empty: not told
  std::int64_t ledger_bytes = 0;           // the file and its log beside it; 0: not there

  bool operator==(const Space&) const = default;
};

// Two look-ups in the file system, no reading.
[[nodiscard]] Space space_of(const std::filesystem::path& ledger);

}  // namespace ligule::work
