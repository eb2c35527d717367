// Whether somebody at this desk vouches for what a season file holds.
//
// A trusted key is believed in all it signs. A revoked one only in the records that the desk named
// when it was revoked: a stream up to a number with a digest, and so by the chain everything before
// it. A number alone would let whoever has the key write those records anew.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "storage/ledger/ledger.h"
#include "sync/seal/season_file.h"

namespace ligule::gather {

struct Signer {
  std::string label;             // what the desk calls the key
  std::optional<Error> refused;  // kNotTrusted: it was revoked, and the records are not of what is
                                 // believed of it, or can't be tied to that yet
};
// Of records of a stream (season file or ledger). Empty: nobody here has vouched for its key.
// Errors of the ledger.
[[nodiscard]] Result<std::optional<Signer>> signer_of(const ledger::Ledger& ledger,
                                                      const ledger::StreamInfo& stream,
                                                      const ledger::Span& span);

// Whose word stands for a key.
enum class Vouched {
  kByKey,     // only what is trusted here
  kByPerson,  // the person who has it in hand: all that was not revoked here
};
// What the desk calls the key that signed these records, of this file; the tablet's own name where
// the key is not known here and a person vouches. kNotTrusted where nobody does, or the key was
// revoked and these are not of what is believed of it; errors of the ledger.
[[nodiscard]] Result<std::string> vouched_label(const ledger::Ledger& ledger,
                                                const ledger::StreamInfo& stream,
                                                const ledger::Span& span, const std::string& file,
                                                Vouched vouched);

// What of a key is believed from a season file on: all of it, and the records it stands on.
[[nodiscard]] ledger::Believed believed_of(const seal::SeasonFile& season);

// Records held here that were signed by a revoked key and are not among what is believed of it.
// They were taken in before it was revoked, stay, and count.
struct Doubtful {
  ledger::PublicKey key{};
  std::string label;   // of the key
  std::string device;  // of the stream
  std::int64_t first = 0;
  std::int64_t last = 0;
  bool untied = false;  // they may lead to what is believed: records between are not held

  // "records 6 to 9 of North 1 are signed by the revoked key of tablet N and ..."
  [[nodiscard]] std::string line() const;
};
[[nodiscard]] Result<std::vector<Doubtful>> doubtful(const ledger::Ledger& ledger);

}  // namespace ligule::gather
