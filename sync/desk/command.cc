#include "sync/desk/command.h"

namespace ligule::desk {
namespace {

bool could_not(ErrorKind kind) {
  return kind == ErrorKind::kNotFound || kind == ErrorKind::kIo || kind == ErrorKind::kNewerVersion;
}

}  // namespace

Exit report_faults(Console& console, std::span<const Error> faults, const std::string& summary) {
  Exit exit = Exit::kFaulty;
  for (const Error& fault : faults) {
    console.err << one_line(fault) << '\n';
    if (could_not(fault.kind)) exit = Exit::kCouldNot;
  }
  console.err << summary << '\n';
  return exit;
}

Exit refuse_arguments(Console& console, const Error& error) {
  console.err << one_line(error) << '\n';
  return Exit::kCouldNot;
}

}  // namespace ligule::desk
