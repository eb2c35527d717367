// The rules a value is held against before it is kept, as one table of pure functions.
//
// A rule sees the candidate, the plan and the history and says whether it has something to say.
// What follows (ask, keep on hold, refuse) is the rule's own line in the table, not code. Nothing
// here holds words: key and phrases are codes that screens look up ("check.KEY", "phrase.CODE").
// The texts behind them speak of "this plot", never of the entry: people rate blind.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/checks/history.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule::checks {

// In order of weight: of several findings the heaviest decides.
enum class Outcome {
  kKept,    // nothing to say
  kAsk,     // kept as it is once a phrase is answered
  kOnHold,  // asked, and kept with state "on hold" if the person stands by it
  kRefuse,  // can't be meant: not kept
};

// How long an answer holds.
enum class Scope {
  kValue,  // for this value
  kDay,    // for this occasion until the date changes: a tablet's date is wrong for all plots alike
};

// What a person may answer with in one tap.
struct Phrase {
  std::string_view code;  // written into records: never change a text
  bool keeps = true;      // false: the value is dropped and entered again
  bool for_day = false;   // it explains the other plots of the day too, as of Scope::kDay
};

// The answer, to any rule, of who dropped the value to read it again and read the same.
inline constexpr std::string_view kSameAgain = "same_again";

// A value about to be kept.
struct Candidate {
  std::string measure;
  const Scale* scale = nullptr;  // never null; lives longer than the call
  std::string entered;
  std::string unit;                // empty: the scale's first
  std::optional<CalendarDate> on;  // the date it is stated for; empty: today
};

struct Rule {
  std::string_view code;  // written into records: never change a text
  Outcome outcome = Outcome::kAsk;
  Scope scope = Scope::kValue;
  std::string_view key;  // words: "check." + key
  std::span<const Phrase> phrases;
  // The arguments of the text when the rule fires; empty optional when it does not. value: the
  // candidate read on its scale, empty when it could not be.
  std::optional<std::vector<std::string>> (*look)(const Candidate& candidate,
                                                  const Result<EnteredValue>& value,
                                                  const Plan& plan, const History& history);
};

// Every rule, refusals first. Codes are unique.
[[nodiscard]] std::span<const Rule> rules();
[[nodiscard]] const Rule* find_rule(std::string_view code);  // null when there is none
// Whether what was answered stands for the other values of that occasion and day too.
[[nodiscard]] bool holds_for_day(const Answer& answer);

struct Finding {
  const Rule* rule = nullptr;          // never null
  std::vector<std::string> arguments;  // for {0}, {1} ... of its text
  // Nothing is left to ask once the question before it is answered by the weather (weather.h).
  bool by_weather = false;

  bool operator==(const Finding&) const = default;
};

struct Verdict {
  Outcome outcome = Outcome::kKept;  // the heaviest of all rules that fire, answered ones included
  std::vector<Finding> findings;  // still to be asked, in the table's order; a refusal stands alone
  std::vector<Answer> answered;   // of history.answered, those whose rule fires for this value
  EnteredValue value;             // as read; only its text and unit when refused

  bool operator==(const Verdict&) const = default;
};

// What the last statement about a separated subsample has to say where it is no weight (nothing of
// that part): history.separated_parts are all parts then. At most one finding.
[[nodiscard]] std::vector<Finding> judge_parts(const History& history);

// Holds a candidate against every rule. A rule named in history.answered does not ask again, but
// its outcome stands.
[[nodiscard]] Verdict judge(const Candidate& candidate, const Plan& plan, const History& history);

}  // namespace ligule::checks
