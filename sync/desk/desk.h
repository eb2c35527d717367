// The program ligule-desk as a function, so that tests run exactly what a person runs.
#pragma once

#include <istream>
#include <ostream>
#include <string>
#include <vector>

#include "storage/files/file_system.h"

namespace ligule::desk {

// `arguments` without the program's name; `in` is what somebody types, nothing where it is left
// out. Returns what the program ends with: 0, 1 or 2. Too little memory is one line and 2.
[[nodiscard]] int run(const std::vector<std::string>& arguments, std::ostream& out,
                      std::ostream& err, files::FileSystem& files);
[[nodiscard]] int run(const std::vector<std::string>& arguments, std::ostream& out,
                      std::ostream& err, files::FileSystem& files, std::istream& in);

}  // namespace ligule::desk
