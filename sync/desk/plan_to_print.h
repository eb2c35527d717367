// What the commands that print from a plan share: the plan of a folder or a ledger, and what is
// sown by it.
#pragma once

#include <expected>
#include <string>
#include <vector>

#include "storage/trial/plan.h"
#include "storage/trial/scale.h"
#include "sync/desk/command.h"
#include "sync/print/sowing.h"

namespace ligule::desk {

struct PlanOfFolder {
  Plan plan;
  Definitions definitions;
};
// Where it can't be read, says why on the error stream, `nothing` last, and gives what the program
// ends with.
[[nodiscard]] std::expected<PlanOfFolder, Exit> plan_of_folder(const std::string& folder,
                                                               const std::string& nothing,
                                                               Console& console);

struct PlanToPrint {
  Plan plan;
  print::Sowing sowing;
};

// FOLDER, or --ledger and --trial; --rate, --live-seed, --paper, --names, with others behind them.
[[nodiscard]] std::vector<Option> print_options(std::vector<Option> others);

// Reads the plan and works out what is sown; `spare` as a share. Where it can't, says why on the
// error stream and gives what the program ends with.
[[nodiscard]] std::expected<PlanToPrint, Exit> plan_to_print(const Arguments& arguments,
                                                             double spare, Console& console);

// Says on the output stream which entries have no packet weight, and why.
void tell_lacking(const print::Sowing& sowing, Console& console);

}  // namespace ligule::desk
