#include "storage/files/definitions.h"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <utility>

#include "storage/files/entry_check.h"
#include "storage/files/json_fault.h"
#include "storage/trial/identity.h"
#include "storage/trial/plan.h"

namespace ligule::files {
namespace {

using nlohmann::json;

constexpr std::uint64_t kLargestDefinitionFile = 1U << 20U;
constexpr std::string_view kScaleEnding = ".json";
constexpr std::array<std::string_view, 2> kLimitsFileKeys{"about", "limits"};
constexpr std::array<std::string_view, 12> kLimitKeys{
    "measure",      "species",      "group",   "unit",          "ask_below",     "ask_above",
    "refuse_below", "refuse_above", "weather", "weather_below", "weather_above", "source"};

// Reads with one place in mind and collects faults instead of stopping.
class DefinitionReader {
 public:
  DefinitionReader(FileSystem& files, Path assets) : files_(files), assets_(std::move(assets)) {}

  void note(std::string what, std::string where, std::string mend) {
    faults.push_back({ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)});
  }
  std::optional<std::string> text(const Path& file) {
    auto read = files_.read(assets_ / file, kLargestDefinitionFile);
    if (read) return *std::move(read);
    faults.push_back(read.error());
    return std::nullopt;
  }
  std::vector<std::string> names(const Path& folder) {
    auto listed = files_.list(assets_ / folder);
    if (listed) return *std::move(listed);
    faults.push_back(listed.error());
    return {};
  }
  // A key that nothing reads is a slip: what it says would count for nothing.
  void check_keys(const json& object, std::span<const std::string_view> known,
                  const std::string& where) {
    if (!object.is_object()) return;
    std::string all;
    for (const std::string_view key : known) all += (all.empty() ? "" : ", ") + std::string(key);
    for (const auto& [key, value] : object.items())
      if (std::ranges::find(known, key) == known.end())
        note("'" + key + "' is not known here", where, "use " + all);
  }
  // The list under a key of a file's object, empty (and noted) when it is not such a file. `known`:
  // all keys that such a file has; empty: any.
  std::vector<json> rows(const std::string& file, const char* key,
                         std::span<const std::string_view> known = {}) {
    const auto read = text(file);
    if (!read) return {};
    const json parsed = json::parse(*read, nullptr, /*allow_exceptions=*/false);
    if (parsed.is_discarded()) {
      faults.push_back(json_fault(*read, file));
      return {};
    }
    if (!known.empty()) check_keys(parsed, known, file);
    const auto at = parsed.is_object() ? parsed.find(key) : parsed.end();
    if (at != parsed.end() && at->is_array()) return at->get<std::vector<json>>();
    note(std::string("the list '") + key + "' is missing", file,
         "write it as in the file's first form");
    return {};
  }
  // A text member of a row; empty and noted when it is none.
  std::string member(const json& row, const char* key, const std::string& where) {
    const auto at = row.is_object() ? row.find(key) : row.end();
    if (at != row.end() && at->is_string()) return at->get<std::string>();
    note(std::string("'") + key + "' should be a text", where, "state it");
    return {};
  }

  Faults faults;

