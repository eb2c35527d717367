// What a command of ligule-desk is: a name, the options it declares, and what it does.
//
// To add one: write NAME_command.cc with a function returning its Command, and name that function
// in commands.cc. Commands know nothing of the library that reads the command line (desk.cc).
#pragma once

#include <istream>
#include <ostream>
#include <span>
#include <string>
#include <vector>

#include "storage/files/file_system.h"
#include "storage/trial/error.h"
#include "sync/desk/arguments.h"

namespace ligule::desk {

// What the program ends with: other programs rely on these numbers.
enum class Exit : int {
  kDone = 0,
  kFaulty = 1,    // read, and judged not so: a faulty table, a damaged ledger, a seal that fails
  kCouldNot = 2,  // bad arguments, no such file, wrong kind of file, newer version, no space
};

struct Console {
  std::ostream& out;
  std::ostream& err;
  files::FileSystem& files;
  std::istream& in;  // what somebody types
};

struct Option {
  std::string name;        // "--values", or "FILE" for one that is given by its place
  std::string value = {};  // how its value is called in the help, "FILE.csv"; empty: a flag
  std::string help = {};   // one line
  bool required = false;
  bool repeated = false;                  // may be given more than once
  std::vector<std::string> allowed = {};  // empty: any
  std::string standard = {};              // the value when not given; empty: none
};

struct Command {
  std::string name;
  std::string help;  // one line
  std::vector<Option> options;
  Exit (*run)(const Arguments& arguments, Console& console);
};

// All commands, in the order the help lists them.
[[nodiscard]] std::vector<Command> commands();

// What the worst fault stands for: kCouldNot where any of them is kNotFound, kIo or kNewerVersion.
[[nodiscard]] Exit exit_of(std::span<const Error> faults);

// One line per fault and a last one that sums up, to the error stream. Returns their exit_of().
[[nodiscard]] Exit report_faults(Console& console, std::span<const Error> faults,
                                 const std::string& summary);

// For trouble with the arguments themselves: one line, kCouldNot.
[[nodiscard]] Exit refuse_arguments(Console& console, const Error& error);

}  // namespace ligule::desk
