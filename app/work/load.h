// Reads the ledger into the plain values the screens work from.
#pragma once

#include <string_view>
#include <vector>

#include "app/flow/intents.h"
#include "app/work/trials_progress.h"
#include "storage/files/file_system.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// Everything that does not change while the program runs, the plans in force and the people. Of
// Setup::units and device: the ledger's own.
[[nodiscard]] Result<flow::Started> load_start(const ledger::Ledger& ledger,
                                               const Definitions& definitions);
// Every trial, its plan in force and what its plots hold.
[[nodiscard]] Result<std::vector<flow::KnownTrial>> load_plans(const ledger::Ledger& ledger);
// How far each occasion of every trial is on this day, what is unsealed, the last seal and copy.
// places stays empty: those are no matter of the ledger. known: what the last call found, of this
// ledger and with these definitions.
[[nodiscard]] Result<flow::Today> load_today(const ledger::Ledger& ledger,
                                             const Definitions& definitions, CalendarDate today,
                                             TrialsProgress& known);
[[nodiscard]] Result<flow::OccasionLoaded> load_occasion(const ledger::Ledger& ledger,
                                                         TrialId trial, OccasionId occasion);
// Every record about a plot and its sample bags, newest first. kNotFound without the trial; a plot
// the plan does not have has no records.
[[nodiscard]] Result<std::vector<Record>> load_history(const ledger::Ledger& ledger, TrialId trial,
                                                       std::string_view plot);
// What the tablet says of itself. kIo when the disk can't be looked at.
[[nodiscard]] Result<flow::TabletFacts> load_tablet(const ledger::Ledger& ledger,
                                                    files::FileSystem& files,
                                                    std::string_view version);
// What the plots of a trial hold, what happened to it, and to whom its names were shown.
[[nodiscard]] Result<flow::TrialLoaded> load_trial(const ledger::Ledger& ledger, TrialId trial);
// Bags without a final dried weight, of every trial, oldest first; with `since` those that were
// done with or given up too, where they were filled on that day or later.
[[nodiscard]] Result<std::vector<flow::OpenBag>> load_bags(const ledger::Ledger& ledger,
                                                           std::optional<CalendarDate> since);

}  // namespace ligule::work
