#include "storage/files/plan_check.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "storage/files/design_check.h"
#include "storage/files/entry_check.h"
#include "storage/files/zone.h"
#include "storage/trial/number.h"
#include "storage/trial/record.h"

namespace ligule::files {
namespace {

// One check over one plan; each member function looks at one part.
class PlanCheck {
 public:
  PlanCheck(const Plan& plan, const Definitions& definitions, const PlanPlaces& places)
      : plan_(plan), definitions_(definitions), places_(places) {}

  void trial();
  void entries();
  void plots();
  void blocks();
  void square();
  void design();
  void occasions();
  void cuttings();
  void scores();

  [[nodiscard]] PlanFindings take() { return std::move(found_); }

 private:
  using Places = std::vector<std::string>;

  void fault(std::string where, std::string what, std::string mend) {
    add_fault(found_.faults,
              {ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)});
  }
  void notice(std::string where, std::string what, std::string mend) {
    found_.notices.push_back(
        {ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)});
  }
  void take_findings(PlanFindings more) {
    std::ranges::move(more.faults, std::back_inserter(found_.faults));
    std::ranges::move(more.notices, std::back_inserter(found_.notices));
  }
  static std::string place(const Places& places, std::size_t index, const std::string& name) {
    return index < places.size() ? places[index] : name;
  }
  [[nodiscard]] std::string trial_place() const {
    return places_.trial.empty() ? "trial " + plan_.codes.trial : places_.trial;
  }
  [[nodiscard]] std::string entry_place(std::size_t i) const {
    return place(places_.entries, i, "entry " + plan_.entries[i].code);
  }
  [[nodiscard]] std::string plot_place(std::size_t i) const {
    return place(places_.plots, i, "plot " + plan_.plots[i].number);
  }
  [[nodiscard]] std::string occasion_place(std::size_t i) const {
    return place(places_.occasions, i, "occasion " + plan_.occasions[i].code);
  }

  [[nodiscard]] std::string score_place(std::size_t i) const {
    return place(places_.scores, i, "score " + plan_.scores[i].code);
  }

  void code(const std::string& text, const char* what, const std::string& where) {
    if (is_code(text)) return;
    fault(where, "'" + text + "' cannot be the code of " + what,
          "use 1 to 32 letters, digits, underscore, point or hyphen, not starting with a point");
  }
  std::optional<double> size(const StatedLength& length, const char* name);
  void swath(const StatedLength& swath, const StatedLength& plot, const char* swath_name,
             const char* plot_name);
  void measures(std::size_t i);
  void entries_of(std::size_t i);
  void grazed(std::size_t i);
  void scales(std::size_t i, const std::string& name);
  void ends(std::size_t i);
  void time(std::size_t i);
  [[nodiscard]] bool has(const PlanOccasion& occasion, std::string_view measure) const {
    return std::ranges::find(occasion.measures, measure) != occasion.measures.end();
  }

  const Plan& plan_;
  const Definitions& definitions_;
  const PlanPlaces& places_;
  PlanFindings found_;
};

// Metres; noted and empty when the size cannot be read or is not above zero.
std::optional<double> PlanCheck::size(const StatedLength& length, const char* name) {
  const auto metres = length.metres();
  if (!metres) {
    fault(trial_place(), std::string(name) + ": " + metres.error().what, metres.error().mend);
    return std::nullopt;
  }
  if (metres->value() > 0) return metres->value();
  fault(trial_place(), std::string(name) + " is not above zero", "measure it");
  return std::nullopt;
}

void PlanCheck::swath(const StatedLength& swath, const StatedLength& plot, const char* swath_name,
                      const char* plot_name) {
  const bool harvested = std::ranges::any_of(
      plan_.occasions, [](const PlanOccasion& o) { return o.job == Job::kHarvest; });
  const auto plot_size = size(plot, plot_name);
  if (swath == StatedLength{}) {
    if (harvested)
      fault(trial_place(), std::string(swath_name) + " is empty, but a harvest is planned",
            "yields are per harvested area: state it");
    return;
  }
  const auto swath_size = size(swath, swath_name);
  if (plot_size && swath_size && *swath_size > *plot_size)
    fault(trial_place(), std::string(swath_name) + " is larger than " + plot_name,
          "a swath lies within its plot: mend one of them");
}

