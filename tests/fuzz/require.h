// A promise of the program that no input may break. Not an assertion of the test library: the
// fuzzer has to see the process end.
#pragma once

#include <cstdlib>
#include <iostream>
#include <string_view>

namespace ligule::fuzz {

inline void require(bool holds, std::string_view promise) {
  if (holds) return;
  std::cerr << "broken: " << promise << std::endl;
  std::abort();
}

}  // namespace ligule::fuzz
