#include <malloc.h>

#include <iostream>

#include "storage/files/file_system.h"
#include "sync/desk/desk.h"

namespace {

// Memory that goes back to the system comes again as pages that have to be cleared one by one: a
// third of the time that tables of many tests took.
void keep_memory() {
  constexpr int kLarge = 32 << 20;
  // NOLINTBEGIN(concurrency-mt-unsafe): there is one thread yet
  ::mallopt(M_MMAP_THRESHOLD, kLarge);
  ::mallopt(M_TRIM_THRESHOLD, 8 * kLarge);
  ::mallopt(M_TOP_PAD, kLarge / 2);
  // NOLINTEND(concurrency-mt-unsafe)
}

}  // namespace

int main(int argc, char** argv) {
  keep_memory();
  const auto files = ligule::files::real_file_system();
  return ligule::desk::run({argv + 1, argv + argc}, std::cout, std::cerr, *files, std::cin);
}
