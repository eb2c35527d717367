// What people chose of the tablet's look, from and to the file beside the ledger.
#pragma once

#include "app/flow/preferences.h"
#include "storage/files/file_system.h"

namespace ligule::work {

// The ledger's whole path and ".preferences".
[[nodiscard]] files::Path preferences_path(const std::string& ledger);

// Without a file: what nobody has chosen yet. A choice this version does not know is left out, so
// that one bad line does not cost the others. Errors of files::read_preferences() but kNotFound.
[[nodiscard]] Result<flow::Preferences> load_preferences(files::FileSystem& files,
                                                         const files::Path& file);
[[nodiscard]] Result<void> keep_preferences(files::FileSystem& files, const files::Path& file,
                                            const flow::Preferences& preferences);

}  // namespace ligule::work
