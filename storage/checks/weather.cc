#include "storage/checks/weather.h"

#include <algorithm>
#include <array>

#include "storage/checks/season_rules.h"

namespace ligule::checks {
namespace {

constexpr std::array<std::string_view, 3> kLimits{"unusual", "yield_unusual", "dry_matter_unusual"};

// Limits as they are in such weather; History points to limits, so they live beside it.
struct Wide {
  History history;
  std::optional<Limit> usual, cutting_yield, dry_matter;

  explicit Wide(const History& from) : history(from) {
    const auto widen = [](const Limit*& limit, std::optional<Limit>& home) {
      if (limit == nullptr) return;
      home = in_weather(*limit);
      limit = &*home;
    };
    widen(history.usual, usual);
    widen(history.cutting_yield, cutting_yield);
    widen(history.dry_matter, dry_matter);
  }
  Wide(const Wide&) = delete;
  Wide& operator=(const Wide&) = delete;
  Wide(Wide&&) = delete;
  Wide& operator=(Wide&&) = delete;
  ~Wide() = default;
};

// What the crew sets itself no weather explains.
bool explains(const Rule& rule, const History& history) {
  return rule.code != "unusual" || history.usual == nullptr || history.usual->weather;
}

}  // namespace

bool is_limit(std::string_view rule) {
  return std::ranges::find(kLimits, rule) != kLimits.end();
}

bool widens(std::string_view phrase) {
  const auto* const at = std::ranges::find(kWeatherPhrases, phrase, &Phrase::code);
  return at != kWeatherPhrases.end() && at->keeps && phrase != "usual_weather";
}

std::string_view weather_in(std::span<const Answer> answers) {
  for (const Answer& answer : answers) {
    if (answer.rule == kWeather) return answer.answer;
    if (is_limit(answer.rule) && widens(answer.answer)) return answer.answer;
  }
  return {};
}

void WeatherHeard::hear(const Record& record) {
  const std::string_view said = weather_in(record.answers);
  if (said.empty() || (!said_.empty() && record.at.utc <= at_)) return;
  said_ = said;
  at_ = record.at.utc;
}

std::optional<std::vector<std::string>> weather(const Candidate& candidate,
                                                const Result<EnteredValue>& value, const Plan& plan,
                                                const History& history) {
  if (!history.weather.empty() || history.limits_asked + 1 < kPlotsUnusual) return std::nullopt;
  const bool asks = std::ranges::any_of(kLimits, [&](std::string_view code) {
    const Rule* const rule = find_rule(code);
    return rule != nullptr && explains(*rule, history) &&
           rule->look(candidate, value, plan, history).has_value();
  });
  if (!asks) return std::nullopt;
  return std::vector<std::string>{};
}

bool usual_in_weather(const Rule& rule, const Candidate& candidate,
                      const Result<EnteredValue>& value, const Plan& plan, const History& history) {
  if (!is_limit(rule.code) || !explains(rule, history)) return false;
  const Wide wide(history);
  return !rule.look(candidate, value, plan, wide.history);
}

}  // namespace ligule::checks
