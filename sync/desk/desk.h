// The program ligule-desk as a function, so that tests run exactly what a person runs.
#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "storage/files/file_system.h"

namespace ligule::desk {

// `arguments` without the program's name. Returns what the program ends with: 0, 1 or 2. Too little
// memory is one line and 2.
[[nodiscard]] int run(const std::vector<std::string>& arguments, std::ostream& out,
                      std::ostream& err, files::FileSystem& files);

}  // namespace ligule::desk
