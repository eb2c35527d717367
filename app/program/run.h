// One run of the touch program, from its arguments to its exit status.
#pragma once

#include <functional>
#include <iosfwd>

#include "app/program/arguments.h"
#include "app/work/worker.h"

namespace ligule::program {

// Exit statuses, fixed: scripts rely on them.
enum class Exit {
  kDone = 0,
  kJudged = 1,    // a drive file or one of its actions is at fault, a damaged ledger
  kCouldNot = 2,  // bad arguments, no such file, a file of another kind or a newer version, no
                  // space, no rights, no display
};

struct RunParts {
  std::ostream& errors;
  work::AppendCall append = work::plain_append();  // tests: slow or failing ones
  std::function<flow::Supply()> supply = {};       // tests: of a machine that is not this one
};

// Until the window is closed or the drive file is played. One line on errors for what went wrong.
[[nodiscard]] Exit run(const Arguments& arguments, const RunParts& parts);

}  // namespace ligule::program
