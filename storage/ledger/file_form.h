// What a ledger file says of itself before anything is done with it.
#pragma once

#include <cstdint>
#include <string>

#include "storage/files/file_system.h"
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

// Where a ledger is copied to before it is brought to this version: beside it, under the first name
// that nothing has, or that a copy of the same records has from before (somebody went on with the
// older program since another one was made). Errors of looking there.
[[nodiscard]] Result<files::Path> copy_before(files::FileSystem& files, const files::Path& ledger,
                                              const FileForm& form);
// Copies it there as it is, read back; one that is there stays. Errors of Ledger::backup_to().
[[nodiscard]] Result<void> keep_copy(files::FileSystem& files, const files::Path& ledger,
                                     const files::Path& copy);

}  // namespace ligule::ledger
