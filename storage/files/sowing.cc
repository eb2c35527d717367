#include "storage/files/sowing.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <utility>

#include "storage/files/json_fault.h"
#include "storage/trial/number.h"

namespace ligule::files {
namespace {

using nlohmann::json;

constexpr std::uint64_t kLargestSpeciesFile = 1U << 20U;
constexpr std::array<std::string_view, 5> kSeedKeys{"seeds_per_lb", "usual_from", "usual_to",
                                                    "unit", "source"};
// A rate is asked about below half of what is usual and above twice of it.
constexpr double kTimesUsual = 2;

// One species' member `seed`, with what is wrong with it.
class SeedReader {
 public:
  SeedReader(const json& seed, std::string species, Faults& faults)
      : seed_(seed), species_(std::move(species)), faults_(faults) {}

  SpeciesSeed read() {
    SpeciesSeed read{.species = species_};
    if (!seed_.is_object()) {
      note("'seed' should be an object", "write seeds_per_lb, usual_from, usual_to, unit, source");
      return read;
    }
    for (const auto& [key, value] : seed_.items())
      if (std::ranges::find(kSeedKeys, key) == kSeedKeys.end())
        note("'" + key + "' is not known here",
             "use seeds_per_lb, usual_from, usual_to, unit, source");
    if (seed_.contains("seeds_per_lb"))
      read.seeds_per_pound = SeedsPerPound(above_zero("seeds_per_lb"));
    read.usual_from = above_zero("usual_from");
    read.usual_to = above_zero("usual_to");
    if (read.usual_to < read.usual_from) note("usual_to lies below usual_from", "mend one of them");
    read.unit = text("unit");
    if (read.unit != "lb/acre" && read.unit != "kg/ha")
      note("'" + read.unit + "' is no unit of a sowing rate", "use lb/acre or kg/ha");
    read.source = text("source");
    if (read.source.empty()) note("the usual rate has no source", "say who says so");
    return read;
  }

 private:
  void note(std::string what, std::string mend) {
    faults_.push_back({ErrorKind::kInvalid, std::move(what), "species.json, seed of " + species_,
                       std::move(mend)});
  }
  double above_zero(const char* key) {
    const auto at = seed_.find(key);
    const double value = at != seed_.end() && at->is_number() ? at->get<double>() : 0;
    if (value <= 0) note("'" + std::string(key) + "' should be a number above zero", "state it");
    return value;
  }
  std::string text(const char* key) {
    const auto at = seed_.find(key);
    return at != seed_.end() && at->is_string() ? at->get<std::string>() : std::string();
  }

  const json& seed_;
  std::string species_;
  Faults& faults_;
};

Error look_at(const PlanEntry& entry, std::string what, std::string mend) {
  return {ErrorKind::kInvalid, std::move(what), "entry " + entry.code, std::move(mend)};
}

std::optional<Error> rate_notice(const PlanEntry& entry, std::span<const SpeciesSeed> all) {
  if (entry.sowing_rate.empty()) {
    if (entry.sowing_rate_unit.empty()) return std::nullopt;
    return look_at(entry, "a unit of a sowing rate, but no sowing rate",
                   "state sowing_rate, or leave both empty");
  }
  const auto rate = sowing_rate(entry.sowing_rate, entry.sowing_rate_unit);
  if (!rate) return look_at(entry, rate.error().what, rate.error().mend);
  const SpeciesSeed* const seed = find_seed(all, entry.species);
  if (seed == nullptr) return std::nullopt;
  const bool little = *rate < seed->lowest() * (1 / kTimesUsual);
  if (!little && *rate <= seed->highest() * kTimesUsual) return std::nullopt;
  return look_at(entry,
                 "sowing rate " + entry.sowing_rate + " " + entry.sowing_rate_unit + " is " +
                     (little ? "less than half" : "more than twice") + " of what is usual",
                 "usual: " + seed->usual() + " (" + seed->source + "); mend it unless it is meant");
}

}  // namespace

Checked<std::vector<SpeciesSeed>> load_species_seed(FileSystem& files, const Path& assets) {
  const auto bytes = files.read(assets / "species.json", kLargestSpeciesFile);
  if (!bytes) return std::unexpected(Faults{bytes.error()});
  const json parsed = json::parse(*bytes, nullptr, /*allow_exceptions=*/false);
  if (parsed.is_discarded()) return std::unexpected(Faults{json_fault(*bytes, "species.json")});
  Faults faults;
  std::vector<SpeciesSeed> all;
  // Codes and names are judged by load_definitions().
  const auto rows = parsed.is_object() ? parsed.find("species") : parsed.end();
  if (rows != parsed.end() && rows->is_array()) {
    for (const json& row : *rows) {
      if (!row.is_object() || !row.contains("seed")) continue;
      const auto code = row.find("code");
      const bool named = code != row.end() && code->is_string();
      all.push_back(
          SeedReader(row.at("seed"), named ? code->get<std::string>() : std::string(), faults)
              .read());
    }
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return all;
}

const SpeciesSeed* find_seed(std::span<const SpeciesSeed> all, std::string_view species) {
  const auto at = std::ranges::find(all, species, &SpeciesSeed::species);
  return at == all.end() ? nullptr : &*at;
}

Faults sowing_notices(const Plan& plan, std::span<const SpeciesSeed> all) {
  Faults notices;
  for (const PlanEntry& entry : plan.entries)
    if (auto notice = rate_notice(entry, all)) notices.push_back(*std::move(notice));
  return notices;
}

}  // namespace ligule::files
