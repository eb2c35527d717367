// Taking a run of records into a ledger, wherever they come from. Private to sync/gather.
#pragma once

#include <span>
#include <string>

#include "sync/gather/gather.h"

namespace ligule::gather {

// Some records of a stream, as a file holds them.
struct Offer {
  const ledger::StreamInfo& stream;
  const ledger::Span& span;
  const std::string& file;
};

// One transaction, or an error that names the file: kNotTrusted, kRefused where demonstration and
// real records would be mixed, those of Ledger::absorb().
[[nodiscard]] Result<Gathered> take_run(ledger::Ledger& ledger, const Offer& offer,
                                        std::span<const std::string> bodies, ledger::Branch branch,
                                        Vouched vouched);

}  // namespace ligule::gather
