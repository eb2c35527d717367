// What every store of records asks of those that arrive from elsewhere, and how it refuses them, so
// that a ledger and an archive judge alike and say it in the same words.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>

#include "storage/ledger/ledger.h"
#include "storage/trial/record_line.h"

namespace ligule::ledger {

// "stream 01a2... of North 1"
[[nodiscard]] std::string name_of_stream(const StreamInfo& stream);

struct Arrived {
  Envelope envelope;
  std::optional<Record> record;  // none of a format later than this program's
};
// A body must be what its place says, in the one form it can have: kInvalid names the record.
[[nodiscard]] Result<Arrived> check_body(const StreamInfo& stream, std::int64_t seq,
                                         const std::string& body);

// Where both branches have the record before, they parted there; else there or before.
enum class Parted { kThere, kThereOrBefore };
// Another record is held under this number. kConflict, as the two below.
[[nodiscard]] std::unexpected<Error> forked(const StreamInfo& stream, std::int64_t seq,
                                            Parted parted = Parted::kThereOrBefore);
// The stream is held as that of another tablet.
[[nodiscard]] std::unexpected<Error> described_otherwise(const StreamInfo& stream);
// A record of another place has this record's id.
[[nodiscard]] std::unexpected<Error> id_taken(const StreamInfo& stream, std::int64_t seq);

// Where a branch was chosen all that is held of a stream is one run from the first record on:
// beyond a gap nobody can tell of which branch it is. kConflict; runs are not empty.
[[nodiscard]] Result<void> is_one_run(const StreamInfo& stream, std::span<const Span> runs);

}  // namespace ligule::ledger
