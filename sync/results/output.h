// The result files of one measure, written into a folder.
#pragma once

#include <string>
#include <vector>

#include "storage/files/file_system.h"
#include "storage/trial/error.h"

namespace ligule::results {

struct OutputFile {
  std::string name;  // inside the folder; may name folders below it, "measures/disease/tests.csv"
  std::string content;
};

// Makes the folder (and those above it) where needed and replaces the files in it. A file is
// complete or as it was before; which one failed is named. Errors: kIo.
[[nodiscard]] Result<void> write_output(files::FileSystem& system, const std::string& folder,
                                        const std::vector<OutputFile>& outputs);

}  // namespace ligule::results
