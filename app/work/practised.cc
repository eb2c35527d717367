#include "app/work/practised.h"

#include <algorithm>
#include <set>

namespace ligule::work {
namespace {

bool is_stand_rating(const PlanOccasion& occasion, date::year year) {
  return occasion.job == Job::kRate && date::year(occasion.year) == year &&
         std::ranges::find(occasion.measures, "percent_stand") != occasion.measures.end();
}

}  // namespace

Result<std::vector<std::pair<PersonId, CalendarDate>>> load_practised(const ledger::Ledger& ledger,
                                                                      CalendarDate today) {
  std::vector<std::pair<PersonId, CalendarDate>> begun;
  const auto plans = ledger.plans();
  if (!plans) return std::unexpected(plans.error());
  std::set<Uuid> sets;
  for (const ledger::KnownPlan& known : *plans) {
    for (const PlanOccasion& occasion : known.plan.occasions) {
      if (!is_stand_rating(occasion, today.year())) continue;
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
