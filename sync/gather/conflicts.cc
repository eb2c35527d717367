#include <algorithm>
#include <map>
#include <optional>
#include <tuple>

#include "storage/trial/composition.h"
#include "storage/trial/record.h"
#include "storage/trial/said.h"
#include "sync/gather/gather.h"

namespace ligule::gather {
namespace {

// "grass weed"
std::string part_text(int part) {
  std::string text(composition::name_of_part(part));
  std::ranges::replace(text, '_', ' ');
  return text;
}

// Words for ids: what people call plots, bags, occasions, each other and their tablets.
class Names {
 public:
  static Result<Names> read(const ledger::Ledger& ledger) {
    Names names(ledger);
    const auto streams = ledger.streams();
    if (!streams) return std::unexpected(streams.error());
    for (const ledger::StreamInfo& stream : *streams) names.devices_[stream.id] = stream.device;
    const auto people = ledger.of_kind(kind::kPerson);
    if (!people) return std::unexpected(people.error());
    for (const Record& person : *people) {
      if (person.subject) names.initials_[PersonId{*person.subject}] = person.entered;
    }
    return names;
  }

  [[nodiscard]] Contender contender(const Record& record) const {
    const auto device = devices_.find(record.stream);
    std::string person = record.person ? record.person->text() : "the program";
    if (record.person) {
      const auto at = initials_.find(*record.person);
      if (at != initials_.end()) person = at->second;
    }
    return {std::string(record.state ? name_of(*record.state) : ""),
            record.entered,
            record.unit,
            person,
            device == devices_.end() ? record.stream.text() : device->second,
            record.at,
            said::weeds_only(record.details)};
  }

  // "plot 204", or "bag 12" by the bag_number reading that a bag's weights are about.
  [[nodiscard]] Result<std::string> about(const Plan& plan, const Uuid& subject) const {
    if (const PlanPlot* plot = plan.find_plot(PlotId{subject})) return "plot " + plot->number;
    const auto found = ledger_->find(RecordId{subject});
    if (!found) return std::unexpected(found.error());
    const std::optional<Record>& bag = *found;
    if (bag.has_value() && bag->measure == measure::kBagNumber) return "bag " + bag->entered;
    if (bag.has_value() && bag->measure == measure::kPartBag)
      return "bag " + bag->entered + " of " + part_text(bag->part);
    return subject.text();
  }

 private:
  explicit Names(const ledger::Ledger& ledger) : ledger_(&ledger) {}

  const ledger::Ledger* ledger_;
  std::map<StreamId, std::string> devices_;
  std::map<PersonId, std::string> initials_;
};

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

std::string shown(const Contender& contender) {
  std::string value = contender.entered;
  if (!contender.unit.empty()) value += " " + contender.unit;
  if (value.empty() || contender.state != name_of(ValueState::kValue)) {
    value += (value.empty() ? "" : " ") + ("(" + contender.state + ")");
  }
  if (contender.weeds_only) value += ", weeds only,";
  return value + " by " + contender.person + " on " + contender.device + ", " +
         format_date(contender.at.local_date) + " " + format_clock(contender.at);
}

}  // namespace

std::string Conflict::line() const {
  std::string text = trial + ", " + about + ", " + occasion + ", " + measure;
  if (part > 1) text += " no. " + std::to_string(part);
  text += ": ";
  for (std::size_t i = 0; i < contenders.size(); ++i) {
    text += (i == 0 ? "" : "; ") + shown(contenders[i]);
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
