// What season files and copies give back of a ledger that is damaged.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "storage/ledger/salvage.h"
#include "sync/gather/gather.h"

namespace ligule::gather {

struct GivesBack {
  std::string file;
  std::vector<ledger::LostRun> runs;  // of what is lost, sorted by stream then first
  files::Faults faults;               // why it gives nothing, or not all that it holds
};

// `file` is a season file that must hold, or a ledger file: a spare copy, also a damaged one, of
// which only what is whole counts. kConflict where it holds other records than are whole: it is of
// another branch, and gives nothing of that stream.
[[nodiscard]] GivesBack gives_back(const ledger::Salvaged& damaged, files::FileSystem& files,
                                   const std::string& file);

// What stays lost with these files.
[[nodiscard]] std::vector<ledger::LostRun> still_lost(const ledger::Salvaged& damaged,
                                                      const std::vector<GivesBack>& files);

// As gather_ledger() of a file that is damaged: takes in what of it is provably what was kept, and
// tells what is lost among the refused.
[[nodiscard]] Result<GatheredLedger> gather_salvaged(ledger::Ledger& ledger,
                                                     const std::string& file,
                                                     Vouched vouched = Vouched::kByKey);

}  // namespace ligule::gather
