#include "sync/results/bag_weights.h"

#include <algorithm>

#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"
#include "storage/trial/unit_names.h"

namespace ligule::results {
namespace {

std::string in_words(std::string code) {
  std::ranges::replace(code, '_', ' ');
  return code;
}

BagWeight undecided(std::string why, std::string mend) {
  return {SampleState::kUndecided, {}, std::move(why), std::move(mend)};
}

constexpr const char* kDecide = "correct or settle it";

BagWeight weight_said(const Settled& said, const std::string& name) {
  if (const std::string_view open = why_open(said.standing); !open.empty())
    return undecided("the " + name + " " + std::string(open), kDecide);
  if (said.standing == Standing::kLater)
    return {SampleState::kWaiting, {}, "there is no " + name, {}};
  if (said.standing != Standing::kValue)
    return {SampleState::kLost,
            {},
            "the " + name + " is missing" +
                (said.reason.empty() ? std::string() : ": " + in_words(said.reason)),
            {}};
  const Result<Kilograms> mass = mass_in(said.value, said.unit);
  if (!mass) return undecided("the " + name + ": " + mass.error().what, kDecide);
  return {SampleState::kGood, *mass, {}, {}};
}

}  // namespace

SampleBags::SampleBags(const TrialFacts& trial, const SettledValues& settled)
    : trial_(trial), settled_(settled) {
  for (const Record& record : trial.bag_numbers) numbers_[record.id] = &record;
}

BagWeight SampleBags::weight(RecordId bag, std::string_view measure, const std::string& name,
                             std::vector<RecordId>& records) const {
  const auto parts = settled_.parts(bag.uuid, measure);
  for (const Settled& part : parts)
    records.insert(records.end(), part.records.begin(), part.records.end());
  if (parts.empty()) return {SampleState::kWaiting, {}, "there is no " + name, {}};
  if (parts.size() > 1) return undecided("the " + name + " stands more than once", kDecide);
  return weight_said(parts.front(), name);
}

BagWeight SampleBags::tare(RecordId bag, const std::string& name,
                           std::vector<RecordId>& records) const {
  if (settled_.parts(bag.uuid, measure::kBagTare).empty()) return planned_tare();
  return weight(bag, measure::kBagTare, name, records);
}

BagWeight SampleBags::planned_tare() const {
  const Result<Kilograms> stated = trial_.plan.bag_tare.kilograms();
  if (!stated)
    return undecided("the plan's bag tare can't be used: " + stated.error().what,
                     stated.error().mend);
  return {SampleState::kGood, *stated, {}, {}};
}

// The readings a standing bag number goes back to. A settlement stands for the claims that said
// what it says.
void SampleBags::first_readings(RecordId id, std::set<RecordId>& seen,
                                std::set<RecordId>& first) const {
  const auto at = numbers_.find(id);
  if (at == numbers_.end() || !seen.insert(id).second) return;
  const Record& record = *at->second;
  if (record.targets.empty()) {
    first.insert(id);
    return;
  }
  const auto agrees = [&](RecordId target) {
    const auto found = numbers_.find(target);
    return found != numbers_.end() && found->second->entered == record.entered;
  };
  const bool some_agree = std::ranges::any_of(record.targets, agrees);
  for (const RecordId target : record.targets) {
    if (!some_agree || agrees(target)) first_readings(target, seen, first);
  }
}

NamedBag SampleBags::named_by(const Settled& number) const {
  const std::string_view open = why_open(number.standing);
  if (!open.empty())
    return {std::nullopt, "the bag number " + std::string(open), "correct or settle it"};
  std::set<RecordId> seen;
  std::set<RecordId> bags;
  for (const RecordId standing : number.records) {
    // A bag that several plots went into is the one that the first of them was given. What stands
    // says so itself: a member that was given another number has a bag of its own.
    const auto at = numbers_.find(standing);
    const std::string same = at == numbers_.end()
                                 ? std::string()
                                 : detail(at->second->details, std::string(sample_bag::kSameBag));
    if (const auto shared = parse_uuid(same))
      bags.insert(RecordId{*shared});
    else
      first_readings(standing, seen, bags);
  }
  if (bags.size() > 1) {  // two tablets gave the same number: one of them weighed the sample
    std::erase_if(bags, [&](RecordId bag) {
      return settled_.parts(bag.uuid, measure::kSampleFresh).empty();
    });
  }
  if (bags.size() == 1) return {*bags.begin(), {}, {}};
  return {std::nullopt,
          bags.empty() ? "the sample bag was not weighed" : "two bags claim to be the sample",
          "settle the bag number"};
}

}  // namespace ligule::results
