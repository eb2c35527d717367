// Where the files lie that the programs read at run time: words, scales, measures, species, limits.
#pragma once

#include <optional>
#include <string>

#include "storage/files/file_system.h"

namespace ligule::files {

// The places looked at, in this order. A folder counts as the assets when it holds measures.json.
struct AssetPlaces {
  std::optional<std::string> named;  // LIGULE_ASSETS; when set, no other place is tried
  Path beside_program;               // <folder of the program>/../share/<name of the program>
  Path source_tree;                  // assets/ of the tree the program was built from
};

[[nodiscard]] AssetPlaces asset_places();

// kNotFound names every place looked at.
[[nodiscard]] Result<Path> find_assets(FileSystem& files, const AssetPlaces& places);
[[nodiscard]] inline Result<Path> find_assets(FileSystem& files) {
  return find_assets(files, asset_places());
}

}  // namespace ligule::files
