#include "storage/checks/open_questions.h"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include "storage/checks/exchanged.h"
#include "storage/checks/rules.h"
#include "storage/checks/stubble.h"
#include "storage/checks/weather.h"
#include "storage/trial/sample_bag.h"

namespace ligule::checks {
namespace {

using OfOccasion = std::pair<std::optional<OccasionId>, std::string>;  // and a rule

// Whether it was asked about although the day had an answer: a stubble lower than any before it.
bool lower_than_before(const Record& record, std::span<const Record> standing) {
  const auto own = inches_stated(record);
  if (record.measure != kStubbleHeight || !own) return false;
  return std::ranges::none_of(standing, [&](const Record& other) {
    if (other.measure != kStubbleHeight || other.at.local_date != record.at.local_date ||
        other.occasion != record.occasion || other.at.utc >= record.at.utc)
      return false;
    const auto height = inches_stated(other);
    return height && *height <= *own;
  });
}

}  // namespace

std::vector<Answer> open_answers(const Record& standing) {
  if (standing.kind == kind::kSettlement) return {};
  std::vector<Answer> open;
  for (const Answer& answer : standing.answers) {
    const bool by_weather = is_limit(answer.rule) && widens(answer.answer);
    const bool asked = find_rule(answer.rule) != nullptr || answer.rule == kExchanged;
    if (!by_weather && asked) open.push_back(answer);
  }
  return open;
}

std::vector<std::size_t> open_questions(std::span<const Record> standing) {
  // A settlement is of another day than what it settles: whatever was asked until then is settled
  // with it, and not what was asked afterwards.
  std::map<OfOccasion, CalendarDate> settled;
  std::map<std::pair<OfOccasion, CalendarDate>, const Record*> first;
  for (const Record& record : standing) {
    const CalendarDate day = record.at.local_date;
    for (const Answer& answer : record.answers) {
      if (!holds_for_day(answer)) continue;
      const OfOccasion key{record.occasion, answer.rule};
      if (record.kind == kind::kSettlement) {
        CalendarDate& until = settled.try_emplace(key, day).first->second;
        until = std::max(until, day);
        continue;
      }
      const Record*& earliest = first[{key, day}];
      if (earliest == nullptr || record.at.utc < earliest->at.utc) earliest = &record;
    }
  }
  std::vector<std::size_t> open;
  for (std::size_t n = 0; n < standing.size(); ++n) {
    const Record& record = standing[n];
    const CalendarDate day = record.at.local_date;
    const bool held = record.state == ValueState::kOnHold && !sample_bag::still_dries(record);
    const bool asked = std::ranges::any_of(open_answers(record), [&](const Answer& answer) {
      if (!holds_for_day(answer)) return true;
      const OfOccasion key{record.occasion, answer.rule};
      const auto until = settled.find(key);
      return (until == settled.end() || until->second < day) &&
             (first.at({key, day}) == &record ||
              (answer.rule == kStubbleLow && lower_than_before(record, standing)));
    });
    if (held || (asked && !sample_bag::still_dries(record))) open.push_back(n);
  }
  return open;
}

}  // namespace ligule::checks
