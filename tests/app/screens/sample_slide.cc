// The Slide screen over an invented lane.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {
namespace {

using flow::Mark;
using flow::SlideCell;

std::vector<SlideCell> rated(int n) {
  if (n == 7) return {{"percent_stand", "", Mark::kLater}, {"seedling_vigor", "", Mark::kLater}};
  return {{"percent_stand", std::to_string(40 + n * 17 % 61), Mark::kKept},
          {"seedling_vigor", std::to_string(1 + n % 5), Mark::kKept},
          {"maturity", "R" + std::to_string(n % 5), Mark::kKept},
          {"stubble_height", "3.5", Mark::kKept}};
}

std::vector<SlideCell> weighed(int n) {
  return {{"gross_weight", std::to_string(30 + n) + ".25", n == 3 ? Mark::kOnHold : Mark::kKept},
          {"tare_weight", "2.1", Mark::kKept},
          {"bag_number", std::to_string(101 + n), Mark::kKept},
          {"sample_fresh", std::to_string(480 + n * 7), Mark::kKept},
          {"sample_dry", std::to_string(120 + n * 2), Mark::kKept}};
}

// 24 plots, the first `rated` of which hold something; the run is `first` to `last`.
flow::SlideView lane(bool cutting, int held, int first, int last, int by) {
  flow::SlideView view;
  view.by = by;
  view.first_in_run = static_cast<std::size_t>(first);
  for (int n = 0; n < 24; ++n) {
    flow::SlideRow row;
    row.plot = std::to_string(n < 12 ? 101 + n : 236 - n);
    row.turn = n == 12;
    if (n < held) row.now = cutting ? weighed(n) : rated(n);
    view.rows.push_back(std::move(row));
  }
  view.from = view.rows[static_cast<std::size_t>(first)].plot;
  view.to = view.rows[static_cast<std::size_t>(last)].plot;
  for (auto& row : view.rows) row.then = row.now;
  for (int n = first; n <= last; ++n) {
    auto& row = view.rows[static_cast<std::size_t>(n)];
    row.in_run = true;
    if (by == 0) continue;
    row.changed = true;
    const int from = n - by;
    row.then.clear();
    if (from >= first && from <= last) row.then = view.rows[static_cast<std::size_t>(from)].now;
    const int to = n + by;
    row.lost = to < 0 || to >= 24;
    if (row.lost) {
      view.lost.push_back({row.plot, row.now});
    } else {
      row.goes_to = static_cast<std::size_t>(to);
      auto& there = view.rows[static_cast<std::size_t>(to)];
      there.then = row.now;
      there.changed = true;
    }
  }
  view.can_do = by != 0;
  return view;
}

flow::ReviewView on_review(flow::SlideView page) {
  flow::ReviewView view;
  view.head = sample_head();
  view.trial_code = "TF24";
  view.occasion = "2026-after-cut-1";
  view.page = std::move(page);
  return view;
}

}  // namespace

flow::ReviewView slide_on() {
  flow::SlideView page = lane(false, 12, 2, 11, 1);
  page.can_take_back = true;
  return on_review(std::move(page));
}

flow::ReviewView slide_off() {
  return on_review(lane(true, 24, 0, 23, -2));
}

flow::ReviewView slide_refused() {
  flow::SlideView page = lane(false, 12, 2, 11, 1);
  page.problem = flow::Words{"slide.not_measured", {"224"}};
  page.problem_measure = "maturity";
  page.can_do = false;
  return on_review(std::move(page));
}

flow::ReviewView slide_begun() {
  return on_review(lane(false, 12, 0, 11, 0));
}

}  // namespace ligule::screens::tests