 private:
  FileSystem& files_;
  Path assets_;
};

std::string row_place(const std::string& file, std::size_t index) {
  return file + ", item " + std::to_string(index + 1);
}

// Notes a code that cannot be used or was used before in the same list.
template <class Item>
void check_code(DefinitionReader& in, const std::vector<Item>& before, const std::string& code,
                const std::string& where) {
  if (!is_code(code))
    in.note("'" + code + "' is not a usable code", where, "use letters, digits, underscore");
  if (std::ranges::find(before, code, &Item::code) != before.end())
    in.note("'" + code + "' stands twice", where, "keep one of them");
}

std::vector<Scale> read_scales(DefinitionReader& in) {
  std::vector<Scale> scales;
  for (const std::string& name : in.names("scales")) {
    if (!name.ends_with(kScaleEnding)) continue;
    const std::string file = "scales/" + name;
    const auto text = in.text(file);
    if (!text) continue;
    const auto scale = parse_scale_text(*text);
    if (!scale) {
      const Error& why = scale.error();
      if (why.where.empty())
        in.faults.push_back(json_fault(*text, file));
      else
        in.note(why.what, file + ", " + why.where, why.mend);
      continue;
    }
    for (const Error& fault : scale_faults(*scale)) in.note(fault.what, file, fault.mend);
    if (scale->code + std::string(kScaleEnding) != name)
      in.note("the scale's code is '" + scale->code + "'", file, "name the file after the code");
    scales.push_back(*scale);
  }
  if (scales.empty()) in.note("no scale could be read", "scales", "reinstall the program's assets");
  return scales;
}

std::vector<Species> read_species(DefinitionReader& in) {
  const std::string file = "species.json";
  std::vector<Species> all;
  for (const json& row : in.rows(file, "species")) {
    const std::string where = row_place(file, all.size());
    Species species{in.member(row, "code", where), in.member(row, "name", where),
                    in.member(row, "group", where), false};
    check_code(in, all, species.code, where);
    if (!is_code(species.group))
      in.note("'" + species.group + "' is not a usable group", where, "use letters, underscore");
    const auto endophyte = row.is_object() ? row.find("endophyte") : row.end();
    if (endophyte != row.end() && endophyte->is_boolean())
      species.endophyte = endophyte->get<bool>();
    else
      in.note("'endophyte' should be true or false", where, "state it");
    if (const auto spreads = row.is_object() ? row.find("spreads") : row.end();
        spreads != row.end()) {
      if (spreads->is_boolean())
        species.spreads = spreads->get<bool>();
      else
        in.note("'spreads' should be true or false", where, "state it, or leave it out");
    }
    all.push_back(std::move(species));
  }
  return all;
}

void read_measure_scales(DefinitionReader& in, const json& row, const std::string& where,
                         const Definitions& so_far, Measure& measure) {
  const auto scales = row.is_object() ? row.find("scales") : row.end();
  if (scales == row.end() || !scales->is_array() || scales->empty()) {
    in.note("'scales' should be a list with at least one scale", where, "state it");
    return;
  }
  for (const json& line : *scales) {
    MeasureScale scale{in.member(line, "group", where), in.member(line, "scale", where)};
    if (so_far.scale(scale.scale) == nullptr)
      in.note("scale '" + scale.scale + "' is not defined", where,
              "write scales/" + scale.scale + ".json or name another");
    if (!scale.species_group.empty() && std::ranges::find(so_far.species, scale.species_group,
                                                          &Species::group) == so_far.species.end())
      in.note("no species is of group '" + scale.species_group + "'", where,
              "use a group of species.json");
    if (std::ranges::find(measure.scales, scale.species_group, &MeasureScale::species_group) !=
        measure.scales.end())
      in.note("group '" + scale.species_group + "' has two scales", where, "keep one of them");
    measure.scales.push_back(std::move(scale));
  }
}

std::vector<Measure> read_measures(DefinitionReader& in, const Definitions& so_far) {
  const std::string file = "measures.json";
  std::vector<Measure> all;
  for (const json& row : in.rows(file, "measures")) {
    const std::string where = row_place(file, all.size());
    Measure measure;
    measure.code = in.member(row, "code", where);
    check_code(in, all, measure.code, where);
    const std::string subject = in.member(row, "subject", where);
    if (subject != "plot" && subject != "bag")
      in.note("the subject of a measure is 'plot' or 'bag'", where, "use one of them");
    measure.subject = subject == "bag" ? Subject::kBag : Subject::kPlot;
    read_measure_scales(in, row, where, so_far, measure);
    all.push_back(std::move(measure));
  }
  return all;
}

// A member that may be left out: its text, or its number.
std::string optional_text(DefinitionReader& in, const json& row, const char* key,
                          const std::string& where) {
  return row.is_object() && row.contains(key) ? in.member(row, key, where) : std::string();
}
bool optional_flag(DefinitionReader& in, const json& row, const char* key, const std::string& where,
                   bool otherwise) {
  const auto at = row.find(key);
  if (at == row.end()) return otherwise;
  if (at->is_boolean()) return at->get<bool>();
  in.note("'" + std::string(key) + "' should be true or false", where, "write true or false");
  return otherwise;
}

std::optional<double> optional_number(DefinitionReader& in, const json& row, const char* key,
                                      const std::string& where) {
  if (!row.is_object() || !row.contains(key)) return std::nullopt;
  if (row.at(key).is_number()) return row.at(key).get<double>();
  in.note(std::string("'") + key + "' should be a number", where, "state it, or leave it out");
  return std::nullopt;
}

// Notes a species or a group that is not there; whether both are.
bool check_whom(DefinitionReader& in, const Definitions& known, const Limit& limit,
                const std::string& where) {
  const bool species = limit.species.empty() || known.find_species(limit.species) != nullptr;
  if (!species)
    in.note("species '" + limit.species + "' is not defined", where, "use a code of species.json");
  const bool group =
      limit.group.empty() ||
      std::ranges::find(known.species, limit.group, &Species::group) != known.species.end();
  if (!group)
    in.note("no species is of group '" + limit.group + "'", where, "use a group of species.json");
  return species && group;
}

// The scales that a limit's measure is given on by those it is about, each once.
std::vector<const Scale*> scales_of(const Definitions& known, const Limit& limit) {
  std::vector<const Scale*> scales;
  for (const Species& species : known.species) {
    const bool meant = (limit.species.empty() || species.code == limit.species) &&
                       (limit.group.empty() || species.group == limit.group);
    const Scale* const scale = meant ? known.scale_for(limit.measure, species.code) : nullptr;
    if (scale != nullptr && std::ranges::find(scales, scale) == scales.end())
      scales.push_back(scale);
  }
  return scales;
}

// The one scale that the numbers of a limit are on; null, and noted, where there is none.
const Scale* scale_of_limit(DefinitionReader& in, const Definitions& known, const Limit& limit,
                            const std::string& where) {
  const std::vector<const Scale*> scales = scales_of(known, limit);
  if (known.measure(limit.measure) == nullptr) {
    in.note("measure '" + limit.measure + "' has no scale", where, "use a code of measures.json");
  } else if (scales.empty()) {
    in.note("'" + limit.measure + "' is given of none of these", where,
            "name a species or a group that it is given of");
  } else if (scales.size() > 1) {
    in.note("'" + limit.measure + "' is not given on one scale for all", where,
            "write a limit for each group");
  } else if (scales.front()->kind == ScaleKind::kText ||
             scales.front()->kind == ScaleKind::kLabel) {
    in.note("'" + limit.measure + "' is no number", where, "take the limit out");
  } else {
    return scales.front();
  }
  return nullptr;
}

// Notes a limit of something that is not there, or in a unit that it is not given in.
void check_limit(DefinitionReader& in, const Definitions& known, const Limit& limit,
                 const std::string& where) {
  const bool whom = check_whom(in, known, limit, where);
  const bool yield = limit.measure == kCuttingYield || limit.measure == kSeasonYield;
  std::vector<std::string> units{std::string(yield ? kYieldUnit : kPercentUnit)};
  const bool of_seed = std::ranges::find(seed::kLimited, limit.measure) != seed::kLimited.end();
  bool weighed = !of_seed;  // dry matter and yield follow from weights
  if (!of_seed && limit.measure != kDryMatterPercent && !yield) {
    const Scale* const scale = whom ? scale_of_limit(in, known, limit, where) : nullptr;
    if (scale == nullptr) return;
    units = scale->units;
    weighed = scale->kind == ScaleKind::kMass;
  }
  if (weighed && (limit.refuse_below || limit.refuse_above))
    in.note("'" + limit.measure + "' is weighed: a weight is asked about and never turned away",
            where, "leave 'refuse_below' and 'refuse_above' out");
  if (of_seed && (limit.refuse_below || limit.refuse_above))
    in.note("'" + limit.measure + "' is of seed, which is asked about and never turned away", where,
            "leave 'refuse_below' and 'refuse_above' out");
  if (units.empty()) {
    if (!limit.unit.empty())
      in.note("'" + limit.measure + "' has no unit", where, "leave 'unit' out");
  } else if (std::ranges::find(units, limit.unit) == units.end()) {
    in.note("'" + limit.unit + "' is no unit of " + limit.measure, where,
            "use a unit of its scale; of dry matter and of seed percent; of a yield ton/acre");
  }
}

std::vector<Limit> read_limits(DefinitionReader& in, const std::string& file,
                               const Definitions& known) {
  std::vector<Limit> all;
  for (const json& row : in.rows(file, "limits", kLimitsFileKeys)) {
    const std::string where = row_place(file, all.size());
    in.check_keys(row, kLimitKeys, where);
    Limit limit;
    limit.measure = in.member(row, "measure", where);
    limit.species = optional_text(in, row, "species", where);
    limit.group = optional_text(in, row, "group", where);
    limit.unit = optional_text(in, row, "unit", where);  // scores and stages have none
    limit.ask_below = optional_number(in, row, "ask_below", where);
    limit.ask_above = optional_number(in, row, "ask_above", where);
    limit.refuse_below = optional_number(in, row, "refuse_below", where);
    limit.refuse_above = optional_number(in, row, "refuse_above", where);
    limit.weather = optional_flag(in, row, "weather", where, true);
    limit.weather_below = optional_number(in, row, "weather_below", where);
    limit.weather_above = optional_number(in, row, "weather_above", where);
    limit.source = in.member(row, "source", where);
    for (const Error& fault : limit_faults(limit)) in.note(fault.what, where, fault.mend);
    check_limit(in, known, limit, where);
    const bool twice = std::ranges::any_of(all, [&](const Limit& other) {
      return other.measure == limit.measure && other.species == limit.species &&
             other.group == limit.group;
    });
    if (twice)
      in.note("'" + limit.measure + "' stands twice for the same", where, "keep one of them");
    all.push_back(std::move(limit));
  }
  return all;
}

// Whether one of the program's own is to be asked for all that one of everybody's is about. Of the
// same species or group it takes the other's place (overlaid()).
bool goes_before(const Limit& own, const Limit& everybodys, const Definitions& known) {
  const bool same = own.species == everybodys.species && own.group == everybodys.group;
  if (own.measure != everybodys.measure || !own.species.empty() || same) return false;
  if (own.group.empty()) return true;
  const Species* const species = known.find_species(everybodys.species);
  return species != nullptr && species->group == own.group;
}

}  // namespace

