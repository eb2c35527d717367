// Sorting samples by hand in its states.
#include <string>

#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {
namespace {

flow::SortingView sorting() {
  flow::SortingView view;
  view.head = sample_head();
  view.trial_code = "TF24";
  view.year = 2026;
  view.cutting = 2;
  view.can_take_back = true;
  return view;
}

flow::SortingView on_table() {
  flow::SortingView view = sorting();
  view.plot = "1107";
  view.parts = {{0, "sort.whole", flow::Mark::kKept, false, "", "412.6\u00a0g", false},
                {1, "scale.part_bag.sown", flow::Mark::kKept, false, "131", "251.4\u00a0g", false},
                {2, "scale.part_bag.other_sown", flow::Mark::kKept, true, "", "", false},
                {3, "scale.part_bag.grass_weed", flow::Mark::kQuestioned, false, "132",
                 "104.2\u00a0g", false},
                {4, "scale.part_bag.broadleaf", flow::Mark::kOpen, false, "", "", true},
                {5, "scale.part_bag.dead", flow::Mark::kOpen, false, "", "", false}};
  return view;
}

}  // namespace

flow::SortingView sorting_plots() {
  flow::SortingView view = sorting();
  for (int n = 1; n <= 96; ++n) {
    flow::SortPlotRow row;
    row.plot = std::to_string((n - 1) / 24 * 100 + 1101 + (n - 1) % 24);
    row.begun = n < 5;
    row.whole = n < 4;
    row.stated = n < 4 ? 5 : (n == 4 ? 3 : 0);
    row.mark = n == 2 ? flow::Mark::kOnHold : (n < 5 ? flow::Mark::kKept : flow::Mark::kOpen);
    view.plots.push_back(row);
  }
  view.fields = {{flow::Field::kSortPlot, "", "", true}};
  view.begun = 1;
  view.whole = 3;
  return view;
}

flow::SortingView sorting_part() {
  flow::SortingView view = on_table();
  view.fields = {{flow::Field::kSortBag, "133", "", false},
                 {flow::Field::kSortFresh, "104.2", "g", true}};
  view.open = 2;
  view.can_say_none = true;
  view.can_keep = true;
  return view;
}

flow::SortingView sorting_whole() {
  flow::SortingView view = on_table();
  for (flow::PartRow& part : view.parts) {
    part = {part.part, part.word, flow::Mark::kOpen, false, "", "", part.part == 0};
  }
  view.fields = {{flow::Field::kSortWhole, "", "g", true}};
  view.open = 6;
  view.can_take_back = false;
  return view;
}

flow::SortingView sorting_done() {
  flow::SortingView view = on_table();
  view.parts[4] = {4, view.parts[4].word, flow::Mark::kKept, false, "133", "96.0\u00a0g", false};
  view.parts[5] = {5, view.parts[5].word, flow::Mark::kKept, true, "", "", false};
  view.percent = "97.9";
  return view;
}

flow::DryView dry_cuttings() {
  flow::DryView view = dry_many();
  view.cuttings = {{{}, {}, "TF24", 2026, 2, true},
                   {{}, {}, "TF24", 2026, 1, false},
                   {{}, {}, "SS26", 2026, 1, false}};
  for (std::size_t n = 0; n < view.cuttings.size(); ++n)
    view.cuttings[n].occasion.uuid.bytes[15] = static_cast<std::uint8_t>(n + 1);
  return view;
}

flow::HarvestView weeds_weighing() {
  flow::HarvestView view = weighing(flow::Field::kGross);
  auto& step = std::get<flow::WeighingView>(view.step);
  step.page = flow::PlotPage::kWeeds;
  step.swath = {{flow::Field::kWeedsByEye, "15", "%", true}};
  return view;
}

flow::RateView weeds_rate() {
  flow::RateView view = sample_rate(0);
  flow::MeasureView& weeds = view.measures.front();
  weeds.measure = weeds.scale = "weeds_by_eye";
  weeds.direction = Direction::kLowIsBest;
  view.measures.resize(1);
  return view;
}

}  // namespace ligule::screens::tests
