#include "app/work/media.h"

#include <sys/stat.h>

#include <cstdlib>
#include <string>

namespace ligule::work {
namespace {

// A folder on another disk than the one above it is where that disk is mounted.
bool is_mount(const files::Path& folder) {
  struct stat here {};
  struct stat above {};
  return stat(folder.c_str(), &here) == 0 && stat(folder.parent_path().c_str(), &above) == 0 &&
         here.st_dev != above.st_dev;
}

bool is_folder(const files::Path& path) {
  struct stat found {};
  return stat(path.c_str(), &found) == 0 && S_ISDIR(found.st_mode);
}

const char* variable(const char* name) {
  const char* value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): nobody sets any
  return value == nullptr ? "" : value;
}

}  // namespace

MediaRoots media_roots() {
  if (const std::string named = variable("LIGULE_MEDIA"); !named.empty()) return {{named}, false};
  const std::string user = variable("USER");
  if (user.empty()) return {};
  return {{files::Path("/media") / user, files::Path("/run/media") / user}, true};
}

std::vector<flow::CopyPlace> copy_places(files::FileSystem& files, const MediaRoots& roots) {
  std::vector<flow::CopyPlace> places;
  for (const files::Path& root : roots.folders) {
    const auto names = files.list(root);
    if (!names) continue;
    for (const std::string& name : *names) {
      const files::Path place = root / name;
      if (roots.mounts_only ? is_mount(place) : is_folder(place))
        places.push_back({place.string(), name});
    }
  }
  return places;
}

}  // namespace ligule::work
