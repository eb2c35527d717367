// Plans with one fault each: what tests of reading plans, and of showing what is wrong, try.
#pragma once

#include <functional>
#include <utility>
#include <vector>

#include "storage/trial/plan.h"

namespace ligule::files {

// sample_plan() spoilt, and part of the one fault that check_plan() then finds.
struct SpoiltPlan {
  const char* name;
  std::function<void(Plan&)> spoil;
  const char* wanted;
};
[[nodiscard]] inline std::vector<SpoiltPlan> spoilt_plans() {
  return {
      {"station", [](Plan& p) { p.codes.station = "a b"; },
       "'a b' cannot be the code of a station"},
      {"site", [](Plan& p) { p.codes.site = ""; }, "'' cannot be the code of a site"},
      {"trial", [](Plan& p) { p.codes.trial = ".x"; }, "'.x' cannot be the code of a trial"},
      {"zone", [](Plan& p) { p.zone = "Nowhere/Town"; }, "'Nowhere/Town' is not a time zone"},
      {"design", [](Plan& p) { p.design = "split"; }, "'split' is not a design"},
      {"plot not a number",
       [](Plan& p) {
         p.plot_length = {"long", "ft"};
       },
       "trial TF24: plot_length: 'long' is not a number"},
      {"plot without unit",
       [](Plan& p) {
         p.plot_width = {"5", ""};
       },
       "plot_width: '' is not a unit"},
      {"plot of nothing",
       [](Plan& p) {
         p.plot_width = {"0", "ft"};
       },
       "plot_width is not above zero"},
      {"swath unit",
       [](Plan& p) {
         p.swath_width = {"3", "yd"};
       },
       "swath_width: 'yd' is not a unit"},
      {"swath longer",
       [](Plan& p) {
         p.swath_length = {"20.01", "ft"};
       },
       "swath_length is larger than plot_length"},
      {"swath wider, other unit",
       [](Plan& p) {
         p.swath_width = {"1.53", "m"};
       },
       "swath_width is larger than plot_width"},
      {"swath empty", [](Plan& p) { p.swath_length = {}; },
       "swath_length is empty, but a harvest is planned"},
      {"tare unit",
       [](Plan& p) {
         p.bag_tare = {"12", "stone"};
       },
       "bag_tare: 'stone' is not a unit"},
      {"tare zero",
       [](Plan& p) {
         p.bag_tare = {"0", "g"};
       },
       "bag_tare is not above zero"},
      {"parts without the whole", [](Plan& p) { p.occasions[1].measures.emplace_back("part_bag"); },
       "occasion 2025-cut-1: a separated sample is its whole and the bags of its parts"},
      {"separated where nothing is cut",
       [](Plan& p) {
         for (const char* measure : {"separated_fresh", "part_bag"})
           p.occasions[0].measures.emplace_back(measure);
       },
       "a sample is separated of what was cut, and nothing is cut here"},
      {"tare missing", [](Plan& p) { p.bag_tare = {}; },
       "occasion 2025-cut-1: samples are weighed, but the weight of an empty bag is nowhere"},
      {"revision without reason", [](Plan& p) { p.parent = std::string(64, 'a'); },
       "a revision needs a reason"},
      {"reason without revision", [](Plan& p) { p.reason = "typing error"; },
       "a reason is given, but no plan"},
      {"entry code",
       [](Plan& p) {
         p.entries[2].code = "C!";
         for (auto& x : p.plots)
           if (x.entry == "C") x.entry = "C!";
       },
       "entry C!: 'C!' cannot be the code of an entry"},
      {"same label",
       [](Plan& p) {
         p.entries[1].endophyte = Endophyte::kNovel;
         p.entries[1].strain = "AX1";
       },
       "entry B: 'Alder Brook (novel AX1)' is entry A already"},
      {"species", [](Plan& p) { p.entries[0].species = "tall_fescu"; },
       "entry A: species 'tall_fescu' is not known"},
      {"endophyte of timothy", [](Plan& p) { p.entries[1].species = "timothy"; },
       "entry B: timothy has no endophyte status"},
      {"strain of nothing", [](Plan& p) { p.entries[1].strain = "AX1"; },
       "entry B: a strain is stated, but no endophyte"},
      {"plot code", [](Plan& p) { p.plots[0].number = "1/2"; },
       "'1/2' cannot be the code of a plot"},
      {"path from 0", [](Plan& p) { p.plots[0].path = 0; },
       "plot 101: block, row, column and path count"},
      {"plot twice", [](Plan& p) { p.plots[1].number = "101"; },
       "plot 101 stands twice (first at plot 101"},
      {"one place", [](Plan& p) { p.plots[1].column = 1; },
       "plot 102: plot 102 lies at row 1, column 1 like plot 101"},
      {"one step", [](Plan& p) { p.plots[1].path = 1; },
       "plot 102: plot 102 is step 1 of the path like plot 101"},
      {"unplanted entry",
       [](Plan& p) {
         p.entries.push_back(
             {"D", "tall_fescue", "Dell", Endophyte::kFree, "", EntryRole::kTest, ""});
       },
       "entry D: entry D stands in no plot"},
      {"block misses an entry", [](Plan& p) { p.plots[0].block = 3; },
       "entry C: entry C is missing from block 1"},
      {"square, twice in a row",
       [](Plan& p) {
         p.design = "latin";
         p.plots[0].entry = p.plots[1].entry;
       },
       "entry A stands twice in row 1 (first at plot 101; mend the plots"},
      {"square, twice in a column",
       [](Plan& p) {
         p.design = "latin";
         std::swap(p.plots[0].entry, p.plots[1].entry);
       },
       " stands twice in column 1 (first at plot 101; mend the plots"},
      {"square of fewer rows",
       [](Plan& p) {
         p.design = "latin";
         p.plots.resize(6);
       },
       "a Latin square has as many rows and columns as entries, but there are 3 entries, 2 rows "
       "and "
       "3 columns"},
      {"square with a hole",
       [](Plan& p) {
         p.design = "latin";
         p.plots.pop_back();
       },
       " is missing from row 3 (mend the plots, or state design rcb or crd"},
      {"occasion twice", [](Plan& p) { p.occasions[3].code = "2025-spring-stand"; },
       "occasion 2025-spring-stand stands twice"},
      {"occasion code", [](Plan& p) { p.occasions[3].code = "spring stand"; },
       "'spring stand' cannot be the code of an occasion"},
      {"harvest without cutting", [](Plan& p) { p.occasions[2].cutting = 0; },
       "occasion 2025-cut-2: a harvest needs the number of its cutting"},
      {"rating with cutting", [](Plan& p) { p.occasions[0].cutting = 1; },
       "a rating has no cutting"},
      {"composite without bags", [](Plan& p) { p.occasions[2].sample_of = SampleOf::kEntry; },
       "occasion 2025-cut-2: sample_of says what a bag stands for, but no bag is numbered"},
      {"hours of a cutting", [](Plan& p) { p.occasions[2].hours_after_turn_in = "4"; },
       "occasion 2025-cut-2: hours after turn-in are of a rating of grazed plots"},
      {"no hours", [](Plan& p) { p.occasions[0].hours_after_turn_in = "0"; },
       "occasion 2025-spring-stand: '0' hours after turn-in are not above zero"},
      {"hours in words", [](Plan& p) { p.occasions[0].hours_after_turn_in = "a day"; },
       "'a day' hours after turn-in are not above zero"},
      {"cut of nobody",
       [](Plan& p) {
         p.occasions[2].entries = {"A", "Z"};
       },
       "occasion 2025-cut-2: entry 'Z' is not among the entries"},
      {"cut of one twice",
       [](Plan& p) {
         p.occasions[2].entries = {"A", "A"};
       },
       "occasion 2025-cut-2: entry A stands twice"},
      {"cutting twice", [](Plan& p) { p.occasions[2].cutting = 1; },
       "occasion 2025-cut-2: cutting 1 of 2025 stands twice"},
      {"cutting skipped", [](Plan& p) { p.occasions[2].cutting = 3; },
       "cutting 3 of 2025 stands without cutting 2"},
      {"first cutting missing", [](Plan& p) { p.occasions[2].year = 2026; },
       "cutting 2 of 2026 stands without cutting 1"},
      {"nothing recorded", [](Plan& p) { p.occasions[3].measures.clear(); },
       "occasion 2024-vigor: nothing is to be recorded"},
      {"measure twice",
       [](Plan& p) {
         p.occasions[3].measures = {"note", "note"};
       },
       "measure note stands twice"},
      {"measure unknown", [](Plan& p) { p.occasions[3].measures = {"smell"}; },
       "measure 'smell' is not known"},
      {"harvest without weight", [](Plan& p) { p.occasions[2].measures = {"note"}; },
       "a harvest without gross_weight gives no yield"},
      {"year before sowing", [](Plan& p) { p.occasions[3].year = 2023; }, "its year lies before"},
      {"due before sowing", [](Plan& p) { p.occasions[3].due = date::year{2024} / 9 / 2; },
       "it is due on 2024-09-02, before the trial was sown on 2024-09-03"},
  };
}

// The first occurrence of a text in a table of sample_plan()'s folder replaced by another, and part
// of the one fault that is then found.
struct BadCell {
  const char* table;
  const char* from;
  const char* to;
  const char* wanted;
};
[[nodiscard]] inline std::vector<BadCell> bad_cells() {
  return {
      {"trial.csv", "2024-09-03", "3/9/2024",
       "trial.csv line 2, column sown: '3/9/2024' is not a date"},
      {"trial.csv", ",true,", ",yes,", "trial.csv line 2, column drilled: 'yes'"},
      {"trial.csv", ",rcb,", ",lattice,",
       "trial.csv line 2, column design: 'lattice' is not one of: rcb, crd, latin"},
      {"trial.csv", "20,ft", "20,yd", "trial.csv line 2, column plot_length_unit: 'yd'"},
      {"trial.csv", "HILL", "HI LL", "trial.csv line 2, column station: 'HI LL' cannot stand here"},
      {"entries.csv", ",free,", ",none,", "entries.csv line 3, column endophyte: 'none'"},
      {"entries.csv", "2024-06-28,", "June,", "entries.csv line 2, column seed_harvested: 'June'"},
      {"entries.csv", "2024-06-28,", "2024-06-28,101",
       "entries.csv line 2, column germination: '101'"},
      {"entries.csv", "2024-06-28,,", "2024-06-28,,-1",
       "entries.csv line 2, column hard_seed: '-1'"},
      {"entries.csv", "2024-06-28,,,", "2024-06-28,,,pure",
       "entries.csv line 2, column purity: 'pure'"},
      {"entries.csv", ",2024-06-28,", "2024-02-30,2024-06-28,",
       "entries.csv line 2, column endophyte_tested: '2024-02-30'"},
      {"entries.csv", "L1,,", "L1,100.5,", "entries.csv line 2, column endophyte_percent: '100.5'"},
      {"entries.csv", ",check,", ",chek,", "entries.csv line 4, column role: 'chek'"},
      {"entries.csv", "Old Mill", "", "entries.csv line 4, column variety: the cell is empty"},
      {"plots.csv", "101,1,C,1,1,1", "101,1,C,1,1,",
       "plots.csv line 2, column path: the cell is empty"},
      {"plots.csv", "101,1,C,1,1,1", "101,1,C,-1,1,1",
       "plots.csv line 2, column row: '-1' is out of range"},
      {"plots.csv", "101,1,C", "101,0,C",
       "plots.csv line 2, column block: '0' is out of range (enter 1 to 999)"},
      {"plots.csv", "101,1,C,1,1,1", "101,99999999999999,C,1,1,1",
       "column block: '99999999999999' is out of range"},
      {"occasions.csv", ",rate,2025", ",look,2025", "occasions.csv line 2, column job: 'look'"},
      {"occasions.csv", "2025-05-20", "20 May",
       "occasions.csv line 3, column due: '20 May' is not a date"},
      {"occasions.csv", "percent_stand maturity", "percent_stand;maturity", "column measures"},
  };
}

}  // namespace ligule::files
