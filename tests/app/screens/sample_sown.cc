// A plot that is not what was planned, and sticks that bring plans.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {

flow::RateView stated_rate() {
  flow::RateView view = sample_rate(1);
  view.stands.stated = AsSownStatus::kHolds;
  return view;
}

flow::TrialsView abandoned_plot() {
  flow::TrialsView view = sown_form(false);
  auto& form = std::get<flow::SownFormView>(view.page);
  form.stated = AsSownStatus::kAbandoned;
  form.stated_since = "2026-04-02";
  return view;
}

flow::Overlay abandoned_overlay() {
  flow::Overlay overlay;
  overlay.notice = flow::NoticeView{{"notice.abandoned", {"214", "2026-04-02"}}, std::nullopt};
  return overlay;
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
  if (!empty) view.stick.older = {"TF24-april"};
  return view;
}

flow::Overlay good_notice_overlay() {
  flow::Overlay overlay;
  overlay.notice =
      flow::NoticeView{{"notice.plans_kept", {"AL26, OG26, SS26, TF26"}}, std::nullopt, true};
  return overlay;
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

flow::TrialsView older_plan(bool here) {
  flow::TrialsView view = plan_checked();
  auto& page = std::get<flow::PlanCheckedView>(view.page);
  page.can_load = false;
  page.revision = true;
  page.held = page.older = here;
  if (here) return view;
  page.newer = "/media/kv/STICK/TF26-june";
  page.newer_name = "TF26-june";
  return view;
}

flow::TrialsView two_revisions() {
  flow::TrialsView view = plan_revision();
  auto& reasons = std::get<flow::PlanCheckedView>(view.page).reasons;
  reasons.insert(reasons.begin(), "a stake was misread");
  return view;
}

flow::TrialsView plan_revision() {
  flow::TrialsView view = plan_checked();
  auto& page = std::get<flow::PlanCheckedView>(view.page);
  page.revision = true;
  page.reasons = {"a third cutting, and two entries were named"};
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
