// Plans into a ledger: what is to be recorded, before anybody records it.
#pragma once

#include <span>
#include <vector>

#include "storage/files/faults.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule::gather {

enum class EnrolOutcome {
  kNew,         // the ledger knew no plan of this trial
  kRevised,     // the plan follows the one the ledger held
  kHeld,        // exactly this plan is held and in force: nothing was added
  kNotInForce,  // it is held, and another revision is in force: nothing was added
};

struct Enrolled {
  TrialCodes codes;
  EnrolOutcome outcome = EnrolOutcome::kNew;
  std::size_t scales = 0;  // definitions added with it
};

// What keeps these plans out of the ledger (null: a new one): two of them under the same codes,
// another plan held under the codes of one, or entries sown later. Changes nothing. Empty: enrol()
// will take them.
[[nodiscard]] files::Faults enrol_faults(const ledger::Ledger* ledger, std::span<const Plan> plans,
                                         const Enrolment& enrolment);

// Adds each plan, and every scale that a value of its species can be given on, as records of the
// ledger's own stream, in one transaction: all plans or none. ids continues the ledger's newest id.
// sown_with_the_others: as of Enrolment; it stands with each plan that would be refused without.
// Faults: those of enrol_faults(), errors of Ledger::append().
[[nodiscard]] files::Checked<std::vector<Enrolled>> enrol(ledger::Ledger& ledger,
                                                          std::span<const Plan> plans,
                                                          const Definitions& definitions,
                                                          UuidSequence& ids, const Stamp& at,
                                                          bool sown_with_the_others = false);

}  // namespace ligule::gather
