#include "sync/desk/command.h"

namespace ligule::desk {

// Each lives in its own file, NAME_command.cc.
Command plan_check_command();
Command tables_command();

std::vector<Command> commands() {
  return {
      plan_check_command(),
      tables_command(),
  };
}

}  // namespace ligule::desk
