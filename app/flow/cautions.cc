#include "app/flow/cautions.h"

#include <algorithm>
#include <array>
#include <string_view>

#include "app/flow/grazing.h"
#include "app/flow/progress.h"

namespace ligule::flow {
namespace {

enum class Where {
  kHarvest,
  kOven,
  kGrazed,  // a rating or a cutting while animals are in
  kListed,  // on the Tablet screen only
};
struct Caution {
  std::string_view code;  // words: "caution." + code
  Where where = Where::kHarvest;
  std::string_view group = {};    // of species that the trial holds; empty: of any
  std::string_view species = {};  // parts of the codes of those it is about; empty: of any
  bool toxic = false;             // only where an entry carries the toxic endophyte
};
constexpr std::array kCautions{Caution{"harvest", Where::kHarvest},
                               Caution{"flail", Where::kHarvest},
                               Caution{"heat", Where::kHarvest},
                               Caution{"lifting", Where::kHarvest},
                               Caution{"nitrate", Where::kHarvest, "warm_season_annual"},
                               Caution{"prussic_acid", Where::kHarvest, "", "sorghum sudangrass"},
                               Caution{"toxic_endophyte", Where::kHarvest, "", "", true},
                               Caution{"oven", Where::kOven},
                               Caution{"hay_heating", Where::kOven},
                               Caution{"spray", Where::kListed},
                               Caution{"live_fence", Where::kGrazed}};

bool holds_group(const Model& model, const Plan& plan, std::string_view group) {
  return std::ranges::any_of(plan.entries, [&](const PlanEntry& entry) {
    const auto& all = model.setup.definitions.species;
    const auto species = std::ranges::find(all, entry.species, &Species::code);
    return species != all.end() && species->group == group;
  });
}

// Millets, teff and crabgrass have no prussic acid; sorghums and sudangrass do.
bool holds_species(const Plan& plan, std::string_view parts) {
  return std::ranges::any_of(plan.entries, [&](const PlanEntry& entry) {
    for (std::string_view rest = parts; !rest.empty();) {
      const std::string_view part = rest.substr(0, rest.find(' '));
      if (entry.species.find(part) != std::string::npos) return true;
      rest.remove_prefix(std::min(rest.size(), part.size() + 1));
    }
    return false;
  });
}

bool among_animals(const Model& model) {
  const auto* const harvest = std::get_if<Harvest>(&model.screen);
  const auto* const rating = std::get_if<Rating>(&model.screen);
  if (harvest == nullptr && rating == nullptr) return false;
  const Book& book = harvest != nullptr ? harvest->book : rating->book;
  return animals_in(model.today, trial_of(model, book).plan.id(), model.now.local_date);
}

bool concerns(const Model& model, const Caution& caution) {
  if (caution.where == Where::kGrazed) return among_animals(model);
  if (std::holds_alternative<DryWeights>(model.screen)) return caution.where == Where::kOven;
  const auto* const harvest = std::get_if<Harvest>(&model.screen);
  if (harvest == nullptr || caution.where != Where::kHarvest) return false;
  const Plan& plan = trial_of(model, harvest->book).plan;
  if (!caution.group.empty() && !holds_group(model, plan, caution.group)) return false;
  if (!caution.species.empty() && !holds_species(plan, caution.species)) return false;
  return !caution.toxic || std::ranges::any_of(plan.entries, [](const PlanEntry& entry) {
    return entry.endophyte == Endophyte::kToxic;
  });
}

}  // namespace

std::vector<std::string> cautions_due(const Model& model) {
  std::vector<std::string> due;
  if (!model.person || !model.now.local_date.ok()) return due;
  const std::string today = format_date(model.now.local_date);
  const auto read = model.preferences.cautions_read.find(model.person->id);
  for (const Caution& caution : kCautions) {
    if (!concerns(model, caution)) continue;
    if (read != model.preferences.cautions_read.end()) {
      const auto at = read->second.find(std::string(caution.code));
      if (at != read->second.end() && at->second == today) continue;
    }
    due.emplace_back(caution.code);
  }
  return due;
}

std::vector<std::string> all_cautions() {
  std::vector<std::string> all;
  all.reserve(kCautions.size());
  for (const Caution& caution : kCautions) all.emplace_back(caution.code);
  return all;
}

void read_cautions(Turn& turn) {
  Model& model = turn.model;
  const std::vector<std::string> due = cautions_due(model);
  const std::optional<Person>& reader = model.person;
  if (due.empty() || !reader) return;
  auto& read = model.preferences.cautions_read[reader->id];
  for (const std::string& code : due) read[code] = format_date(model.now.local_date);
  turn.run(StorePreferences{model.preferences});
}

void show_cautions(Turn& turn) {
  if (auto* const tablet = on<OnTablet>(turn)) tablet->cautions = true;
}

}  // namespace ligule::flow
