// What libFuzzer calls; LIGULE_FUZZ_TARGET is the target this program was built for.
#include <cstddef>
#include <cstdint>
#include <string>

#include "tests/fuzz/targets.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  // A copy of its own, so that a read past its end is one past a piece of the heap.
  const std::string input(data, data + size);
  ligule::fuzz::LIGULE_FUZZ_TARGET(input);
  return 0;
}
