#include "app/work/practised.h"

#include <set>

#include "app/flow/stand_rating.h"

namespace ligule::work {
Result<std::vector<std::pair<PersonId, CalendarDate>>> load_practised(const ledger::Ledger& ledger,
                                                                      CalendarDate today) {
  std::vector<std::pair<PersonId, CalendarDate>> begun;
  const auto plans = ledger.plans();
  if (!plans) return std::unexpected(plans.error());
  std::set<Uuid> sets;
  for (const ledger::KnownPlan& known : *plans) {
    for (const PlanOccasion& occasion : known.plan.occasions) {
      if (date::year(occasion.year) != today.year() || !flow::is_stand_rating(occasion)) continue;
      const auto claims = ledger.claims(known.plan.id(), known.plan.occasion(occasion));
      if (!claims) return std::unexpected(claims.error());
      for (const ledger::Claim& claim : *claims) {
        const Record& answer = claim.record;
        if (answer.purpose != Purpose::kPractice || answer.at.local_date != today) continue;
        if (!answer.person || !answer.subject || !sets.insert(*answer.subject).second) continue;
        begun.emplace_back(*answer.person, today);
      }
    }
  }
  return begun;
}

}  // namespace ligule::work