void PlanCheck::trial() {
  code(plan_.codes.station, "a station", trial_place());
  code(plan_.codes.site, "a site", trial_place());
  code(plan_.codes.trial, "a trial", trial_place());
  if (!is_zone(plan_.zone))
    fault(trial_place(), "'" + plan_.zone + "' is not a time zone",
          "use a name such as America/New_York");
  if (!plan_.sown.ok()) fault(trial_place(), "the sowing date does not exist", "write YYYY-MM-DD");
  if (std::ranges::find(kDesigns, plan_.design) == kDesigns.end())
    fault(trial_place(), "'" + plan_.design + "' is not a design",
          "use rcb, crd, latin, alpha or row_column");
  swath(plan_.swath_length, plan_.plot_length, "swath_length", "plot_length");
  swath(plan_.swath_width, plan_.plot_width, "swath_width", "plot_width");
  if (!(plan_.bag_tare == StatedMass{})) {
    if (const auto tare = plan_.bag_tare.kilograms(); !tare)
      fault(trial_place(), "bag_tare: " + tare.error().what, tare.error().mend);
    else if (!(tare->value() > 0))
      fault(trial_place(), "bag_tare is not above zero", "weigh an empty bag, or leave it empty");
  }
  if (!plan_.parent.empty() && plan_.reason.empty())
    fault(trial_place(), "a revision needs a reason", "say in 'reason' why the plan was changed");
  if (plan_.parent.empty() && !plan_.reason.empty())
    fault(trial_place(), "a reason is given, but no plan that this one revises",
          "name the plan in 'parent', or take the reason out");
}

void PlanCheck::entries() {
  if (plan_.entries.empty() && !places_.incomplete)
    fault(trial_place(), "the trial has no entries", "list them in entries.csv");
  std::map<std::string, std::size_t> codes;
  std::map<std::string, std::size_t> labels;
  for (std::size_t i = 0; i < plan_.entries.size(); ++i) {
    const PlanEntry& entry = plan_.entries[i];
    code(entry.code, "an entry", entry_place(i));
    if (const auto [at, fresh] = codes.emplace(entry.code, i); !fresh)
      fault(entry_place(i), "entry " + entry.code + " stands twice",
            "first at " + entry_place(at->second) + "; keep one of them");
    if (entry.role != EntryRole::kFiller) {
      const auto [at, fresh] = labels.emplace(entry.label(), i);
      if (!fresh && plan_.entries[at->second].code != entry.code)
        fault(entry_place(i),
              "'" + entry.label() + "' is entry " + plan_.entries[at->second].code + " already",
              "results could not tell the two apart: sow one entry in more plots, or name them "
              "apart");
    }
    if (definitions_.find_species(entry.species) == nullptr)
      fault(entry_place(i), "species '" + entry.species + "' is not known",
            "use a code of the program's species list, such as tall_fescue or alfalfa");
  }
  take_findings(check_seed(plan_, definitions_, places_));
}

void PlanCheck::plots() {
  if (plan_.plots.empty() && !places_.incomplete)
    fault(trial_place(), "the trial has no plots", "list them in plots.csv");
  std::map<std::string, std::size_t> numbers;
  std::map<std::pair<int, int>, std::size_t> ground;
  std::map<int, std::size_t> steps;
  for (std::size_t i = 0; i < plan_.plots.size(); ++i) {
    const PlanPlot& plot = plan_.plots[i];
    const auto other = [&](std::size_t first) { return "first at " + plot_place(first); };
    code(plot.number, "a plot", plot_place(i));
    if (plot.block < 1 || plot.row < 1 || plot.column < 1 || plot.path < 1)
      fault(plot_place(i), "block, row, column and path count from 1", "number them from 1");
    if (const auto [at, fresh] = numbers.emplace(plot.number, i); !fresh)
      fault(plot_place(i), "plot " + plot.number + " stands twice",
            other(at->second) + "; keep one of them");
    if (const auto [at, fresh] = ground.emplace(std::pair(plot.row, plot.column), i); !fresh)
      fault(plot_place(i),
            "plot " + plot.number + " lies at row " + std::to_string(plot.row) + ", column " +
                std::to_string(plot.column) + " like plot " + plan_.plots[at->second].number,
            other(at->second) + "; mend row or column");
    if (const auto [at, fresh] = steps.emplace(plot.path, i); !fresh)
      fault(plot_place(i),
            "plot " + plot.number + " is step " + std::to_string(plot.path) +
                " of the path like plot " + plan_.plots[at->second].number,
            other(at->second) + "; number the path anew");
    if (plan_.find_entry(plot.entry) == nullptr)
      fault(plot_place(i), "entry '" + plot.entry + "' of plot " + plot.number + " is not known",
            "add it to the entries, or mend the code");
  }
}

