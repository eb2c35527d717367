#include "sync/desk/command.h"

namespace ligule::desk {

// Each lives in its own file, NAME_command.cc.
Command clock_command();
Command enrol_command();
Command from_paper_command();
Command gather_command();
Command labels_command();
Command lay_out_command();
Command ledger_check_command();
Command plan_check_command();
Command planting_list_command();
Command plot_sheets_command();
Command rebuild_command();
Command seal_command();
Command settle_command();
Command tables_command();
Command take_in_command();
Command trust_command();
Command verify_command();

std::vector<Command> commands() {
  return {
      lay_out_command(), plan_check_command(), planting_list_command(), labels_command(),
      enrol_command(),   trust_command(),      seal_command(),          verify_command(),
      gather_command(),  take_in_command(),    plot_sheets_command(),   from_paper_command(),
      settle_command(),  clock_command(),      tables_command(),        ledger_check_command(),
      rebuild_command(),
  };
}

}  // namespace ligule::desk
