// Settling at the desk: what was asked about in the field, is on hold, or stands against another
// value.
#pragma once

#include <string>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/trial/scale.h"
#include "sync/gather/gather.h"

namespace ligule::gather {

// A plot beside one whose value is looked at.
struct PlotBeside {
  std::string plot;
  std::string shown;    // what it has of the same measure, "20.5 lb"; empty: nothing yet
  bool across = false;  // in the next row of plots; else along the plot path

  bool operator==(const PlotBeside&) const = default;
};

// A standing value that somebody should look at.
struct ToSettle {
  Record record;
  std::string trial;             // code
  std::string about;             // "plot 204", "bag 12"
  std::string occasion;          // code
  Contender said;                // what it says, who gave it, where
  bool conflict = false;         // it stands against others
  std::vector<RecordId> claims;  // every standing claim of the slot, itself included
  // Two before and two after it on the plot path, then those across it, as the tablet shows them.
  std::vector<PlotBeside> beside;

  // One line: the record's id, what it is about, what it says, and what was asked and answered.
  [[nodiscard]] std::string line() const;
  // "beside on the path: plot 101 20.5 lb, plot 103 nothing yet; across: plot 201 22 lb"; empty
  // where it has no plots beside it.
  [[nodiscard]] std::string beside_line() const;
};
// Ordered by trial, then as the ledger orders claims. kIo.
[[nodiscard]] Result<std::vector<ToSettle>> to_settle(const ledger::Ledger& ledger);

// The one with this id. kNotFound: nothing is to be settled about it, or the ledger does not hold
// it.
[[nodiscard]] Result<ToSettle> find_to_settle(const ledger::Ledger& ledger, RecordId value);

// The person's record where they are new to this ledger. kIo.
[[nodiscard]] Result<std::vector<Record>> person_records(const ledger::Ledger& ledger,
                                                         const std::string& initials,
                                                         const Stamp& now, UuidSequence& ids);

// The limits that values are held against, where the ledger's own stream told others last, or none.
// kIo.
[[nodiscard]] Result<std::vector<Record>> limits_records(const ledger::Ledger& ledger,
                                                         const Definitions& definitions,
                                                         const Stamp& now, UuidSequence& ids);

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
