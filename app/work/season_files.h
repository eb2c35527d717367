// Other tablets' season files on sticks and cards, taken in in the field.
#pragma once

#include <string>
#include <vector>

#include "app/flow/intents.h"
#include "app/work/media.h"
#include "storage/files/file_system.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// By their names, in each place's own folder: "season-....zip", those of this tablet's own stream
// left out. Nothing is read. By place and name.
[[nodiscard]] std::vector<flow::FoundFile> season_files(const ledger::Ledger& ledger,
                                                        files::FileSystem& files,
                                                        const MediaRoots& roots);
// Verifies all of it. SeasonFileRead, or SeasonFileFaulty with every fault.
[[nodiscard]] flow::Intent read_season_file(const ledger::Ledger& ledger, files::FileSystem& files,
                                            const std::string& path);
// Gathers the file as the desk does, then trusts its key; one that was revoked here stays so.
// `compared`: the fingerprint a person compared; kConflict where the file has another key by now.
// Errors: the first fault of read_season_file() or gather_season(); those of the ledger.
struct TookIn {
  std::string device;
  std::int64_t records = 0;   // that were not here before
  std::size_t conflicts = 0;  // slots that values stand against each other in, all there are
};
[[nodiscard]] Result<TookIn> take_in_file(ledger::Ledger& ledger, files::FileSystem& files,
                                          const std::string& path, UtcInstant now,
                                          const std::string& compared);

}  // namespace ligule::work
