// What a ledger file says of itself before anything is done with it.
#pragma once

#include <cstdint>
#include <string>

#include "storage/trial/error.h"

namespace ligule::ledger {

struct FileForm {
  std::int64_t version = 0;  // that the file was written in
  std::int64_t present = 0;  // that this program writes: opening it to write brings it there
  std::int64_t records = 0;  // counted where it is older

  [[nodiscard]] bool older() const { return version < present; }
};

// Reads it and changes nothing; in no time where it is of this version. kNotFound without a file,
// kInvalid where it is no ledger, kNewerVersion, kIo, and of an older one kDamaged: those of
// Ledger::open().
[[nodiscard]] Result<FileForm> file_form(const std::string& path);

}  // namespace ligule::ledger
