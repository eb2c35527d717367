// Practice: while a stand is rated, and when all are.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {

flow::PracticeView practice_rating(bool drilled) {
  flow::PracticeView view;
  view.head = sample_head();
  view.trial_code = drilled ? "TF24" : "WC25";
  view.drilled = drilled;
  view.place = 10;
  view.stands = 10;
  view.stand = {62, 2048, ""};
  for (int percent = 0; percent <= 100; percent += 5)
    view.choices.push_back({std::to_string(percent), static_cast<double>(percent)});
  view.can_take_back = true;
  return view;
}

flow::PracticeView practice_result(flow::RatesHow how, bool drilled) {
  flow::PracticeView view = practice_rating(drilled);
  flow::PracticeResult result{how, how == flow::RatesHow::kLow ? 1 : 16, 14, {}};
  for (int n = 0; n < 10; ++n)
    result.stands.push_back({3 + n * 97 / 10, static_cast<std::uint32_t>(n * 77 + 5),
                             n == 9 ? "100" : std::to_string(5 + n * 10)});
  view.result = result;
  return view;
}

}  // namespace ligule::screens::tests