void PlanCheck::blocks() {
  if (places_.incomplete) return;
  std::set<int> blocks;
  std::map<std::pair<std::string, int>, std::vector<std::size_t>> standing;
  std::set<std::string> sown;
  for (std::size_t i = 0; i < plan_.plots.size(); ++i) {
    blocks.insert(plan_.plots[i].block);
    standing[{plan_.plots[i].entry, plan_.plots[i].block}].push_back(i);
    sown.insert(plan_.plots[i].entry);
  }
  const bool complete = plan_.design != "crd" && plan_.design != "latin";
  if (complete && blocks.size() == 1)
    notice(trial_place(), "there is one block only", "without repeats nothing can be compared");
  for (std::size_t e = 0; e < plan_.entries.size(); ++e) {
    const PlanEntry& entry = plan_.entries[e];
    if (!sown.contains(entry.code)) {
      if (entry.role != EntryRole::kFiller && !plan_.plots.empty())
        fault(entry_place(e), "entry " + entry.code + " stands in no plot",
              "sow it, or take it out of the entries");
      continue;
    }
    if (!complete || entry.role == EntryRole::kFiller) continue;
    for (const int block : blocks) {
      const auto at = standing.find({entry.code, block});
      const std::string number = std::to_string(block);
      if (at == standing.end())
        fault(entry_place(e), "entry " + entry.code + " is missing from block " + number,
              "complete blocks hold every entry: mend the plots, or state design crd");
      else if (at->second.size() > 1 && entry.role != EntryRole::kCheck)
        fault(plot_place(at->second[1]), "entry " + entry.code + " stands twice in block " + number,
              "first at " + plot_place(at->second[0]) +
                  "; mend the plots, or give the entry the role check");
    }
  }
}

// A Latin square: every entry once in each row and once in each column. Fillers may lie around it.
// Only the first departure is told: one plot out of place makes four.
void PlanCheck::square() {
  if (places_.incomplete || plan_.design != "latin") return;
  std::set<int> rows, columns;
  std::set<std::string> entries;
  std::map<std::pair<std::string, int>, std::size_t> in_row, in_column;
  const std::string mend = "mend the plots, or state design rcb or crd";
  for (std::size_t i = 0; i < plan_.plots.size(); ++i) {
    const PlanPlot& plot = plan_.plots[i];
    const PlanEntry* entry = plan_.find_entry(plot.entry);
    if (entry == nullptr) return;  // told already
    if (entry->role == EntryRole::kFiller) continue;
    rows.insert(plot.row);
    columns.insert(plot.column);
    entries.insert(plot.entry);
    const auto [row, first_in_row] = in_row.emplace(std::pair(plot.entry, plot.row), i);
    if (!first_in_row)
      return fault(
          plot_place(i), "entry " + plot.entry + " stands twice in row " + std::to_string(plot.row),
          "first at " + plot_place(row->second) + "; mend the plots, or state design rcb or crd");
    const auto [column, first_in_column] = in_column.emplace(std::pair(plot.entry, plot.column), i);
    if (!first_in_column)
      return fault(plot_place(i),
                   "entry " + plot.entry + " stands twice in column " + std::to_string(plot.column),
                   "first at " + plot_place(column->second) +
                       "; mend the plots, or state design rcb or crd");
  }
  if (rows.size() != entries.size() || columns.size() != entries.size())
    return fault(trial_place(),
                 "a Latin square has as many rows and columns as entries, but there are " +
                     std::to_string(entries.size()) + " entries, " + std::to_string(rows.size()) +
                     " rows and " + std::to_string(columns.size()) + " columns",
                 mend);
  for (const std::string& entry : entries) {
    const auto gap = std::ranges::find_if(rows, [&](int row) {
      return !in_row.contains({entry, row});
    });
    if (gap != rows.end())
      return fault(trial_place(), "entry " + entry + " is missing from row " + std::to_string(*gap),
                   mend);
  }
}

void PlanCheck::design() {
  take_findings(check_design(plan_, places_));
}

