// Sticks and cards a season file can be copied to.
#pragma once

#include <vector>

#include "app/flow/known.h"
#include "storage/files/file_system.h"

namespace ligule::work {

// Where the system puts what is plugged in: /media/USER and /run/media/USER, or the one folder that
// LIGULE_MEDIA names (tests, and machines that mount elsewhere).
struct MediaRoots {
  std::vector<files::Path> folders;
  bool mounts_only = true;  // below a folder only what is a disk of its own counts
};
[[nodiscard]] MediaRoots media_roots();

// What is there now, by path. A root that is not there has nothing.
[[nodiscard]] std::vector<flow::CopyPlace> copy_places(files::FileSystem& files,
                                                       const MediaRoots& roots);

}  // namespace ligule::work
