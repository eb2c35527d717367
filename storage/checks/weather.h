// When limits keep asking of a measure, it may be the weather and not the plots: then it is asked
// once, for the whole rating or cutting, and limits are wide there afterwards.
//
// What was answered is no record of its own: it stands among the answers of the value it was asked
// at, and every value that only the wide limits let pass carries it as the answer of its limit.
#pragma once

#include <array>
#include <span>
#include <string>
#include <string_view>

#include "storage/checks/history.h"
#include "storage/checks/rules.h"

namespace ligule::checks {

inline constexpr std::string_view kWeather = "weather";  // code of the rule
// The last so many plots that were given a measure, the present one included; of them so many must
// be unusual.
inline constexpr int kPlotsLookedAt = 10;
inline constexpr int kPlotsUnusual = 3;
inline constexpr std::array kWeatherPhrases{Phrase{"enter_again", false},
                                            Phrase{"drought"},
                                            Phrase{"rain"},
                                            Phrase{"frost"},
                                            Phrase{"late"},
                                            Phrase{"usual_weather"}};

// Whether a rule of this code holds a value against a limit that the weather can widen.
[[nodiscard]] bool is_limit(std::string_view rule);
// Phrases that widen limits: "drought", "rain", "frost", "late".
[[nodiscard]] bool widens(std::string_view phrase);
// The phrase that a value's answers give for the whole occasion; empty: none. "usual_weather": it
// is not the weather.
[[nodiscard]] std::string_view weather_in(std::span<const Answer> answers);

// What was said last for one occasion; hears its standing values in any order.
class WeatherHeard {
 public:
  void hear(const Record& record);
  [[nodiscard]] const std::string& said() const { return said_; }  // as weather_in() gives it

 private:
  std::string said_;
  UtcInstant at_{};
};

// The rule's look: no arguments. It fires where a limit asks about this value too, enough others
// did, and nothing was answered yet.
std::optional<std::vector<std::string>> weather(const Candidate& candidate,
                                                const Result<EnteredValue>& value, const Plan& plan,
                                                const History& history);

// Whether a rule that holds the value against a limit would say nothing, were the limits wide.
[[nodiscard]] bool usual_in_weather(const Rule& rule, const Candidate& candidate,
                                    const Result<EnteredValue>& value, const Plan& plan,
                                    const History& history);

}  // namespace ligule::checks