// Every species of the entries needs a scale the measure is read on; each that lacks one is told
// once.
void PlanCheck::scales(std::size_t i, const std::string& name) {
  std::set<std::string> without;
  for (const PlanEntry& entry : plan_.entries) {
    if (definitions_.find_species(entry.species) != nullptr &&
        definitions_.scale_for(name, entry.species) == nullptr)
      without.insert(entry.species);
  }
  std::ranges::for_each(without, [&](const std::string& species) {
    fault(occasion_place(i), "measure " + name + " has no scale for " + species,
          "take it out, or define a scale for the species' group");
  });
}

void PlanCheck::entries_of(std::size_t i) {
  std::set<std::string> seen;
  for (const std::string& code : plan_.occasions[i].entries) {
    if (!seen.insert(code).second)
      fault(occasion_place(i), "entry " + code + " stands twice", "name it once");
    else if (plan_.find_entry(code) == nullptr)
      fault(occasion_place(i), "entry '" + code + "' is not among the entries",
            "use a code of entries.csv, or leave it empty where all are meant");
  }
}

void PlanCheck::grazed(std::size_t i) {
  const PlanOccasion& occasion = plan_.occasions[i];
  const std::string& hours = occasion.hours_after_turn_in;
  if (hours.empty()) {
    if (has(occasion, measure::kGrazingPreference))
      notice(occasion_place(i), "preference is rated, but not said how long after turn-in",
             "state hours_after_turn_in: what animals leave at first they may take later");
    return;
  }
  if (occasion.job == Job::kHarvest)
    fault(occasion_place(i), "hours after turn-in are of a rating of grazed plots",
          "leave hours_after_turn_in of a harvest empty");
  if (const auto number = parse_number(hours); !number || *number <= 0)
    fault(occasion_place(i), "'" + hours + "' hours after turn-in are not above zero",
          "leave it empty where the animals are not in yet");
}

void PlanCheck::measures(std::size_t i) {
  const PlanOccasion& occasion = plan_.occasions[i];
  if (occasion.measures.empty())
    fault(occasion_place(i), "nothing is to be recorded", "name at least one measure");
  std::set<std::string> seen;
  for (const std::string& name : occasion.measures) {
    if (!seen.insert(name).second)
      fault(occasion_place(i), "measure " + name + " stands twice", "name it once");
    if (plan_.find_score(name) != nullptr) continue;
    if (definitions_.measure(name) == nullptr) {
      fault(occasion_place(i), "measure '" + name + "' is not known",
            "use a code of the program's measures, such as percent_stand, or one of scores.csv");
      continue;
    }
    scales(i, name);
  }
  if (occasion.sample_of != SampleOf::kPlot && !has(occasion, measure::kBagNumber))
    fault(occasion_place(i), "sample_of says what a bag stands for, but no bag is numbered",
          "add bag_number to its measures, or leave sample_of empty");
  const bool separated = has(occasion, measure::kPartBag);
  if (separated != has(occasion, measure::kSeparatedFresh))
    fault(occasion_place(i), "a separated sample is its whole and the bags of its parts",
          "name separated_fresh and part_bag, or neither");
  if (separated && occasion.job != Job::kHarvest)
    fault(occasion_place(i), "a sample is separated of what was cut, and nothing is cut here",
          "name separated_fresh and part_bag at a harvest");
  if (occasion.job != Job::kHarvest) return;
  if (!has(occasion, measure::kGrossWeight))
    fault(occasion_place(i), "a harvest without gross_weight gives no yield",
          "add gross_weight to its measures");
  if ((separated || has(occasion, measure::kSampleFresh)) && !has(occasion, measure::kBagTare) &&
      plan_.bag_tare == StatedMass{})
    fault(occasion_place(i), "samples are weighed, but the weight of an empty bag is nowhere",
          "state bag_tare in the trial, or add the measure bag_tare");
}

void PlanCheck::time(std::size_t i) {
  const PlanOccasion& occasion = plan_.occasions[i];
  if (!plan_.sown.ok()) return;
  if (date::year(occasion.year) < plan_.sown.year())
    fault(occasion_place(i), "its year lies before the trial was sown", "mend the year");
  if (!occasion.due) return;
  if (*occasion.due < plan_.sown)
    fault(occasion_place(i),
          "it is due on " + format_date(*occasion.due) + ", before the trial was sown on " +
              format_date(plan_.sown),
          "mend one of the dates");
  else if (occasion.due->year() != date::year(occasion.year))
    notice(occasion_place(i),
           "it is due on " + format_date(*occasion.due) + " but counts for " +
               std::to_string(occasion.year),
           "mend the year or the date unless it is meant so");
}

