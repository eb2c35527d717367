#include "sync/results/last_seen.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <vector>

#include "storage/trial/composite.h"
#include "storage/trial/first_said.h"
#include "storage/trial/number.h"
#include "storage/trial/reached.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

using Pass = std::tuple<Uuid, std::string, OccasionId>;

// The values of one plot, measure and occasion.
struct Given {
  std::vector<Record> parts;
  Stamp at;  // of the newest of them, when it was given first
  bool usable = true;
};

bool is_done(const Record& record) {
  return record.state != ValueState::kLater && !says_not_yet(record);
}

std::string tenth(double number) {
  return format_number(std::round(number * 10) / 10);
}

std::optional<LastSeen> reached_on(const Given& given, int year) {
  std::vector<Visit> visits;
  visits.reserve(given.parts.size());
  for (const Record& part : given.parts)
    visits.push_back({part.part, part.entered == kReachedCode});
  const Reached reached = reached_of(visits);
  if (!reached.first_yes) return std::nullopt;
  const CalendarDate on = visit_date(*reached.first_yes, year);
  return LastSeen{day_and_month(on), "", on};
}

// Shares as they are typed, "60+25+15"; counts and frames by what is averaged.
std::string composite_words(const Record& record, const Scale& scale) {
  const auto numbers = composite_numbers(scale, record.entered);
  if (scale.kind != ScaleKind::kShares || !numbers) return tenth(record.value.value_or(0));
  std::string text;
  for (const double number : *numbers)
    text.append(text.empty() ? "" : "+").append(format_number(number));
  return text;
}

class Seeing {
 public:
  Seeing(const ledger::Ledger& ledger, const Plan& plan, const PlanOccasion& occasion)
      : ledger_(ledger), plan_(plan), here_(plan.occasion(occasion)) {}

  Result<Seen> read() {
    const auto claims = ledger_.claims(plan_.id());
    if (!claims) return std::unexpected(claims.error());
    auto sown = ledger_.as_sown(plan_.id());
    if (!sown) return std::unexpected(sown.error());
    as_sown_ = *std::move(sown);
    for (const ledger::Claim& claim : *claims)
      if (const auto added = add(claim); !added) return std::unexpected(added.error());
    for (const auto& [pass, given] : passes_) {
      if (const auto told = tell(pass, given); !told) return std::unexpected(told.error());
    }
    return std::move(seen_);
  }

 private:
  Result<void> add(const ledger::Claim& claim) {
    const Record& record = claim.record;
    if (record.purpose != Purpose::kSurvey || !record.subject || !record.occasion) return {};
    if (*record.occasion == here_) {
      if (is_done(record)) seen_.given.insert({*record.subject, record.measure});
      return {};
    }
    Given& given = passes_[{*record.subject, record.measure, *record.occasion}];
    const auto at = first_given(record, [&](RecordId id) { return ledger_.find(id); });
    if (!at) return std::unexpected(at.error());
    if (given.parts.empty() || given.at.utc < at->utc) given.at = *at;
    given.usable = given.usable && claim.others == 0 && record.state == ValueState::kValue &&
                   record.value.has_value();
    given.parts.push_back(record);
    return {};
  }

  // Whether the plot still holds what was looked at then.
  [[nodiscard]] bool still_holds(const Uuid& plot, CalendarDate on) const {
    const auto said = std::ranges::find(as_sown_, PlotId{plot}, &AsSown::plot);
    return said == as_sown_.end() || said->status == AsSownStatus::kAsPlanned || said->since <= on;
  }

  Result<void> tell(const Pass& pass, const Given& given) {
    const auto& [plot, measure, occasion] = pass;
    const PlanOccasion* const then = plan_.find_occasion(occasion);
    if (!given.usable || then == nullptr || !still_holds(plot, given.at.local_date)) return {};
    const auto found = ledger_.definition(given.parts.front().definition);
    if (!found) return std::unexpected(found.error());
    const std::optional<Scale>& scale = *found;
    const auto words = scale ? words_of(given, *scale, then->year) : std::nullopt;
    if (!words) return {};
    const auto [at, first] = seen_.last.try_emplace({plot, measure}, *words);
    if (!first && at->second.on < words->on) at->second = *words;
    return {};
  }

  static std::optional<LastSeen> words_of(const Given& given, const Scale& scale, int year) {
    const Record& first = given.parts.front();
    if (scale.kind == ScaleKind::kReached) return reached_on(given, year);
    LastSeen seen{first.entered, first.unit, given.at.local_date};
    if (is_composite(scale.kind)) seen.text = composite_words(first, scale);
    if (given.parts.size() < 2) return seen;
    double sum = 0;
    for (const Record& part : given.parts) {
      if (part.unit != first.unit) return std::nullopt;
      sum += part.value.value_or(0);
    }
    // Bags of a plot add up, heights have a mean.
    const bool adds_up = scale.kind == ScaleKind::kMass;
    seen.text = tenth(adds_up ? sum : sum / static_cast<double>(given.parts.size()));
    return seen;
  }

  const ledger::Ledger& ledger_;
  const Plan& plan_;
  OccasionId here_;
  std::vector<AsSown> as_sown_;
  std::map<Pass, Given> passes_;
  Seen seen_;
};

}  // namespace

Result<Seen> last_seen(const ledger::Ledger& ledger, const Plan& plan,
                       const PlanOccasion& occasion) {
  return Seeing(ledger, plan, occasion).read();
}

}  // namespace ligule::results
