// Plans on a stick, a card or beside the ledger, and whether they can be taken in.
#pragma once

#include <variant>
#include <vector>

#include "app/flow/intents.h"
#include "app/work/media.h"
#include "storage/files/plan_folder.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// Folders that hold a trial.csv: the places of the media themselves, what lies directly in them and
// one step deeper, and what lies in `own`. By path.
[[nodiscard]] std::vector<flow::PlanFolder> plan_folders(files::FileSystem& files,
                                                         const MediaRoots& roots,
                                                         const files::Path& own);

// Reads and checks a plan as ligule-desk's plan-check does, and against what the ledger holds.
// Changes nothing. PlanChecked, or PlanFaulty with every fault.
[[nodiscard]] flow::Intent check_plan_folder(files::FileSystem& files, const files::Path& folder,
                                             const files::PlanSchemas& schemas,
                                             const Definitions& definitions,
                                             const ledger::Ledger& ledger, CalendarDate today);

}  // namespace ligule::work