void PlanCheck::occasions() {
  std::map<std::string, std::size_t> codes;
  for (std::size_t i = 0; i < plan_.occasions.size(); ++i) {
    const PlanOccasion& occasion = plan_.occasions[i];
    code(occasion.code, "an occasion", occasion_place(i));
    if (const auto [at, fresh] = codes.emplace(occasion.code, i); !fresh)
      fault(occasion_place(i), "occasion " + occasion.code + " stands twice",
            "first at " + occasion_place(at->second) + "; keep one of them");
    if (occasion.job == Job::kHarvest && occasion.cutting < 1)
      fault(occasion_place(i), "a harvest needs the number of its cutting",
            "write 1 for the first cutting of the year");
    if (occasion.job == Job::kRate && occasion.cutting != 0)
      fault(occasion_place(i), "a rating has no cutting", "leave the cutting empty");
    measures(i);
    entries_of(i);
    grazed(i);
    time(i);
  }
  if (plan_.occasions.empty() && !places_.incomplete)
    notice(trial_place(), "no rating and no harvest is planned", "list them in occasions.csv");
}

void PlanCheck::cuttings() {
  std::map<std::pair<int, int>, std::size_t> seen;
  for (std::size_t i = 0; i < plan_.occasions.size(); ++i) {
    const PlanOccasion& occasion = plan_.occasions[i];
    if (occasion.job != Job::kHarvest || occasion.cutting < 1) continue;
    const auto [at, fresh] = seen.emplace(std::pair(occasion.year, occasion.cutting), i);
    if (!fresh)
      fault(occasion_place(i),
            "cutting " + std::to_string(occasion.cutting) + " of " + std::to_string(occasion.year) +
                " stands twice",
            "first at " + occasion_place(at->second) + "; number the cuttings 1, 2, 3 ...");
  }
  if (places_.incomplete) return;
  for (const auto& [key, i] : seen) {
    const auto [year, cutting] = key;
    if (cutting > 1 && !seen.contains({year, cutting - 1}))
      fault(occasion_place(i),
            "cutting " + std::to_string(cutting) + " of " + std::to_string(year) +
                " stands without cutting " + std::to_string(cutting - 1),
            "number the cuttings of a year 1, 2, 3 ...");
  }
}

void PlanCheck::ends(std::size_t i) {
  const Scale& score = plan_.scores[i];
  const double lowest = score.minimum.value_or(0);
  const double highest = score.maximum.value_or(0);
  if (lowest >= highest)
    return fault(score_place(i), "its lowest step is not below its highest", "mend one of them");
  const double steps = (highest - lowest) / score.step;
  if (steps >= kMostScoreSteps)
    return fault(score_place(i), "it has more than " + std::to_string(kMostScoreSteps) + " steps",
                 "make the steps wider");
  if (steps != std::floor(steps))
    fault(score_place(i), "its steps do not end at the highest",
          "choose a step that leads from the lowest to the highest");
}

void PlanCheck::scores() {
  std::map<std::string, std::size_t> codes;
  for (std::size_t i = 0; i < plan_.scores.size(); ++i) {
    const Scale& score = plan_.scores[i];
    code(score.code, "a score", score_place(i));
    if (const auto [at, fresh] = codes.emplace(score.code, i); !fresh)
      fault(score_place(i), "score " + score.code + " stands twice",
            "first at " + score_place(at->second) + "; keep one of them");
    if (definitions_.measure(score.code) != nullptr || definitions_.scale(score.code) != nullptr)
      fault(score_place(i), "'" + score.code + "' is a measure of the program already",
            "choose another code");
    ends(i);
    const bool used = std::ranges::any_of(
        plan_.occasions, [&](const PlanOccasion& occasion) { return has(occasion, score.code); });
    if (!used && !places_.incomplete)
      notice(score_place(i), "no rating records score " + score.code,
             "name it in the measures of occasions.csv");
  }
}

}  // namespace

PlanFindings check_plan(const Plan& plan, const Definitions& definitions,
                        const PlanPlaces& places) {
  PlanCheck check(plan, definitions, places);
  check.trial();
  check.entries();
  check.plots();
  check.blocks();
  check.square();
  check.design();
  check.occasions();
  check.cuttings();
  check.scores();
  return check.take();
}

}  // namespace ligule::files
