// What a run of the desk's program came to.
#pragma once

#include <filesystem>
#include <map>
#include <string>

#include "tests/storage/ledger/sample.h"

namespace ligule::desk {

struct Ran {
  int exit = 0;
  std::string out, err;
};

// Bytes by path of all that it left in a folder.
inline std::map<std::string, std::string> files_below(const std::filesystem::path& folder) {
  std::map<std::string, std::string> found;
  for (const auto& each : std::filesystem::recursive_directory_iterator(folder))
    if (each.is_regular_file())
      found[each.path().lexically_relative(folder).string()] =
          ledger::sample::file_bytes(each.path());
  return found;
}

}  // namespace ligule::desk
