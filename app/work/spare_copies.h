// Spare copies: the whole ledger on a card or stick, for another tablet to go on from when this one
// dies in the field.
//
// They lie in PLACE/ligule-spare, named STREAM-NUMBER-TIME.ledger (the stream that this tablet
// writes, its last record in ten digits, UTC to the second), so that tablets may share a card, none
// overwrites what it has, and the newest is known whatever the clock did. Each is a
// ledger file as it is, without a log beside it, and nobody has signed it: whoever takes a card
// from a tablet and puts it into another knows whose it is.
#pragma once

#include <string>
#include <vector>

#include "app/flow/intents.h"
#include "app/work/media.h"
#include "storage/files/file_system.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

// Copies the ledger by SQLite's backup and reads the copy back from the card; then removes copies
// of this tablet there but for the last two. Makes room by an old one when the card is full, never
// by the last. Errors: kRefused where the ledger has no stream of its own yet; kIo, kDamaged (a
// worn card).
[[nodiscard]] Result<flow::SpareCopy> make_spare_copy(const ledger::Ledger& ledger,
                                                      files::FileSystem& files,
                                                      const files::Path& place, UtcInstant now);
// Onto everything that is plugged in.
[[nodiscard]] flow::LedgerCopied make_spare_copies(const ledger::Ledger& ledger,
                                                   files::FileSystem& files,
                                                   const MediaRoots& roots, UtcInstant now);

// The newest copy of this tablet on what is plugged in.
[[nodiscard]] std::optional<flow::SpareCopy> newest_spare_copy(const ledger::Ledger& ledger,
                                                               files::FileSystem& files,
                                                               const MediaRoots& roots);
// The newest copy of each other tablet in each place that opens as one, newest first.
[[nodiscard]] std::vector<flow::FoundCopy> spare_copies_of_others(const ledger::Ledger& ledger,
                                                                  files::FileSystem& files,
                                                                  const MediaRoots& roots);

// Takes in all records of a copy; the person who put the card in says whose it is, and no key is
// trusted by it. Gives who made the copy and how many records were new. Errors: those of opening
// it; the first refusal where nothing could be taken.
struct TookOver {
  std::string device;                 // empty: the file's name does not tell
  std::int64_t records = 0;           // of all its tablets
  std::optional<Error> refused = {};  // of a run of records that was left out, the others stay
};
[[nodiscard]] Result<TookOver> take_over(ledger::Ledger& ledger, const std::string& copy);

}  // namespace ligule::work
