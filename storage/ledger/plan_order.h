// Which revision of a plan follows which. Private to storage/ledger; throws SQLite::Exception.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "storage/ledger/connection.h"
#include "storage/trial/plan.h"
#include "storage/trial/sown_together.h"

namespace ligule::ledger {

// A plan as held: several records may hold the same one.
struct Revision {
  std::string digest;
  std::string parent;
  std::int64_t utc_ms = 0;  // of its earliest record
  std::int64_t row = 0;     // of one of its records
};

[[nodiscard]] std::vector<Revision> revisions_of(Connection& connection, TrialId trial);
// The revision nobody names as its parent. Where two tablets revised the same plan apart there are
// several: then the one recorded last, and between equal times the greater digest, whatever arrived
// first. Empty without any.
[[nodiscard]] std::optional<Revision> in_force(const std::vector<Revision>& revisions);

// As Ledger::can_enrol().
[[nodiscard]] Result<bool> plan_fits(Connection& connection, const Plan& plan,
                                     const Enrolment& enrolment, std::span<const Plan> before = {});

}  // namespace ligule::ledger
