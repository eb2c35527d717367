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
  enum class Form { kNone, kSeasonFile, kLedger };

  std::string file;
  Form form = Form::kNone;            // by what is in it, whatever its name
  std::vector<ledger::LostRun> runs;  // of what is lost, sorted by stream then first
  files::Faults faults;               // why it gives nothing, or not all that it holds
};

// `file` is a season file that must hold, or a ledger file: a spare copy, also a damaged one, of
// which only what is whole counts. kConflict where it holds other records than are whole: it is of
// another branch, and gives nothing of that stream. Whatever is wrong with the file stands in what
// is given, also where memory is too short for it.
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
