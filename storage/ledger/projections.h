// What the log says now: a row for each record that this program understands, which claims stand,
// which plans and scales are known. Private to storage/ledger; throws SQLite::Exception.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "storage/ledger/connection.h"
#include "storage/trial/record.h"

namespace ligule::ledger {

// Brings the projections of one schema up to date with a record just added to the log. The order in
// which records arrive does not matter.
class Projector {
 public:
  Projector(Connection& connection, const std::string& schema);
  void project(std::int64_t row, const Record& record);
  // What a record that makes sense says besides its item.
  void project_beside(std::int64_t row, const Record& record);

 private:
  void add_item(std::int64_t row, const Record& record);
  void add_targets(std::int64_t row, const Record& record);
  void add_plan(std::int64_t row, const Record& record);
  void add_definition(std::int64_t row, const Record& record);
  void add_shift(std::int64_t row, const Record& record);
  [[nodiscard]] bool is_replaced(RecordId id);

  Connection& connection_;
  std::string insert_item_, insert_replaced_, strike_, find_replaced_, insert_plan_,
      insert_definition_, insert_shift_;
};

// Drops the projections of a schema and makes them again from the log, within the transaction of
// the caller. kDamaged names a record that cannot be read.
[[nodiscard]] Result<void> replay_projections(Connection& connection, const std::string& schema,
                                              const std::string& path);

}  // namespace ligule::ledger
