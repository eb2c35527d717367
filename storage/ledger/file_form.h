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
  std::int64_t records = 0;

  [[nodiscard]] bool older() const { return version < present; }
};

// Reads it and changes nothing. kNotFound without a file, kInvalid where it is no ledger,
// kNewerVersion, kDamaged, kIo: those of Ledger::open().
[[nodiscard]] Result<FileForm> file_form(const std::string& path);

// Whether it is of an older version, by its mark alone: quick however large it is. False where that
// can't be read; what is wrong with it is told where it is opened.
[[nodiscard]] bool is_older(const std::string& path);

// Where a ledger is copied to before it is brought to this version: beside it.
[[nodiscard]] files::Path copy_before(const files::Path& ledger, const FileForm& form);
// Copies it there as it is, read back; one that is there from before stays. Errors of
// Ledger::backup_to().
[[nodiscard]] Result<void> keep_copy(files::FileSystem& files, const files::Path& ledger,
                                     const FileForm& form);

}  // namespace ligule::ledger
