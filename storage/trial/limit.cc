#include "storage/trial/limit.h"

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
  if (!limit.ask_below && !limit.ask_above)
    fault("it limits nothing", "give 'ask_below', 'ask_above' or both");
  if (limit.ask_below && limit.ask_above && !(*limit.ask_below < *limit.ask_above))
    fault("the limits are out of order", "'ask_below' less than 'ask_above'");
  return faults;
}

}  // namespace ligule
