// The touch program.
#include <iostream>

#include "app/program/arguments.h"
#include "app/program/run.h"

int main(int count, char** words) {
  using namespace ligule;
  const auto asked = program::parse_arguments({words + 1, words + count});
  if (!asked) {
    std::cerr << "ligule: " << one_line(asked.error()) << "\n";
    return static_cast<int>(program::Exit::kCouldNot);
  }
  if (const auto* told = std::get_if<program::Told>(&*asked)) {
    std::cout << told->text;
    return static_cast<int>(program::Exit::kDone);
  }
  const auto* arguments = std::get_if<program::Arguments>(&*asked);
  return static_cast<int>(program::run(*arguments, {std::cerr}));
}
