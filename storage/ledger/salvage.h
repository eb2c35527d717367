// What of a damaged ledger is provably what was kept, and what is lost.
//
// A record counts as whole only where its digest, or that of the record after it, follows from the
// digest before it: damage cannot do that. So nothing comes back changed. The file and its log are
// read as bytes and never written to; what a bad place of the disk does not give is taken as lost.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "storage/ledger/ledger.h"

namespace ligule::ledger {

struct WholeRun {
  Span span;
  std::vector<std::string> bodies;  // span.first.. in order
};

// Records first..last of a stream, inclusive.
struct LostRun {
  StreamId stream;
  std::int64_t first = 0;
  std::int64_t last = 0;

  bool operator==(const LostRun&) const = default;
};

struct Salvaged {
  std::vector<StreamInfo> streams;  // of which something is whole or lost; sorted by id
  std::vector<WholeRun> runs;       // sorted by stream then first
  // The same. A stream's end is told by the rows that are left and by the note beside the ledger
  // (LEDGER.last).
  std::vector<LostRun> lost;
};

// kNotFound, kIo (also where memory is short); kInvalid where no record of a ledger is found in it;
// kRefused of a file or log above 512 MiB; kConflict where somebody writes to it meanwhile.
[[nodiscard]] Result<Salvaged> salvage(const std::string& path);

}  // namespace ligule::ledger
