// Settling at the desk: what was asked about in the field, is on hold, or stands against another
// value.
#pragma once

#include <string>
#include <vector>

#include "storage/ledger/ledger.h"
#include "sync/gather/gather.h"

namespace ligule::gather {

// A standing value that somebody should look at.
struct ToSettle {
  Record record;
  std::string trial;             // code
  std::string about;             // "plot 204", "bag 12"
  std::string occasion;          // code
  Contender said;                // what it says, who gave it, where
  bool conflict = false;         // it stands against others
  std::vector<RecordId> claims;  // every standing claim of the slot, itself included

  // One line: the record's id, what it is about, what it says, and what was asked and answered.
  [[nodiscard]] std::string line() const;
};
// Ordered by trial, then as the ledger orders claims. kIo.
[[nodiscard]] Result<std::vector<ToSettle>> to_settle(const ledger::Ledger& ledger);

// The one with this id. kNotFound: nothing is to be settled about it, or the ledger does not hold
// it.
[[nodiscard]] Result<ToSettle> find_to_settle(const ledger::Ledger& ledger, RecordId value);

struct Settling {
  std::string reason;  // one of settle_reasons()
  std::string person;  // initials of whoever says so
  Stamp now{};
};
[[nodiscard]] const std::vector<std::string>& settle_reasons();
// The records by which this value is the one that counts: the person's where they are new here, and
// the settlement. kIo.
[[nodiscard]] Result<std::vector<Record>> settling_records(const ledger::Ledger& ledger,
                                                           const ToSettle& value,
                                                           const Settling& wish, UuidSequence& ids);

}  // namespace ligule::gather
