#include "sync/results/test_facts.h"

#include <algorithm>
#include <map>
#include <set>

#include "storage/trial/details.h"
#include "sync/results/cutting_facts.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

std::string joined(const std::set<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

std::string size_told(const StatedLength& width, const StatedLength& length) {
  return width.text + " " + width.unit + " × " + length.text + " " + length.unit;
}

std::string sown_told(const Plan& plan) {
  const std::string how = plan.drilled ? "drilled in rows" : "broadcast";
  return plan.sown.ok() ? format_date(plan.sown) + ", " + how : how;
}

std::string plots_told(const Plan& plan) {
  std::string told;
  if (!plan.plot_width.text.empty())
    told = size_told(plan.plot_width, plan.plot_length) + " as sown";
  if (!plan.swath_width.text.empty()) {
    if (!told.empty()) told += ", ";
    told += size_told(plan.swath_width, plan.swath_length) + " harvested";
  }
  return told;
}

std::string design_told(const Plan& plan) {
  std::set<int> blocks;
  for (const PlanPlot& plot : plan.plots) blocks.insert(plot.block);
  const std::string count = count_of(blocks.size(), "block");
  if (plan.design == "crd") return "completely randomised";
  if (plan.design == "latin") return "Latin square";
  if (plan.design == "alpha") return "incomplete blocks (alpha) in " + count;
  if (plan.design == "row_column")
    return "complete blocks, entries spread over rows and columns, " + count;
  return "randomised complete blocks, " + count;
}

// What was done of some kinds, as "2025-04-01 ammonium sulfate, 50 lb/acre; ...". The list of
// events tells the rest of it.
std::string done(const TrialFacts& trial, const std::set<std::string>& kinds) {
  std::set<std::string> told;  // by date, since each begins with it
  for (const TrialEvent& event : trial.events) {
    if (event.taken_back || !kinds.contains(event.record.entered)) continue;
    const std::string on = detail(event.record.details, "on");
    std::string line = on.empty() ? format_date(event.record.at.local_date) : on;
    for (const char* const key : {"material", "rate"}) {
      const std::string fact = detail(event.record.details, key);
      if (!fact.empty()) line += (line.size() > 10 ? ", " : " ") + fact;
    }
    if (const std::string block = detail(event.record.details, "block"); !block.empty())
      line += " (block " + block + " only)";
    told.insert(line);
  }
  std::string text;
  for (const std::string& line : told) text += (text.empty() ? "" : "; ") + line;
  return text.empty() ? "none noted" : text;
}

std::string cuttings_told(const std::vector<PassDays>& passes) {
  std::string told;
  int year = 0;
  for (const PassDays& pass : passes) {
    if (pass.job != Job::kHarvest) continue;
    if (pass.year != year)
      told += (told.empty() ? "" : "; ") + std::to_string(pass.year) + ": ";
    else
      told += ", ";
    year = pass.year;
    told += days_and_month(pass.first, pass.last);
  }
  return told;
}

// Initials stay in the field book: how many judged is what tells whether scores hang on one eye.
std::string raters_told(const TrialFacts& trial) {
  std::set<PersonId> people;
  for (const ledger::Claim& claim : trial.claims) {
    const Record& record = claim.record;
    if (!record.occasion || record.purpose != Purpose::kSurvey) continue;
    const PlanOccasion* const pass = trial.plan.find_occasion(*record.occasion);
    if (pass == nullptr || pass->job != Job::kRate) continue;
    const auto who = trial.raters.find(record.id);
    const std::optional<PersonId> person = who == trial.raters.end() ? record.person : who->second;
    if (person) people.insert(*person);
  }
  return people.empty() ? std::string() : count_of(people.size(), "person", "people");
}

std::string machines_told(const TrialFacts& trial) {
  std::set<std::string> machines;
  for (const Record& run : trial.runs) {
    if (std::string machine = detail(run.details, "machine"); !machine.empty())
      machines.insert(std::move(machine));
  }
  return joined(machines);
}

std::string yields_told(std::span<const PlotYield> yields) {
  std::size_t weighed = 0, zero = 0, missing = 0, borrowed = 0;
  for (const PlotYield& plot : yields) {
    if (plot.entry.empty()) continue;  // out of results
    if (!plot.yield) {
      ++missing;
    } else if (plot.no_weight && plot.no_weight->zero) {
      ++zero;
    } else {
      ++weighed;
      if (plot.dry_matter.from == FractionFrom::kEntryMean ||
          plot.dry_matter.from == FractionFrom::kTrialMean)
        ++borrowed;
    }
  }
  if (weighed + zero + missing == 0) return {};
  return std::to_string(weighed) + " weighed, " + std::to_string(borrowed) +
         " of them by the dry matter of other plots; " + std::to_string(zero) +
         " counted as zero; " + std::to_string(missing) + " missing";
}

std::optional<CalendarDate> next_due(const Plan& plan, const std::vector<PassDays>& passes) {
  std::optional<CalendarDate> next;
  for (const PlanOccasion& pass : plan.occasions) {
    if (!pass.due || (!passes.empty() && *pass.due <= passes.back().last)) continue;
    if (std::ranges::find(passes, pass.code, &PassDays::code) != passes.end()) continue;
    if (!next || *pass.due < *next) next = pass.due;
  }
  return next;
}

std::vector<std::string> species_of(const Plan& plan, const Definitions& definitions) {
  std::set<std::string> names;
  for (const PlanEntry& entry : plan.entries) {
    if (entry.role == EntryRole::kFiller) continue;
    const Species* const species = definitions.find_species(entry.species);
    names.insert(species != nullptr ? species->name : entry.species);
  }
  return {names.begin(), names.end()};
}

}  // namespace

