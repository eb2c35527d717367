// Holds the projections against the log in one pass over it, without making all of them anew.
// Private to storage/ledger; throws SQLite::Exception.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "storage/ledger/connection.h"
#include "storage/ledger/projections.h"
#include "storage/trial/record.h"

namespace ligule::ledger {

// Within the transaction of the caller, which shows one moment of the ledger to all that is asked.
class ProjectionCheck {
 public:
  explicit ProjectionCheck(Connection& connection);
  ProjectionCheck(const ProjectionCheck&) = delete;
  ProjectionCheck& operator=(const ProjectionCheck&) = delete;
  ProjectionCheck(ProjectionCheck&&) = delete;
  ProjectionCheck& operator=(ProjectionCheck&&) = delete;
  ~ProjectionCheck();

  // Columns of `main.item i` that look() wants, in its order.
  static constexpr const char* kColumns =
      "i.row,i.kind,i.trial,i.subject,i.measure,i.occasion,i.part,i.purpose,i.state,i.standing";

  // A record of the log, null where this program does not understand it, and its row of `item`:
  // kColumns from column `at` on, all NULL where there is none. Each record once, in any order.
  void look(std::int64_t row, const Record* record, const Query& item, int at);
  // Once every record was looked at: which projections are not what the log says.
  [[nodiscard]] std::vector<std::string> differing();

 private:
  [[nodiscard]] bool is_item_of(const Record& record, const Query& item, int at) const;
  [[nodiscard]] bool differs(const std::string& table);

  Connection& connection_;
  Projector beside_;            // what records say besides their items, made anew
  std::vector<Uuid> replaced_;  // targets in the ledger's own `replaced`, in order
  std::int64_t items_ = 0;      // that there must be
  bool items_hold_ = true;
};

}  // namespace ligule::ledger
