// What the tablet of these tests holds: definitions, and two trials at one site.
#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using date::day;
using date::month;
using date::year;

Scale scale(std::string code, ScaleKind kind, std::vector<std::string> units, double minimum,
            double maximum) {
  Scale made;
  made.code = std::move(code);
  made.kind = kind;
  made.units = std::move(units);
  made.minimum = minimum;
  made.maximum = maximum;
  made.definition = "for tests";
  made.source = "common practice, no source";
  return made;
}

Scale stepped_scale(std::string code, ScaleKind kind, std::vector<ScaleStep> steps) {
  Scale made;
  made.code = std::move(code);
  made.kind = kind;
  made.steps = std::move(steps);
  return made;
}

void add_plots(Plan& plan, const std::vector<std::vector<std::string>>& blocks) {
  int path = 0;
  for (std::size_t block = 0; block < blocks.size(); ++block) {
    for (std::size_t at = 0; at < blocks[block].size(); ++at) {
      PlanPlot plot;
      plot.block = static_cast<int>(block) + 1;
      plot.number = std::to_string(plot.block * 100 + static_cast<int>(at) + 1);
      plot.entry = blocks[block][at];
      plot.row = plot.block;
      plot.column = static_cast<int>(at) + 1;
      plot.path = ++path;
      plan.plots.push_back(plot);
    }
  }
}

PlanEntry entry(std::string code, std::string species, std::string variety) {
  PlanEntry made;
  made.code = std::move(code);
  made.species = std::move(species);
  made.variety = std::move(variety);
  return made;
}

Plan plan_with(const std::string& code) {
  Plan plan;
  plan.codes = {"ST", "HILL", code};
  plan.title = "Trial " + code;
  plan.site_name = "Hill";
  plan.field = "North";
  plan.sown = year{2024} / month{9} / day{10};
  plan.plot_length = {"20", "ft"};
  plan.plot_width = {"5", "ft"};
  plan.swath_length = {"18", "ft"};
  plan.swath_width = {"3", "ft"};
  plan.bag_tare = {"40", "g"};
  return plan;
}

}  // namespace

Definitions test_definitions() {
  Definitions definitions;
  Scale percent = scale("percent_stand", ScaleKind::kPercent, {"%"}, 0, 100);
  percent.step = 5;
  Scale stubble = scale("stubble_height", ScaleKind::kLength, {"in", "cm"}, 0, 24);
  stubble.step = 0.5;
  stubble.fine_step = 0.1;
  Scale label;
  label.code = "bag_number";
  label.kind = ScaleKind::kLabel;
  Scale note;
  note.code = "note";
  Scale parts = label;
  parts.code = "part_bag";
  parts.steps = {{"sown", 1, "sown"},
                 {"other_sown", 2, "other sown"},
                 {"grass_weed", 3, "grass weeds"},
                 {"broadleaf", 4, "broadleaf weeds"},
                 {"dead", 5, "dead"}};
  Scale weeds = percent;
  weeds.code = "weeds_by_eye";
  definitions.scales = {
      percent,
      stepped_scale("seedling_vigor", ScaleKind::kScore,
                    {{"1", 1, "weakest"}, {"2", 2, ""}, {"3", 3, ""}, {"4", 4, ""}, {"5", 5, ""}}),
      stepped_scale("maturity_grass", ScaleKind::kStages,
                    {{"E0", 2.0, "elongation"}, {"R0", 3.0, "boot"}}),
      stepped_scale("maturity_legume", ScaleKind::kStages, {{"3", 3, "bud"}, {"5", 5, "flower"}}),
      stubble,
      scale("plot_weight", ScaleKind::kMass, {"lb", "kg"}, 0, 200),
      scale("sample_weight", ScaleKind::kMass, {"g"}, 0, 5000),
      scale("swath_length", ScaleKind::kLength, {"ft", "m"}, 0, 200),
      scale("swath_width", ScaleKind::kLength, {"ft", "m"}, 0, 40),
      label,
      parts,
      weeds,
      note,
  };
  definitions.measures = {
      {"percent_stand", Subject::kPlot, {{"", "percent_stand"}}},
      {"seedling_vigor", Subject::kPlot, {{"", "seedling_vigor"}}},
      {"maturity", Subject::kPlot, {{"grass", "maturity_grass"}, {"legume", "maturity_legume"}}},
      {"stubble_height", Subject::kPlot, {{"", "stubble_height"}}},
      {"note", Subject::kPlot, {{"", "note"}}},
      {"gross_weight", Subject::kPlot, {{"", "plot_weight"}}},
      {"tare_weight", Subject::kPlot, {{"", "plot_weight"}}},
      {"swath_length", Subject::kPlot, {{"", "swath_length"}}},
      {"swath_width", Subject::kPlot, {{"", "swath_width"}}},
      {"bag_number", Subject::kPlot, {{"", "bag_number"}}},
      {"separated_fresh", Subject::kPlot, {{"", "sample_weight"}}},
      {"part_bag", Subject::kPlot, {{"", "part_bag"}}},
      {"weeds_by_eye", Subject::kPlot, {{"", "weeds_by_eye"}}},
      {"sample_fresh", Subject::kBag, {{"", "sample_weight"}}},
      {"sample_dry", Subject::kBag, {{"", "sample_weight"}}},
  };
  definitions.species = {{"tall_fescue", "Tall fescue", "grass", true},
                         {"alfalfa", "Alfalfa", "legume", false},
                         {"millet", "Millet", "annual", false}};
  return definitions;
}

Plan grass_plan() {
  Plan plan = plan_with("G1");
  plan.entries = {entry("A", "tall_fescue", "Alder Brook"), entry("B", "tall_fescue", "Birch Run"),
                  entry("C", "alfalfa", "Cedar Flat")};
  add_plots(plan, {{"A", "B", "C"}, {"C", "A", "B"}});
  plan.occasions = {
      {"stand",
       Job::kRate,
       2026,
       0,
       {"percent_stand", "seedling_vigor", "maturity", "stubble_height", "note"},
       year{2026} / month{5} / day{1}},
      {"cut1",
       Job::kHarvest,
       2026,
       1,
       {"gross_weight", "bag_number", "sample_fresh"},
       year{2026} / month{5} / day{4}},
      {"cut2", Job::kHarvest, 2026, 2, {}, year{2026} / month{6} / day{10}},
      {"late", Job::kRate, 2026, 0, {"percent_stand"}, std::nullopt},
  };
  return plan;
}

Plan wide_plan(const std::vector<std::string>& block_two) {
  Plan plan = grass_plan();
  plan.codes.trial = "W1";
  plan.plots.clear();
  for (const char* const code : {"D", "E", "F", "G", "H"})
    plan.entries.push_back(entry(code, "tall_fescue", "Hill " + std::string(code)));
  add_plots(plan, {{"A", "B", "C", "D", "E", "F", "G", "H"}, block_two});
  return plan;
}

Plan annual_plan() {
  Plan plan = plan_with("A1");
  plan.entries = {entry("M", "millet", "Maple Ridge")};
  add_plots(plan, {{"M", "M"}});
  plan.occasions = {{"vigor",
                     Job::kRate,
                     2026,
                     0,
                     {"seedling_vigor", "maturity"},
                     year{2026} / month{5} / day{20}}};
  return plan;
}

}  // namespace ligule::flow
