// Plans on a stick, a card or beside the ledger, and whether they can be taken in.
#pragma once

#include <expected>
#include <variant>
#include <vector>

#include "app/flow/intents.h"
#include "app/work/media.h"
#include "storage/files/plan_folder.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// By what plans are read and checked.
struct PlanReading {
  files::FileSystem& files;
  const files::PlanSchemas& schemas;
  const Definitions& definitions;
};

// Folders that hold a trial.csv: the places of the media themselves, what lies directly in them and
// one step deeper, and what lies in `own`. By path.
[[nodiscard]] std::vector<flow::PlanFolder> plan_folders(files::FileSystem& files,
                                                         const MediaRoots& roots,
                                                         const files::Path& own);

// Reads and checks a plan as ligule-desk's plan-check does; every fault where it has any. Says
// whether the ledger holds it, or one that came after it.
[[nodiscard]] std::expected<flow::CheckedPlan, files::Faults> read_checked(
    const PlanReading& reading, const files::Path& folder, const ledger::Ledger& ledger);

// The same against what the ledger holds. Changes nothing. PlanChecked, or PlanFaulty with every
// fault.
[[nodiscard]] flow::Intent check_plan_folder(const PlanReading& reading, const files::Path& folder,
                                             const ledger::Ledger& ledger, CalendarDate today);

}  // namespace ligule::work
