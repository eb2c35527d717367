#include "sync/desk/command.h"

#include <algorithm>

namespace ligule::desk {
namespace {

bool could_not(ErrorKind kind) {
  return kind == ErrorKind::kNotFound || kind == ErrorKind::kIo || kind == ErrorKind::kNewerVersion;
}

}  // namespace

Exit exit_of(std::span<const Error> faults) {
  return std::ranges::any_of(faults, could_not, &Error::kind) ? Exit::kCouldNot : Exit::kFaulty;
}

Exit report_faults(Console& console, std::span<const Error> faults, const std::string& summary) {
  for (const Error& fault : faults) console.err << one_line(fault) << '\n';
  console.err << summary << '\n';
  return exit_of(faults);
}

Exit refuse_arguments(Console& console, const Error& error) {
  console.err << one_line(error) << '\n';
  return Exit::kCouldNot;
}

}  // namespace ligule::desk
