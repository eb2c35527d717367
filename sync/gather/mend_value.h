// Putting a standing value right at the desk: it was another, or there is none.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/trial/scale.h"

namespace ligule::gather {

struct Mending {
  // What it is, as on its scale; "20.5 kg" where the unit is to be another than the value's own.
  // Empty: there is no value, and none should be guessed.
  std::optional<std::string> correct;
  std::string reason;  // words
  std::string person;  // initials of whoever says so
  Stamp now{};
};

struct Mended {
  RecordId id;  // of the correction
  // As it says now: "plot 101: gross_weight 21 lb", "plot 101: gross_weight missing".
  std::string says;
  // The person's where they are new here, and the correction, which restates the whole value.
  std::vector<Record> records;
  std::vector<Error> questions;  // what rules ask about it; then it stays on hold
};

// Judged by the scale the value was given on, by limits and by what the ledger holds beside it: a
// question is answered `not_asked`, as of weights from a file. kNotFound: no value of that id
// stands; kConflict: another one stands against it; kInvalid, kRefused: what can't be said of it.
// Definitions must outlive the call.
[[nodiscard]] Result<Mended> mend_value(const ledger::Ledger& ledger,
                                        const Definitions& definitions, RecordId value,
                                        const Mending& wish, UuidSequence& ids);

}  // namespace ligule::gather
