// What a run of the desk's program came to.
#pragma once

#include <string>

namespace ligule::desk {

struct Ran {
  int exit = 0;
  std::string out, err;
};

}  // namespace ligule::desk
