// Rating cards of the measures that have a pad of their own kind.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {
namespace {

// A card with one measure, as an occasion of its own has it.
flow::RateView one_measure(flow::MeasureView measure) {
  flow::RateView view = sample_rate(0);
  view.occasion = "2026-spring";
  view.measures = {std::move(measure)};
  return view;
}

}  // namespace

flow::RateView score_rate(const std::string& scale, int steps) {
  flow::MeasureView measure;
  measure.measure = measure.scale = scale;
  measure.kind = ScaleKind::kScore;
  measure.direction = Direction::kLowIsBest;
  for (int step = 1; step <= steps; ++step) {
    const std::string code = std::to_string(step);
    const std::string word = "scale." + scale + "." + code;
    measure.choices.push_back({code, english().has(word) ? word : "", static_cast<double>(step)});
  }
  return one_measure(std::move(measure));
}

namespace {

flow::MeasureView on_pad(const std::string& code, ScaleKind kind, flow::PadKind pad) {
  flow::MeasureView measure;
  measure.measure = measure.scale = code;
  measure.kind = kind;
  measure.pad = pad;
  return measure;
}

}  // namespace

flow::RateView height_rate(bool kept) {
  flow::MeasureView measure =
      on_pad("plant_height_stretched", ScaleKind::kLength, flow::PadKind::kAmount);
  measure.unit = "in";
  flow::GatherView gather;
  gather.wanted = 3;
  if (kept) {
    measure.shown = gather.mean = "24.3";
    measure.mark = flow::Mark::kKept;
  } else {
    gather.readings = {"24", "22.5"};
    gather.can_drop = true;
    measure.typed = "25.5";
  }
  measure.gather = gather;
  return one_measure(std::move(measure));
}

flow::RateView cover_rate() {
  flow::MeasureView measure = on_pad("ground_cover", ScaleKind::kShares, flow::PadKind::kShares);
  measure.unit = "%";
  for (int percent = 0; percent <= 100; percent += 5)
    measure.choices.push_back(
        {std::to_string(percent), "", static_cast<double>(percent), false, percent <= 40});
  flow::GatherView gather;
  gather.parts = {{"sown", "scale.ground_cover.sown", "60"},
                  {"weed", "scale.ground_cover.weed", "", false, true},
                  {"bare", "scale.ground_cover.bare", ""}};
  gather.step = "5";
  gather.can_drop = true;
  measure.gather = gather;
  return one_measure(std::move(measure));
}

flow::RateView cover_full_rate() {
  flow::RateView view = cover_rate();
  flow::MeasureView& measure = view.measures.front();
  for (flow::ChoiceView& choice : measure.choices) choice.enabled = true;
  measure.gather->parts[0].active = true;
  measure.gather->parts[1] = {"weed", "scale.ground_cover.weed", "25"};
  measure.gather->parts[2] = {"bare", "scale.ground_cover.bare", "15", true};
  measure.gather->can_keep = true;
  return view;
}

flow::RateView counts_rate(bool legume) {
  const std::string code = legume ? "stage_counts_legume" : "stage_counts_grass";
  flow::MeasureView measure = on_pad("stage_counts", ScaleKind::kCounts, flow::PadKind::kCounts);
  measure.scale = code;
  flow::GatherView gather;
  int n = 0;
  for (const flow::ChoiceView& stage : (legume ? legume_stages("") : grass_stages("")).choices) {
    const bool seen = n > 1 && n < 6;
    gather.parts.push_back({.code = stage.entered,
                            .word = "scale." + code + "." + stage.entered,
                            .number = seen ? std::to_string(4 * n) : std::string(),
                            .value = stage.value});
    ++n;
  }
  gather.counted = 56;
  gather.mean = "2.97";
  gather.can_keep = gather.can_drop = true;
  measure.gather = gather;
  return one_measure(std::move(measure));
}

flow::RateView frame_rate(bool kept) {
  flow::MeasureView measure = on_pad("frequency_grid", ScaleKind::kCells, flow::PadKind::kCells);
  measure.unit = "%";
  flow::GatherView gather;
  gather.wanted = 4;
  gather.columns = 5;
  if (kept) {
    measure.shown = gather.mean = "70";
    measure.mark = flow::Mark::kKept;
    gather.readings = {"15", "14", "20", "21"};
    gather.plants = "28";
    gather.factor = "0.4";
  } else {
    gather.readings = {"15", "14"};
    for (int n = 0; n < 25; ++n) gather.cells.push_back(n % 3 != 1 && n != 12);
    gather.counted = 16;
    gather.can_keep = gather.can_drop = true;
  }
  measure.gather = gather;
  return one_measure(std::move(measure));
}

flow::RateView heading_rate(int plots) {
  flow::MeasureView measure = on_pad("heading_date", ScaleKind::kReached, flow::PadKind::kReached);
  measure.shown = "31/96";
  flow::VisitsView visits;
  visits.blocks = {1, 2, 3, 4};
  visits.block = 2;
  for (int n = 1; n <= plots; ++n) {
    const bool before = n % 5 == 1;
    const bool today = !before && n % 4 == 2;
    visits.plots.push_back({std::to_string(200 + n), before || today, today || n % 7 == 3});
    if (!before && !visits.plots.back().today) ++visits.unsaid;
  }
  measure.visits = visits;
  return one_measure(std::move(measure));
}

flow::RateView own_score_rate() {
  flow::RateView view = score_rate("texture", 9);
  flow::MeasureView& measure = view.measures.front();
  measure.own_name = "Leaf texture";
  measure.own_definition = "How harsh leaves feel drawn through the hand";
  measure.choices.front().word = "soft";
  measure.choices.back().word = "harsh";
  return view;
}

}  // namespace ligule::screens::tests
