#include "storage/trial/record.h"

#include <algorithm>
#include <array>
#include <utility>

namespace ligule {
namespace {

// Written to disk; never change a text.
constexpr std::array<std::pair<Purpose, std::string_view>, 4> kPurposes{
    {{Purpose::kSurvey, "survey"},
     {Purpose::kRepeat, "repeat"},
     {Purpose::kSecond, "second"},
     {Purpose::kPractice, "practice"}}};
constexpr std::array<std::pair<ValueState, std::string_view>, 5> kStates{
    {{ValueState::kValue, "value"},
     {ValueState::kZero, "zero"},
     {ValueState::kMissing, "missing"},
     {ValueState::kOnHold, "on hold"},
     {ValueState::kLater, "later"}}};
constexpr std::array<std::pair<Source, std::string_view>, 5> kSources{
    {{Source::kTapped, "tapped"},
     {Source::kTyped, "typed"},
     {Source::kScale, "scale"},
     {Source::kImported, "imported"},
     {Source::kPaper, "paper"}}};

constexpr std::array kKnownKinds{
    kind::kStream,     kind::kPlan,       kind::kDefinition,  kind::kLimits,
    kind::kPerson,     kind::kHarvestRun, kind::kReading,     kind::kCorrection,
    kind::kWithdrawal, kind::kSettlement, kind::kAsSown,      kind::kEvent,
    kind::kClosed,     kind::kClockShift, kind::kCheckWeight, kind::kSoftware};

template <class Value, class Table>
Result<Value> value_in(const Table& table, std::string_view text, const char* what) {
  const auto at = std::ranges::find(table, text, &Table::value_type::second);
  if (at != table.end()) return at->first;
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is not a " + what);
}

}  // namespace

std::string_view name_of(Purpose purpose) {
  return std::ranges::find(kPurposes, purpose, &std::pair<Purpose, std::string_view>::first)
      ->second;
}
std::string_view name_of(ValueState state) {
  return std::ranges::find(kStates, state, &std::pair<ValueState, std::string_view>::first)->second;
}
std::string_view name_of(Source source) {
  return std::ranges::find(kSources, source, &std::pair<Source, std::string_view>::first)->second;
}
Result<Purpose> parse_purpose(std::string_view text) {
  return value_in<Purpose>(kPurposes, text, "purpose");
}
Result<ValueState> parse_state(std::string_view text) {
  return value_in<ValueState>(kStates, text, "state of a value");
}
Result<Source> parse_source(std::string_view text) {
  return value_in<Source>(kSources, text, "source of a value");
}

bool is_known_kind(std::string_view kind) {
  return std::ranges::find(kKnownKinds, kind) != kKnownKinds.end();
}

bool Record::is_claim() const {
  return kind == kind::kReading || kind == kind::kCorrection || kind == kind::kSettlement;
}

bool Record::replaces() const {
  return kind == kind::kCorrection || kind == kind::kWithdrawal || kind == kind::kSettlement;
}

}  // namespace ligule