Checked<Definitions> load_definitions(FileSystem& files, const Path& assets) {
  DefinitionReader in(files, assets);
  Definitions definitions;
  definitions.scales = read_scales(in);
  definitions.species = read_species(in);
  definitions.measures = read_measures(in, definitions);
  definitions.limits = read_limits(in, "limits.json", definitions);
  if (!in.faults.empty()) return std::unexpected(std::move(in.faults));
  return definitions;
}

Path own_limits_path(const Path& ledger) {
  return ledger.string() + ".limits.json";
}

Checked<Definitions> with_own_limits(FileSystem& files, const Path& ledger,
                                     Definitions definitions) {
  const Path path = own_limits_path(ledger);
  const auto there = files.exists(path);
  if (!there) return std::unexpected(Faults{there.error()});
  if (!*there) return definitions;
  DefinitionReader in(files, path.parent_path());
  auto own = read_limits(in, path.filename().string(), definitions);
  if (!in.faults.empty()) return std::unexpected(std::move(in.faults));
  std::erase_if(definitions.limits, [&](const Limit& everybodys) {
    return std::ranges::any_of(
        own, [&](const Limit& limit) { return goes_before(limit, everybodys, definitions); });
  });
  definitions.limits = overlaid(std::move(definitions.limits), std::move(own));
  return definitions;
}

}  // namespace ligule::files
