#include "app/screens/screens.h"

#include <variant>

#include "app/screens/pen.h"

namespace ligule::screens {
namespace {

struct Drawer {
  const Pen& pen;
  void operator()(const flow::StartingView& view) const { draw_starting(pen, view); }
  void operator()(const flow::SignInView& view) const { draw_sign_in(pen, view); }
  void operator()(const flow::TodayView& view) const { draw_today(pen, view); }
  void operator()(const flow::RateView& view) const { draw_rate(pen, view); }
  void operator()(const flow::HarvestView& view) const { draw_harvest(pen, view); }
  void operator()(const flow::DryView& view) const { draw_dry(pen, view); }
  void operator()(const flow::SortingView& view) const { draw_sorting(pen, view); }
  void operator()(const flow::ReviewView& view) const { draw_review(pen, view); }
  void operator()(const flow::TrialsView& view) const { draw_trials(pen, view); }
  void operator()(const flow::DaysEndView& view) const { draw_days_end(pen, view); }
  void operator()(const flow::TabletView& view) const { draw_tablet(pen, view); }
  void operator()(const flow::PracticeView& view) const { draw_practice(pen, view); }
};

}  // namespace

void draw(touch::Ui& ui, const Language& words, const flow::View& view,
          const flow::Overlay& overlay, Scratch& scratch, std::vector<flow::Intent>& out) {
  const Pen pen{ui, words, scratch, out, overlay.notice};
  std::visit(Drawer{pen}, view);
  draw_notice_card(pen);
  draw_overlay(pen, overlay);
}

}  // namespace ligule::screens
