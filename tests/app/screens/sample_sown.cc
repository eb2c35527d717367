// A plot that is not what was planned, and sticks that bring plans.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {

flow::RateView stated_rate() {
  flow::RateView view = sample_rate(1);
  view.stands.stated = AsSownStatus::kHolds;
  return view;
}

flow::HarvestView stated_weighing() {
  flow::HarvestView view = weighing(flow::Field::kGross);
  std::get<flow::WeighingView>(view.step).stands.stated = AsSownStatus::kReseeded;
  return view;
}

flow::TodayView stick_today(bool empty) {
  flow::TodayView view = empty ? empty_today() : busy_today();
  view.stick = {{"AL26", "OG26", "PR26", "SS26", "TF26"}, {}, 0, true};
  if (!empty) view.stick.changed = {"TF24"};
  if (!empty) view.stick.faulty = 2;
  return view;
}

flow::TodayView nothing_due_today() {
  flow::TodayView view = busy_today();
  view.due.erase(view.due.begin(), view.due.begin() + 3);
  view.due.front().entries = 11;
  view.due.front().of_entries = 24;
  return view;
}

flow::TrialsView stick_trials() {
  flow::TrialsView view = trials_list();
  auto& list = std::get<flow::TrialListView>(view.page);
  list.stick = {{}, {"TF24"}, 1, false};
  return view;
}

flow::TrialsView plan_revision() {
  flow::TrialsView view = plan_checked();
  auto& page = std::get<flow::PlanCheckedView>(view.page);
  page.revision = true;
  page.reason = "a third cutting, and two entries were named";
  page.changes = {{"plan.change.new_occasions", {"2026-cut-3, 2026-fall-stand"}},
                  {"plan.change.no_occasions_with_values", {"2026-summer-stand"}},
                  {"plan.change.due", {"2026-cut-2", "2026-07-14"}},
                  {"plan.change.plot_entries", {"107, 214"}},
                  {"plan.change.entry_names", {"F3, F9"}},
                  {"plan.change.title", {"Tall fescue with endophyte, sown 2026"}},
                  {"plan.change.trial", {}}};
  return view;
}

}  // namespace ligule::screens::tests
