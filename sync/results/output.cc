#include "sync/results/output.h"

namespace ligule::results {

Result<void> write_output(files::FileSystem& system, const std::string& folder,
                          const std::vector<OutputFile>& outputs) {
  if (const Result<void> made = system.make_folders(folder); !made) return made;
  std::vector<files::NewFile> all;
  all.reserve(outputs.size());
  for (const OutputFile& file : outputs) {
    const files::Path path = files::Path(folder) / file.name;
    if (path.parent_path() != files::Path(folder)) {
      if (const Result<void> made = system.make_folders(path.parent_path()); !made) return made;
    }
    all.push_back({path, file.content});
  }
  return system.write_all_durably(all, files::Access::kEveryone);
}

}  // namespace ligule::results
