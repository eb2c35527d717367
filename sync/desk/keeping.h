// What commands share that keep values of one trial in a ledger: take-in and from-paper.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "sync/desk/trial_named.h"

namespace ligule::desk {

// What they are given, as far as it can be read without the ledger.
struct KeepingAsked {
  std::string ledger, trial;
  std::optional<std::string> device;
  std::optional<CalendarDate> today;
  bool only_check = false;
};
// The options of all that, --device, --today and --only-check last.
[[nodiscard]] std::vector<Option> keeping_options(std::string only_check_help);
[[nodiscard]] Result<KeepingAsked> keeping_asked(const Arguments& arguments);

// The trial's plan, and the moment at its site.
struct TrialNow {
  ledger::KnownPlan plan;
  Stamp now;
};
// Errors of plan_named(), day_fits() and moment().
[[nodiscard]] Result<TrialNow> trial_now(const OpenDesk& desk, const KeepingAsked& asked);

using RecordsMade = std::function<Result<std::vector<Record>>(UuidSequence& ids)>;
// Appends what is made, all or nothing; begins the desk's own stream where there is none.
[[nodiscard]] Result<void> keep_records(OpenDesk& desk, const KeepingAsked& asked, const Stamp& now,
                                        const RecordsMade& make, Console& console);

}  // namespace ligule::desk
