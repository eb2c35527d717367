// How far the streams of a ledger had come, noted in a small file beside it (LEDGER.last).
//
// An older backup written back over the ledger keeps the file's identity, so file_identity.h cannot
// tell. But then the ledger stands behind this note, and going on with its stream would give
// numbers out twice. And what of a damaged write-ahead log SQLite passes over shows here alone. The
// note is no promise: it is written without a sync, after the commit, so it is never ahead of what
// was kept, and a lost note only means that this one check says nothing.
//
// One line a stream, in any order: its id, a blank, the number of its newest record in 20 digits, a
// blank, the first 5 hex digits of the SHA-256 of what stands before that blank (or blanks), a
// newline; 64 bytes, so that none crosses a sector, which a cut of power could tear. A line that is
// no such line says nothing and may be written over. Versions up to 2026-11 wrote one line of 58
// bytes, of the ledger's own stream; they read the first line, so what they need to know may be
// missing to them, never wrong.
// Private to storage/ledger.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "storage/trial/identity.h"

namespace ligule::ledger {

struct HighWater {
  StreamId stream;
  std::int64_t seq = 0;
};

// Notes the newest seq of a stream, or leaves a higher one. Failing is no error.
void note_high_water(const std::string& ledger_path, StreamId stream, std::int64_t seq);

// What was read of a stream is higher than what the ledger holds, and that is known: from then on
// the note says what it holds. Nothing where the note says something else by now. Synced: with a
// new log beside it the older note would say that the log is damaged.
void lower_high_water(const std::string& ledger_path, const HighWater& read, std::int64_t held);

// All that is noted, a stream once; empty without a readable note, and of a ledger in memory.
[[nodiscard]] std::vector<HighWater> high_waters(const std::string& ledger_path);

// The seq noted for this stream; 0: none.
[[nodiscard]] std::int64_t high_water(const std::string& ledger_path, StreamId stream);

}  // namespace ligule::ledger
