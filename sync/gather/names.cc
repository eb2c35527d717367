#include "sync/gather/names.h"

#include <algorithm>
#include <optional>

#include "storage/trial/composition.h"
#include "storage/trial/said.h"

namespace ligule::gather {
namespace {

// "grass weed"
std::string part_text(int part) {
  std::string text(composition::name_of_part(part));
  std::ranges::replace(text, '_', ' ');
  return text;
}

}  // namespace

Result<Names> Names::read(const ledger::Ledger& ledger) {
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

Contender Names::contender(const Record& record) const {
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

Result<std::string> Names::about(const Plan& plan, const Uuid& subject) const {
  if (const PlanPlot* plot = plan.find_plot(PlotId{subject})) return "plot " + plot->number;
  const auto found = ledger_->find(RecordId{subject});
  if (!found) return std::unexpected(found.error());
  const std::optional<Record>& bag = *found;
  if (bag.has_value() && bag->measure == measure::kBagNumber) return "bag " + bag->entered;
  if (bag.has_value() && bag->measure == measure::kPartBag)
    return "bag " + bag->entered + " of " + part_text(bag->part);
  return subject.text();
}

std::string Contender::value() const {
  std::string value = entered;
  if (!unit.empty()) value += " " + unit;
  if (value.empty() || state != name_of(ValueState::kValue)) {
    value += (value.empty() ? "" : " ") + ("(" + state + ")");
  }
  return value;
}

std::string Contender::line() const {
  return value() + (weeds_only ? ", weeds only," : "") + " by " + person + " on " + device + ", " +
         format_date(at.local_date) + " " + format_clock(at);
}

}  // namespace ligule::gather
