#include <algorithm>
#include <tuple>

#include "storage/trial/record.h"
#include "sync/gather/gather.h"
#include "sync/gather/names.h"

namespace ligule::gather {
namespace {

auto slot_of(const Record& record) {
  return std::tie(record.subject, record.measure, record.occasion, record.part, record.purpose);
}

Result<void> add_conflicts(const ledger::Ledger& ledger, const Names& names, const Plan& plan,
                           std::vector<Conflict>& conflicts) {
  const auto claims = ledger.claims(plan.id());
  if (!claims) return std::unexpected(claims.error());
  const Record* before = nullptr;
  for (const ledger::Claim& claim : *claims) {
    const Record& record = claim.record;
    // Repeats, second raters and practice are compared, never settled.
    if (claim.others == 0 || record.purpose != Purpose::kSurvey) continue;
    if (before == nullptr || slot_of(*before) != slot_of(record)) {
      const auto about = names.about(plan, record.subject.value_or(Uuid{}));
      if (!about) return std::unexpected(about.error());
      const PlanOccasion* occasion = plan.find_occasion(record.occasion.value_or(OccasionId{}));
      conflicts.push_back({plan.codes.trial,
                           *about,
                           occasion != nullptr ? occasion->code : "",
                           record.measure,
                           record.part,
                           {}});
    }
    conflicts.back().contenders.push_back(names.contender(record));
    before = &record;
  }
  return {};
}

}  // namespace

std::string Conflict::line() const {
  std::string text = trial + ", " + about + ", " + occasion + ", " + measure;
  if (part > 1) text += " no. " + std::to_string(part);
  text += ": ";
  for (std::size_t i = 0; i < contenders.size(); ++i) {
    text += (i == 0 ? "" : "; ") + contenders[i].line();
  }
  return text;
}

Result<std::vector<Conflict>> conflicts(const ledger::Ledger& ledger) {
  const auto names = Names::read(ledger);
  if (!names) return std::unexpected(names.error());
  const auto plans = ledger.plans();
  if (!plans) return std::unexpected(plans.error());
  std::vector<Conflict> conflicts;
  for (const ledger::KnownPlan& known : *plans) {
    if (const auto added = add_conflicts(ledger, *names, known.plan, conflicts); !added) {
      return std::unexpected(added.error());
    }
  }
  std::ranges::stable_sort(conflicts, {}, &Conflict::trial);
  return conflicts;
}

}  // namespace ligule::gather
