// The question which stake one sees, on a card and on the form of a cutting.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {
namespace {

flow::StakeCard stake_asked(const std::vector<flow::StakeView>& lane, std::size_t at) {
  flow::StakeCard card;
  card.question =
      flow::StakeQuestionView{lane[at].plot, lane[at - 1].plot, lane[at + 1].plot, false, ""};
  return card;
}

flow::StakeCard stake_slipped() {
  flow::StakeCard card;
  card.slipped = flow::SlippedView{"213", "214", "201", "212"};
  return card;
}

}  // namespace

flow::RateView stake_rate() {
  flow::RateView view = sample_rate(0);
  view.stake = stake_asked(view.lane, view.present);
  view.can_enter = false;
  return view;
}

flow::RateView stake_number_rate() {
  flow::RateView view = stake_rate();
  view.stake.question->other = true;
  view.stake.question->typed = "21";
  return view;
}

flow::RateView slipped_rate() {
  flow::RateView view = sample_rate(0);
  view.stake = stake_slipped();
  view.can_enter = false;
  return view;
}

flow::HarvestView stake_weighing() {
  flow::HarvestView view = weighing(flow::Field::kGross);
  auto& step = std::get<flow::WeighingView>(view.step);
  for (auto& field : step.fields) field.focused = false;
  step.stake = stake_asked(step.lane, step.present);
  step.can_enter = step.can_keep = false;
  return view;
}

flow::HarvestView slipped_weighing() {
  flow::HarvestView view = stake_weighing();
  std::get<flow::WeighingView>(view.step).stake = stake_slipped();
  return view;
}

}  // namespace ligule::screens::tests
