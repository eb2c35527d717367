// The Day's end screen in its states.
#include <string>

#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {

flow::DaysEndView days_end_open() {
  flow::DaysEndView view;
  view.head = sample_head();
  view.loaded = true;
  flow::DayRow cut;
  cut.trial_code = "TF24";
  cut.code = "2026-cut-1";
  cut.job = Job::kHarvest;
  cut.done = 91;
  cut.total = 96;
  cut.values_today = 364;
  cut.open_plots = {"117", "204", "311", "402", "423"};
  cut.on_hold = {{"212", "gross_weight", "gross_under_tare"}};
  cut.unsorted = {"107", "112"};
  cut.can_close = true;
  cut.questioned = {{"305", "bag_number", "bag_in_use"}, {"306", "bag_number", "bag_in_use"}};
  flow::DayRow rating;
  rating.trial_code = "AL24";
  rating.code = "2026-after-cut-1";
  rating.done = 96;
  rating.total = 96;
  flow::DayRow seedlings;
  seedlings.trial_code = "SS26";
  seedlings.code = "2026-seedlings";
  seedlings.total = 72;
  for (int n = 1; n <= 72; ++n) seedlings.open_plots.push_back(std::to_string(100 + n));
  flow::DayRow closed = cut;
  closed.code = "2026-cut-2";
  closed.on_hold = closed.questioned = {};
  closed.can_close = false;
  closed.closed = true;
  view.rows = {cut, rating, closed, seedlings};
  view.unsealed = 748;
  view.open = 77;
  view.held = 1;
  view.questioned = 2;
  view.seal.state = flow::StepState::kReady;
  view.places = {{"/media/stick", "STICK 1"}};
  return view;
}

flow::DaysEndView days_end_sealed() {
  flow::DaysEndView view = days_end_open();
  view.rows.erase(view.rows.begin());
  view.rows.pop_back();
  view.open = view.held = view.questioned = 0;
  view.seal.state = flow::StepState::kDone;
  view.seal.file_name = "season-0195d742-4780-70b3-8382-e8f4c396979f-1-3600.zip";
  view.sealed_records = 748;
  view.copy.state = flow::StepState::kReady;
  view.places = {{"/media/stick", "STICK 1"}, {"/media/card", "CARD"}};
  return view;
}

flow::DaysEndView days_end_failed() {
  flow::DaysEndView view = days_end_sealed();
  view.copy.state = flow::StepState::kFailed;
  view.copy.place = "STICK 1";
  view.copy.error = Error{ErrorKind::kIo, "cannot write: No space left on device",
                          "/media/stick/" + view.seal.file_name, "free some space, then try again"};
  return view;
}

flow::DaysEndView days_end_not_sealed() {
  flow::DaysEndView view = days_end_open();
  view.seal.state = flow::StepState::kFailed;
  view.seal.error = Error{ErrorKind::kDamaged,
                          "stream 0195d742-4780-70b3-8382-e8f4c396979f, record 412: its digest "
                          "does not hold (and 3 more: ledger-check)",
                          "/home/field/ligule.ledger",
                          "leave the file as it is; rebuild a ledger from its season files"};
  return view;
}

flow::DaysEndView days_end_copied() {
  flow::DaysEndView view = days_end_sealed();
  view.copy.state = flow::StepState::kDone;
  view.copy.place = "STICK 1";
  return view;
}

}  // namespace ligule::screens::tests
