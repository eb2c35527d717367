// What tells a file from a copy of it. Private to storage/ledger.
#pragma once

#include <cstdint>
#include <string>

#include "storage/trial/error.h"

namespace ligule::ledger {

// The file's number on its disk and the nanosecond it came to be there. Renaming keeps both;
// copying and restoring change at least one. born is 0 where the file system does not say.
struct FileIdentity {
  std::int64_t inode = 0;
  std::int64_t born = 0;

  bool operator==(const FileIdentity&) const = default;
};

// kNotFound, kIo.
[[nodiscard]] Result<FileIdentity> identity_of(const std::string& path);

}  // namespace ligule::ledger
