#include "storage/files/assets.h"

#include <cstdlib>
#include <system_error>
#include <vector>

namespace ligule::files {
namespace {

constexpr const char* kMark = "measures.json";

}  // namespace

AssetPlaces asset_places() {
  AssetPlaces places;
  // Read once at start, before there is a second thread.
  // NOLINTNEXTLINE(concurrency-mt-unsafe)
  if (const char* named = std::getenv("LIGULE_ASSETS"); named != nullptr && *named != '\0')
    places.named = named;
  std::error_code none;
  const Path program = std::filesystem::read_symlink("/proc/self/exe", none);
  if (!none)
    places.beside_program = program.parent_path().parent_path() / "share" / program.filename();
  places.source_tree = LIGULE_SOURCE_ASSETS;
  return places;
}

Result<Path> find_assets(FileSystem& files, const AssetPlaces& places) {
  std::vector<Path> tried{Path(places.named.value_or(""))};
  if (!places.named) tried = {places.beside_program, places.source_tree};
  std::string looked_at;
  for (const Path& folder : tried) {
    if (folder.empty()) continue;
    const auto there = files.exists(folder / kMark);
    if (there && *there) return folder;
    looked_at += (looked_at.empty() ? "" : ", ") + folder.string();
  }
  return fail(ErrorKind::kNotFound, "the program's assets are not there", looked_at,
              "install the program again, or set LIGULE_ASSETS to the folder that holds " +
                  std::string(kMark));
}

}  // namespace ligule::files
