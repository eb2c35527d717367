// What is looked at to say that a ledger is whole. Private to storage/ledger.
#pragma once

#include <string>
#include <vector>

#include "storage/ledger/connection.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"
#include "storage/trial/error.h"

namespace ligule::ledger {

// Changes nothing in the file. Who asks for several checks begins a transaction before, so that all
// of them see one moment. Each throws SQLite::Exception when the machine fails.
class Examiner {
 public:
  Examiner(Connection& connection, std::string path)
      : connection_(connection), path_(std::move(path)) {}

  // SQLite's own full check.
  void check_pages();
  // Every row belongs to a stream that is there.
  void check_keys();
  // Every record must be in a run, and every run must be a chain from its first digest on.
  void check_chains();
  // Records that were told as kept must be there.
  void check_reach(const std::vector<HighWater>& told);
  // What is derived from the log is what the log says. Nothing where the file holds projections of
  // another version: those are made anew before the file is written to.
  void check_projections();

  // A finding each, kDamaged.
  [[nodiscard]] std::vector<Error> findings() && { return std::move(findings_); }

 private:
  void note(std::string what);
  [[nodiscard]] std::int64_t walk(const Span& span);
  void compare(const std::string& table);

  Connection& connection_;
  std::string path_;
  std::vector<Error> findings_;
};

}  // namespace ligule::ledger
