#include "storage/trial/limit.h"

#include <algorithm>
#include <array>
#include <functional>
#include <utility>

#include "storage/trial/record_line.h"

namespace ligule {

std::vector<Error> limit_faults(const Limit& limit) {
  std::vector<Error> faults;
  const auto fault = [&](const char* what, const char* mend) {
    faults.push_back({ErrorKind::kInvalid, what, {}, mend});
  };
  if (cleaned(limit.source).empty())
    fault("no source is named", "name it, or write 'common practice, no source'");
  if (!limit.species.empty() && !limit.group.empty())
    fault("a limit is about one species or one group", "leave one of them out");
  const std::array ends{limit.refuse_below, limit.weather_below, limit.ask_below,
                        limit.ask_above,    limit.weather_above, limit.refuse_above};
  std::vector<double> stated;
  for (const std::optional<double>& end : ends)
    if (end) stated.push_back(*end);
  if (stated.empty()) fault("it limits nothing", "give 'ask_below', 'ask_above' or both");
  if ((limit.weather_below && !limit.ask_below) || (limit.weather_above && !limit.ask_above))
    fault("it widens an end that nothing is asked at",
          "give 'ask_below' with 'weather_below' and 'ask_above' with 'weather_above'");
  if (!limit.weather && (limit.weather_below || limit.weather_above))
    fault("no weather changes it, and it says how far",
          "leave 'weather' out, or 'weather_below' and 'weather_above'");
  // What is refused just where it is asked about asks about nothing.
  if (std::ranges::adjacent_find(stated, std::greater_equal()) != stated.end())
    fault("the limits are out of order",
          "from 'refuse_below' over 'weather_below', 'ask_below', 'ask_above' and 'weather_above' "
          "to 'refuse_above' each is more than the one before");
  return faults;
}

Limit in_weather(Limit limit) {
  constexpr double kDown = 0.5;
  constexpr double kUp = 1.5;
  if (limit.ask_below) {
    limit.ask_below = limit.weather_below.value_or(*limit.ask_below * kDown);
    if (limit.refuse_below) limit.ask_below = std::max(*limit.ask_below, *limit.refuse_below);
  }
  if (limit.ask_above) {
    limit.ask_above = limit.weather_above.value_or(*limit.ask_above * kUp);
    if (limit.refuse_above) limit.ask_above = std::min(*limit.ask_above, *limit.refuse_above);
  }
  return limit;
}

std::vector<Limit> overlaid(std::vector<Limit> everybodys, std::vector<Limit> own) {
  for (Limit& limit : own) {
    const auto same = std::ranges::find_if(everybodys, [&](const Limit& other) {
      return other.measure == limit.measure && other.species == limit.species &&
             other.group == limit.group;
    });
    if (same == everybodys.end())
      everybodys.push_back(std::move(limit));
    else
      *same = std::move(limit);
  }
  return everybodys;
}

}  // namespace ligule
