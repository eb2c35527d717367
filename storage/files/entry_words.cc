#include "storage/files/entry_words.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <span>
#include <utility>

#include "storage/files/csv.h"
#include "storage/files/respelled_table.h"

namespace ligule::files {
namespace {

using Said = std::pair<std::string_view, std::string_view>;

// Headings without signs and capitals. What the trade calls its columns: common practice, no
// source.
constexpr std::array kHeadings{
    Said{"variety", "variety"},
    Said{"variety name", "variety"},
    Said{"cultivar", "variety"},
    Said{"cultivar name", "variety"},
    Said{"name", "variety"},
    Said{"entry", "variety"},
    Said{"entry name", "variety"},
    Said{"species", "species"},
    Said{"crop", "species"},
    Said{"kind", "species"},
    Said{"crop species", "species"},
    Said{"endophyte", "endophyte"},
    Said{"endophyte status", "endophyte"},
    Said{"endophyte type", "endophyte"},
    Said{"e status", "endophyte"},
    Said{"strain", "strain"},
    Said{"endophyte strain", "strain"},
    Said{"role", "role"},
    Said{"entry type", "role"},
    Said{"entry role", "role"},
    Said{"check", "check"},
    Said{"standard", "check"},
    Said{"check entry", "check"},
    Said{"repeats", "repeats"},
    Said{"plots per block", "repeats"},
    Said{"plots in block", "repeats"},
    Said{"times in block", "repeats"},
    Said{"seed lot", "seed_lot"},
    Said{"lot", "seed_lot"},
    Said{"lot number", "seed_lot"},
    Said{"lot no", "seed_lot"},
    Said{"lot id", "seed_lot"},
    Said{"seed lot number", "seed_lot"},
    Said{"seed lot no", "seed_lot"},
    Said{"seed lot id", "seed_lot"},
    Said{"seed on hand", "seed_on_hand"},
    Said{"seed in stock", "seed_on_hand"},
    Said{"on hand", "seed_on_hand"},
    Said{"in stock", "seed_on_hand"},
    Said{"seed harvested", "seed_harvested"},
    Said{"seed harvest", "seed_harvested"},
    Said{"seed harvest date", "seed_harvested"},
    Said{"endophyte percent", "endophyte_percent"},
    Said{"percent endophyte", "endophyte_percent"},
    Said{"viable endophyte", "endophyte_percent"},
    Said{"endophyte found", "endophyte_percent"},
    Said{"endophyte tested", "endophyte_tested"},
    Said{"endophyte test date", "endophyte_tested"},
    Said{"germination", "germination"},
    Said{"germination percent", "germination"},
    Said{"percent germination", "germination"},
    Said{"germ", "germination"},
    Said{"hard seed", "hard_seed"},
    Said{"hard", "hard_seed"},
    Said{"hard or dormant", "hard_seed"},
    Said{"dormant", "hard_seed"},
    Said{"dormant seed", "hard_seed"},
    Said{"percent hard seed", "hard_seed"},
    Said{"purity", "purity"},
    Said{"pure seed", "purity"},
    Said{"purity percent", "purity"},
    Said{"percent purity", "purity"},
    Said{"sowing rate", "sowing_rate"},
    Said{"seeding rate", "sowing_rate"},
    Said{"seed rate", "sowing_rate"},
    Said{"rate", "sowing_rate"},
    Said{"pls rate", "sowing_rate"},
    Said{"sowing rate unit", "sowing_rate_unit"},
    Said{"seeding rate unit", "sowing_rate_unit"},
    Said{"rate unit", "sowing_rate_unit"},
    Said{"code", "code"},
    Said{"entry code", "code"},
    Said{"blind code", "code"},
};

// The statuses as Grassland Renewal (novel endophyte) and the Oregon monograph on tall fescue class
// them; sync/results/entry_label.h reads the same words in old tables.
constexpr std::array kStatuses{
    Said{"novel", "novel"},
    Said{"beneficial", "novel"},
    Said{"ne", "novel"},
    Said{"toxic", "toxic"},
    Said{"wild type", "toxic"},
    Said{"wildtype", "toxic"},
    Said{"free", "free"},
    Said{"endophyte free", "free"},
    Said{"ef", "free"},
    Said{"e free", "free"},
    Said{"not stated", ""},
    Said{"unknown", ""},
    Said{"n a", ""},
    Said{"na", ""},
};

constexpr std::array kRoles{Said{"", "test"},         Said{"test", "test"},
                            Said{"entry", "test"},    Said{"experimental", "test"},
                            Said{"check", "check"},   Said{"standard", "check"},
                            Said{"control", "check"}, Said{"filler", "filler"},
                            Said{"fill", "filler"}};

constexpr std::array kRateUnits{
    Said{"lb acre", "lb/acre"},     Said{"lb ac", "lb/acre"},        Said{"lb a", "lb/acre"},
    Said{"lbs acre", "lb/acre"},    Said{"lbs ac", "lb/acre"},       Said{"lbs a", "lb/acre"},
    Said{"lb per acre", "lb/acre"}, Said{"lbs per acre", "lb/acre"}, Said{"kg ha", "kg/ha"},
    Said{"kg per ha", "kg/ha"},     Said{"pls lb acre", "lb/acre"},  Said{"lb pls acre", "lb/acre"},
};

constexpr std::array kMassUnits{Said{"g", "g"},      Said{"gram", "g"},    Said{"grams", "g"},
                                Said{"kg", "kg"},    Said{"lb", "lb"},     Said{"lbs", "lb"},
                                Said{"pound", "lb"}, Said{"pounds", "lb"}, Said{"oz", "oz"}};

std::optional<std::string_view> found(std::span<const Said> words, std::string_view plain) {
  const auto at = std::ranges::find(words, plain, &Said::first);
  return at == words.end() ? std::nullopt : std::optional(at->second);
}

std::string small_letters(std::string_view text) {
  std::string small(without_blanks(text));
  for (char& c : small) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return small;
}

}  // namespace

Heading heading_of(std::string_view text) {
  std::string plain = plain_text(text);
  if (const auto column = found(kHeadings, plain)) return {std::string(*column), {}};
  // "Seeding rate (lb/ac)", "sowing rate kg/ha", "On hand, g": the unit is what stands behind.
  for (const auto& [heading, column] : kHeadings) {
    if (!plain.starts_with(heading)) continue;
    const std::string_view behind = std::string_view(plain).substr(heading.size());
    std::string unit;
    if (column == "sowing_rate") unit = rate_unit(behind);
    if (column == "seed_on_hand") unit = mass_unit(behind);
    if (!unit.empty()) return {std::string(column), unit};
  }
  return {};
}

std::string rate_unit(std::string_view text) {
  return std::string(found(kRateUnits, plain_text(text)).value_or(""));
}

std::string mass_unit(std::string_view text) {
  return std::string(found(kMassUnits, plain_text(text)).value_or(""));
}

const Species* species_named(const Definitions& definitions, std::string_view text) {
  const std::string plain = plain_text(text);
  const auto at = std::ranges::find_if(definitions.species, [&](const Species& species) {
    return species.code == text || plain_text(species.name) == plain ||
           plain_text(species.code) == plain;
  });
  return at == definitions.species.end() ? nullptr : &*at;
}

std::optional<EndophyteWords> endophyte_said(std::string_view text, bool bears) {
  const std::string small = small_letters(text);
  if (small.empty() || small == "-" || small == "?") return EndophyteWords{};
  if (small == "e-") return EndophyteWords{"free", {}, false};
  if (small == "e+") return EndophyteWords{"toxic", {}, true};
  const std::string plain = plain_text(text);
  if (plain == "none" || plain == "no") return EndophyteWords{bears ? "free" : "", {}, false};
  if (const auto status = found(kStatuses, plain))
    return EndophyteWords{std::string(*status), {}, false};
  // "novel AX1": what stands behind the first word is the strain, as it was written.
  const std::string trimmed(without_blanks(text));
  const std::size_t blank = trimmed.find(' ');
  const auto status = found(kStatuses, plain_text(trimmed.substr(0, blank)));
  if (blank == std::string::npos || !status || (*status != "novel" && *status != "toxic"))
    return std::nullopt;
  return EndophyteWords{std::string(*status),
                        std::string(without_blanks(std::string_view(trimmed).substr(blank))),
                        false};
}

std::optional<std::string> role_said(std::string_view text) {
  const auto role = found(kRoles, plain_text(text));
  return role ? std::optional<std::string>(*role) : std::nullopt;
}

std::optional<bool> yes_said(std::string_view text) {
  const std::string plain = plain_text(text);
  for (const char* yes : {"yes", "y", "x", "1", "true", "check"})
    if (plain == yes) return true;
  for (const char* no : {"", "no", "n", "0", "false"})
    if (plain == no) return false;
  return std::nullopt;
}

}  // namespace ligule::files
