#include "storage/trial/limit.h"

#include <algorithm>
#include <array>
#include <functional>
#include <utility>

namespace ligule {

std::vector<Error> limit_faults(const Limit& limit) {
  std::vector<Error> faults;
  const auto fault = [&](const char* what, const char* mend) {
    faults.push_back({ErrorKind::kInvalid, what, {}, mend});
  };
  if (limit.source.empty())
    fault("no source is named", "name it, or write 'common practice, no source'");
  if (!limit.species.empty() && !limit.group.empty())
    fault("a limit is about one species or one group", "leave one of them out");
  const std::array ends{limit.refuse_below, limit.ask_below, limit.ask_above, limit.refuse_above};
  std::vector<double> stated;
  for (const std::optional<double>& end : ends)
    if (end) stated.push_back(*end);
  if (stated.empty()) fault("it limits nothing", "give 'ask_below', 'ask_above' or both");
  // What is refused just where it is asked about asks about nothing.
  if (std::ranges::adjacent_find(stated, std::greater_equal()) != stated.end())
    fault("the limits are out of order",
          "'refuse_below' less than 'ask_below', that less than 'ask_above', that less than "
          "'refuse_above'");
  return faults;
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
