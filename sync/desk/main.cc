#include <iostream>

#include "storage/files/file_system.h"
#include "sync/desk/desk.h"

int main(int argc, char** argv) {
  const auto files = ligule::files::real_file_system();
  return ligule::desk::run({argv + 1, argv + argc}, std::cout, std::cerr, *files, std::cin);
}
