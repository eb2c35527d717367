// How far a ledger's own stream had come, noted in a small file beside it (LEDGER.last).
//
// An older backup written back over the ledger keeps the file's identity, so file_identity.h cannot
// tell. But then the ledger stands behind this note, and going on with its stream would give
// numbers out twice. The note is no promise: it is written without a sync, after the commit, so it
// is never ahead of what was kept, and a lost note only means that this one check says nothing.
// Private to storage/ledger.
#pragma once

#include <cstdint>
#include <string>

#include "storage/trial/identity.h"

namespace ligule::ledger {

// Notes the newest seq of a stream. Failing is no error.
void note_high_water(const std::string& ledger_path, StreamId stream, std::int64_t seq);

// The seq noted for this stream; 0 where there is no readable note, or one about another stream.
[[nodiscard]] std::int64_t high_water(const std::string& ledger_path, StreamId stream);

}  // namespace ligule::ledger
