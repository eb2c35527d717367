#include "sync/gather/standing_weights.h"

#include <algorithm>
#include <utility>

#include "storage/checks/weather.h"
#include "storage/trial/details.h"
#include "storage/trial/said.h"
#include "storage/trial/sample_bag.h"
#include "sync/gather/take_in.h"

namespace ligule::gather {
namespace {

// Longer chains of corrections than anybody makes; a forged ring ends here.
constexpr int kLongestChain = 1000;

}  // namespace

Result<StandingWeights> StandingWeights::read(const ledger::Ledger& ledger, const Plan& plan,
                                              const PlanOccasion& cutting) {
  StandingWeights held;
  held.ledger_ = &ledger;
  held.plan_ = &plan;
  held.sample_of_ = cutting.sample_of;
  const auto claims = ledger.claims(plan.id(), plan.occasion(cutting));
  if (!claims) return std::unexpected(claims.error());
  for (const ledger::Claim& claim : *claims) {
    const Record& record = claim.record;
    if (record.purpose != Purpose::kSurvey || !record.subject) continue;
    held.claims_[{*record.subject, record.measure, record.part}].push_back(record);
  }
  auto bags = ledger.open_bags();
  if (!bags) return std::unexpected(bags.error());
  held.open_bags_ = *std::move(bags);
  auto sown = ledger.as_sown(plan.id());
  if (!sown) return std::unexpected(sown.error());
  held.as_sown_ = *std::move(sown);
  const auto people = ledger.of_kind(kind::kPerson);
  if (!people) return std::unexpected(people.error());
  for (const Record& person : *people)
    if (person.subject) held.initials_[PersonId{*person.subject}] = person.entered;
  return held;
}

const std::vector<Record>& StandingWeights::of(const Uuid& subject, std::string_view measure,
                                               int part) const {
  static const std::vector<Record> none;
  const auto at = claims_.find({subject, std::string(measure), part});
  return at == claims_.end() ? none : at->second;
}

std::optional<Kilograms> StandingWeights::mass(const Uuid& subject, std::string_view measure,
                                               int part) const {
  const auto& records = of(subject, measure, part);
  return records.size() == 1 ? said::mass_of(records.front()) : std::nullopt;
}

std::vector<int> StandingWeights::parts(const Uuid& subject, std::string_view measure) const {
  std::vector<int> parts;
  for (const auto& [slot, records] : claims_)
    if (std::get<0>(slot) == subject && std::get<1>(slot) == measure)
      parts.push_back(std::get<2>(slot));
  return parts;
}

std::map<std::string, Kilograms> StandingWeights::forage() const {
  std::map<std::string, Kilograms> held;
  for (const PlanPlot& plot : plan_->along_path()) {
    const Uuid subject = plan_->plot(plot).uuid;
    for (const int part : parts(subject, measure::kGrossWeight)) {
      const auto gross = mass(subject, measure::kGrossWeight, part);
      const auto tare = mass(subject, measure::kTareWeight, part);
      if (gross) held[plot.number] = held[plot.number] + *gross - tare.value_or(Kilograms{});
    }
  }
  return held;
}

std::string StandingWeights::weather() const {
  checks::WeatherHeard heard;
  for (const auto& [slot, records] : claims_)
    for (const Record& record : records) heard.hear(record);
  return heard.said();
}

const Record* StandingWeights::tare(const Uuid& plot, int of_part) const {
  const Record* newest = nullptr;
  for (const auto& [slot, records] : claims_) {
    const auto& [subject, measure, part] = slot;
    if (measure != measure::kTareWeight || records.size() != 1 ||
        (subject == plot && part == of_part))
      continue;
    const Record& tare = records.front();
    // What an indicator took off itself is no bag's tare.
    if (tare.state != ValueState::kValue || tare.source == Source::kScale ||
        !detail(tare.details, std::string(said::kBagKind)).empty())
      continue;
    const auto asked = std::ranges::find(tare.answers, "tare_differs", &Answer::rule);
    if (asked != tare.answers.end() && asked->answer != "other_bags" && asked->answer != kAccepted)
      continue;
    if (newest == nullptr || tare.at.utc > newest->at.utc) newest = &tare;
  }
  return newest;
}

std::string StandingWeights::initials(const Record& record) const {
  const auto at = record.person ? initials_.find(*record.person) : initials_.end();
  return at == initials_.end() ? std::string() : at->second;
}

Result<RecordId> StandingWeights::first_of(Record record) const {
  for (int step = 0; step < kLongestChain && record.replaces() && !record.targets.empty(); ++step) {
    // A settlement goes back to the claim that it agrees with.
    RecordId before = record.targets.front();
    std::optional<Record> held;
    for (const RecordId target : record.targets) {
      const auto found = ledger_->find(target);
      if (!found) return std::unexpected(found.error());
      const std::optional<Record>& known = *found;
      const bool agrees = known && known->entered == record.entered;
      if (!agrees && target != record.targets.front()) continue;
      before = target;
      held = known;
      if (agrees) break;
    }
    if (!held) return before;  // not held here: its id says enough
    record = *std::move(held);
  }
  return record.id;
}

Result<RecordId> StandingWeights::bag_of(const Record& number) const {
  if (const auto same = parse_uuid(detail(number.details, std::string(sample_bag::kSameBag))))
    return RecordId{*same};
  return first_of(number);
}

std::string StandingWeights::entry_in(const PlanPlot& plot) const {
  const auto sown = std::ranges::find(as_sown_, plan_->plot(plot), &AsSown::plot);
  if (sown == as_sown_.end()) return plan_->find_entry(plot.entry) == nullptr ? "" : plot.entry;
  if (sown->status == AsSownStatus::kUnknown) return {};
  const std::optional<EntryId>& holds = sown->holds;
  if (sown->status != AsSownStatus::kHolds || !holds) return plot.entry;
  for (const PlanEntry& entry : plan_->entries)
    if (plan_->entry(entry) == *holds) return entry.code;
  return {};
}

bool StandingWeights::share_a_bag(const PlanPlot& a, const PlanPlot& b) const {
  if (a.number == b.number) return false;
  if (sample_of_ == SampleOf::kTrial) return true;
  const std::string entry = entry_in(a);
  return sample_of_ == SampleOf::kEntry && !entry.empty() && entry == entry_in(b);
}

Result<std::optional<RecordId>> StandingWeights::shared_bag(const PlanPlot& plot,
                                                            const std::string& number,
                                                            CalendarDate day) const {
  for (const auto& [slot, records] : claims_) {
    if (std::get<1>(slot) != measure::kBagNumber || records.size() != 1) continue;
    const Record& record = records.front();
    const PlanPlot* const other = plan_->find_plot(PlotId{std::get<0>(slot)});
    if (other == nullptr || record.state != ValueState::kValue || record.entered != number ||
        record.at.local_date != day || !share_a_bag(plot, *other))
      continue;
    const auto bag = bag_of(record);
    if (!bag) return std::unexpected(bag.error());
    return *bag;
  }
  return std::nullopt;
}

}  // namespace ligule::gather
