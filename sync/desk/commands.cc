#include "sync/desk/command.h"

namespace ligule::desk {

// Each lives in its own file, NAME_command.cc.
Command tables_command();

std::vector<Command> commands() {
  return {
      tables_command(),
  };
}

}  // namespace ligule::desk
