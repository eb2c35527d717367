// One archive for a network of stations: the records of any number of desks in a PostgreSQL
// database.
//
// It holds the log as a ledger does (streams, records, their chain), any order, any overlap, any
// repetition coming to the same, and the same digest as a ledger's for the same records. Rows are
// added and never changed; the database declares keys, the chain and that. What is computed from
// records is computed by a ledger that they are poured into (pour_into()), never here. Whose
// records are believed is the desk's to say (sync/gather/trusted.h), before take(). Errors: kIo
// when server or network could not do it, and as each function says; none holds a password.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "storage/ledger/ledger.h"
#include "sync/archive/connection.h"
#include "sync/seal/season_file.h"

namespace ligule::archive {

class Archive {
 public:
  // Connects to postgresql://... and, kReadWrite, makes the tables in a database that has none.
  // kInvalid for an address that is none; kNotFound, kNewerVersion and kInvalid as ensure_schema().
  [[nodiscard]] static Result<Archive> open(const std::string& url, ledger::Access access);

  // For people: "archive forage at 127.0.0.1:5432".
  [[nodiscard]] const std::string& name() const { return connection_.name(); }
  [[nodiscard]] std::string database() const { return connection_.database(); }
  // Nothing more can be asked of it: the server or the way to it is gone.
  [[nodiscard]] bool lost() const { return connection_.lost(); }

  // Takes in the records of a season file that holds, as one transaction, as Ledger::absorb() does
  // and with its errors: kConflict names a fork, a stream or an id that is held otherwise; kInvalid
  // a body that is not what its place says; kRefused for records made for demonstration among real
  // ones, or the reverse. Clients that bring records of one stream at once take turns.
  [[nodiscard]] Result<ledger::Absorbed> take(const seal::SeasonFile& season,
                                              ledger::Branch branch = ledger::Branch::kAny);

  // As Ledger's.
  [[nodiscard]] Result<std::vector<ledger::StreamInfo>> streams();
  [[nodiscard]] Result<std::vector<ledger::Span>> spans();
  [[nodiscard]] Result<Digest> digest();

  // Puts all records into a ledger, as they stand at one moment; the two digests are compared where
  // the ledger was empty. kDamaged for what the ledger cannot take.
  [[nodiscard]] Result<void> pour_into(ledger::Ledger& ledger);

 private:
  explicit Archive(Connection connection) : connection_(std::move(connection)) {}

  [[nodiscard]] Result<void> pour_span(ledger::Ledger& ledger, const ledger::StreamInfo& stream,
                                       const ledger::Span& span);

  Connection connection_;
};

}  // namespace ligule::archive
