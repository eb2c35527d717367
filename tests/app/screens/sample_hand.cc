// The tablet in several hands, locked, and with little left.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {

flow::SignInView sample_hand_over(bool after_rest) {
  flow::SignInView view = sample_sign_in(4);
  view.held_by = "KV";
  view.after_rest = after_rest;
  return view;
}

flow::RateView put_off_rate() {
  flow::RateView view = sample_rate(0);
  view.can_close = true;
  return view;
}

flow::RateView second_rate(std::optional<std::size_t> focus) {
  flow::RateView view = sample_rate(focus);
  view.second = true;
  return view;
}

flow::Overlay as_second_overlay(bool finished) {
  flow::Overlay overlay;
  overlay.as_second = flow::AsSecond{{}, {}, {"JT", "RM", "KV", "LB", "OS"}, 96, 0, 38};
  if (!finished) *overlay.as_second = flow::AsSecond{{}, {}, {"JT"}, 24, 72, 0};
  return overlay;
}

flow::Overlay rated_twice_overlay() {
  flow::Overlay overlay = question_overlay();
  overlay.question->text = {"check.rated_twice", {"JRM"}};
  overlay.question->measure = "percent_stand";
  overlay.question->shown = "85\u00A0%";
  overlay.question->on_hold = false;
  overlay.question->phrases = {{"leave_theirs", false}, {"put_theirs_right"}};
  return overlay;
}

flow::Overlay unexpected_overlay() {
  flow::Overlay overlay = question_overlay();
  overlay.question->text = {"check.weight_unexpected"};
  overlay.question->shown = "35.4\u00A0kg";
  overlay.question->on_hold = false;
  overlay.question->phrases = {
      {"weigh_again", false}, {"measured_so"}, {"strip_differs"}, {"not_known"}};
  return overlay;
}

flow::Overlay closing_looks_overlay() {
  flow::Overlay overlay;
  overlay.closing = flow::ClosingView{"TF24", {}};
  overlay.closing->looks = {{"odd_run", "percent_stand", {"85", "14", "201", "214"}},
                            {"shift_back", "percent_stand", {"301", "314"}},
                            {"too_fast", "", {"9", "305"}}};
  return overlay;
}

flow::Overlay closing_second_overlay() {
  flow::Overlay overlay = closing_overlay();
  overlay.closing->second = true;
  return overlay;
}

flow::Overlay closing_overlay() {
  flow::Overlay overlay;
  overlay.closing = flow::ClosingView{"TF24", {}};
  for (int plot = 201; plot <= 230; ++plot) overlay.closing->open.push_back(std::to_string(plot));
  return overlay;
}

flow::Overlay early_overlay() {
  flow::Overlay overlay;
  overlay.early = flow::EarlyView{2, "2026-06-30", 41};
  return overlay;
}

flow::TodayView sprayed_today(std::size_t sprays) {
  flow::TodayView view = busy_today();
  view.no_entry = {
      {"AL24", "Creek bottom", "", "2026-05-19", "insecticide", ""},
      {"TF24", "Creek bottom", "2", "2026-05-20", "broadleaf herbicide", "2026-05-21 22:30"},
      {"SS26", "Hill", "", "2026-05-20", "", "2026-05-21 14:00"},
      {"TF23", "Hill", "", "2026-05-20", "", "2026-05-21 13:00"}};
  // One whose time is known where there is only one.
  if (sprays == 1) view.no_entry.erase(view.no_entry.begin());
  view.no_entry.resize(sprays);
  return view;
}

flow::Overlay stay_out_overlay(bool known, bool beside) {
  flow::Overlay overlay;
  overlay.no_entry = sprayed_today(4).no_entry[known ? 1 : 0];
  overlay.no_entry->beside = beside;
  return overlay;
}

flow::RateView not_saved_rate() {
  flow::RateView view = sample_rate(0);
  view.head.not_saved = 1;
  return view;
}

flow::Overlay locked_overlay(bool first, bool not_saved) {
  flow::Overlay overlay;
  overlay.lock = flow::LockView{first, not_saved};
  return overlay;
}

flow::TodayView low_today() {
  flow::TodayView view = busy_today();
  view.supply.battery = flow::Words{"supply.battery.plots", {"18", "40"}};
  view.supply.battery_low = true;
  view.supply.storage = flow::Words{"supply.storage.plots", {"12000"}};
  return view;
}

flow::TodayView new_key_today() {
  flow::TodayView view = busy_today();
  view.new_key = flow::NewKey{"K3MQ-7XWA-2PLD-VN5T", 212};
  return view;
}

flow::RateView low_rate() {
  flow::RateView view = sample_rate(0);
  view.warning = flow::Words{"supply.battery.plots", {"18", "40"}};
  return view;
}

flow::HarvestView low_weighing() {
  flow::HarvestView view = weighing(flow::Field::kGross);
  std::get<flow::WeighingView>(view.step).warning = flow::Words{"supply.storage", {"120"}};
  return view;
}

}  // namespace ligule::screens::tests
