// What is looked at to say that a ledger is whole. Private to storage/ledger; throws
// SQLite::Exception when the machine fails.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "storage/ledger/connection.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"
#include "storage/ledger/projection_check.h"
#include "storage/trial/error.h"

namespace ligule::ledger {

// What SQLite's own full check says of pages and indexes, in its words: 20 faults at most.
[[nodiscard]] std::vector<std::string> page_faults(Connection& connection);
// Rows of a stream that is not there.
[[nodiscard]] std::vector<std::string> key_faults(Connection& connection);

// Changes nothing in the file. Within a transaction of the caller, which shows one moment of the
// ledger to all that is asked.
class Examiner {
 public:
  Examiner(Connection& connection, std::string path)
      : connection_(connection), path_(std::move(path)) {}

  void note_all(std::vector<std::string> faults);
  // Every record must be in a run, and every run must be a chain from its first digest on; what the
  // projections say of a record is looked at on the way, so that each is read once. Projections of
  // another version are passed over: they are made anew before the file is written to.
  void check_records();
  // Records that were told as kept must be there.
  void check_reach(const std::vector<HighWater>& told);

  // A finding each, kDamaged.
  [[nodiscard]] std::vector<Error> findings() && { return std::move(findings_); }

 private:
  void note(std::string what);
  [[nodiscard]] std::int64_t walk(const Span& span, ProjectionCheck* projections);
  void look(const Span& span, const Query& query, ProjectionCheck* projections);

  Connection& connection_;
  std::string path_;
  bool readable_ = true;  // every record so far
  std::vector<Error> findings_;
};

}  // namespace ligule::ledger