std::vector<PassDays> pass_days(const TrialFacts& trial) {
  std::map<OccasionId, PassDays> days;
  for (const ledger::Claim& claim : trial.claims) {
    const Record& record = claim.record;
    if (!record.occasion || record.purpose != Purpose::kSurvey) continue;
    const PlanOccasion* const pass = trial.plan.find_occasion(*record.occasion);
    if (pass == nullptr) continue;
    if (pass->job == Job::kHarvest && record.measure != measure::kGrossWeight) continue;
    const CalendarDate on = record.at.local_date;
    const auto [found, is_new] = days.try_emplace(
        *record.occasion, PassDays{pass->code, pass->job, pass->year, pass->cutting, on, on});
    found->second.first = std::min(found->second.first, on);
    found->second.last = std::max(found->second.last, on);
  }
  std::vector<PassDays> passes;
  passes.reserve(days.size());
  for (const auto& [id, pass] : days) passes.push_back(pass);
  std::ranges::sort(passes, [](const PassDays& a, const PassDays& b) {
    return std::tie(a.last, a.code) < std::tie(b.last, b.code);
  });
  return passes;
}

TestFacts test_facts(const TrialFacts& trial, const std::string& test,
                     std::span<const PlotYield> yields, const Definitions& definitions) {
  const Plan& plan = trial.plan;
  TestFacts facts{.test = test,
                  .title = plan.title,
                  .site = plan.site_name,
                  .field = plan.field,
                  .species = species_of(plan, definitions),
                  .sown = plan.sown.ok() ? std::optional(plan.sown) : std::nullopt,
                  .next_due = {},
                  .facts = {},
                  .passes = pass_days(trial)};
  facts.next_due = next_due(plan, facts.passes);
  const auto add = [&facts](const char* name, std::string value) {
    if (!value.empty()) facts.facts.push_back({name, std::move(value)});
  };
  add("Sown", sown_told(plan));
  add("Sowing rate", sowing_rate_told(plan));
  add("Plots", plots_told(plan));
  add("Design", design_told(plan));
  add("Fertilizer, lime", done(trial, {"fertilizer", "lime"}));
  add("Sprays", done(trial, {"spray"}));
  add("Irrigation", done(trial, {"irrigation"}));
  add("Cut on", cuttings_told(facts.passes));
  add("Cut with", machines_told(trial));
  add("Stubble", stubble_told(trial));
  add("Stage at first cutting", stage_at_first_cutting_told(trial, facts.passes));
  add("Rated by", raters_told(trial));
  add("Plot yields", yields_told(yields));
  return facts;
}

std::vector<EntryStanding> entry_standings(const TrialFacts& trial, const std::string& test,
                                           const PrintedName& printed) {
  std::vector<EntryStanding> standings;
  for (std::size_t i = 0; i < trial.plan.entries.size(); ++i) {
    const PlanEntry& entry = trial.plan.entries[i];
    const auto name = name_in_print(printed, entry.label());
    if (entry.role == EntryRole::kFiller || !name) continue;
    standings.push_back({.test = test,
                         .entry = *name,
                         .place = i,
                         .check = entry.role == EntryRole::kCheck,
                         .market = Market::kNotStated});
  }
  std::ranges::sort(standings, standing_before);
  return standings;
}

}  // namespace ligule::results
