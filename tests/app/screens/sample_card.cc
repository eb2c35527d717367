// The card while a percent's single points are chosen, and with a name shown on it.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {

flow::RateView tens_rate() {
  flow::RateView view = sample_rate(0);
  flow::MeasureView& measure = view.measures[0];
  measure.tens = true;
  measure.choices.clear();
  for (int middle = 5; middle < 100; middle += 10)
    measure.choices.push_back({std::to_string(middle), "", static_cast<double>(middle), false, true,
                               std::to_string(middle - 5) + "-" + std::to_string(middle + 5)});
  return view;
}

flow::RateView fine_rate() {
  flow::RateView view = sample_rate(0);
  flow::MeasureView& measure = view.measures[0];
  measure.shown = "85";
  measure.mark = flow::Mark::kKept;
  measure.fine = true;
  measure.choices.clear();
  for (int percent = 80; percent <= 90; ++percent)
    measure.choices.push_back(
        {std::to_string(percent), "", static_cast<double>(percent), percent == 85});
  return view;
}

flow::RateView broadcast_rate() {
  flow::RateView view = sample_rate(0);
  view.drilled = false;
  return view;
}

flow::RateView named_rate(std::optional<std::size_t> focus) {
  flow::RateView view = sample_rate(focus);
  view.blind = false;
  view.names = "Far Meadow Early Giant (novel endophyte)";
  return view;
}

}  // namespace ligule::screens::tests
