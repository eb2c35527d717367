// The small file in which a program keeps what people chose: texts by group and name.
//
// A preference is no data: it is written beside the ledger, never into it, and what can't be read
// is replaced by what the program would do without. What the texts mean is the caller's.
#pragma once

#include <map>
#include <string>

#include "storage/files/file_system.h"

namespace ligule::files {

using PreferenceTexts = std::map<std::string, std::map<std::string, std::string>>;

// kNotFound without a file; kInvalid for one that is no preference file; kNewerVersion for one of a
// later format; kIo.
[[nodiscard]] Result<PreferenceTexts> read_preferences(FileSystem& files, const Path& file);
// Replaces the file by write_durably(); after a failure the old one stands.
[[nodiscard]] Result<void> write_preferences(FileSystem& files, const Path& file,
                                             const PreferenceTexts& preferences);

}  // namespace ligule::files
