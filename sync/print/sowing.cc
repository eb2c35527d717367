#include "sync/print/sowing.h"

#include <algorithm>

#include "storage/trial/field_ground.h"
#include "storage/trial/number.h"

namespace ligule::print {
namespace {

void add(std::string& reasons, std::string_view reason) {
  if (!reasons.empty()) reasons += "; ";
  reasons += reason;
}

// A percent of the plan; empty, with the reason added, where it states none or one that is none.
std::optional<double> percent(const std::string& text, std::string_view name,
                              std::string& reasons) {
  const auto number = parse_number(text);
  if (number && *number >= 0 && *number <= 100) return *number;
  add(reasons, std::string(name) + (text.empty() ? " not stated" : " is no percent"));
  return std::nullopt;
}

std::optional<double> live_share(const PlanEntry& entry, LiveSeed live, std::string& reasons) {
  const auto germination = percent(entry.germination, "germination", reasons);
  const auto purity = percent(entry.purity, "purity", reasons);
  // A lot without hard seed has an empty cell: most have none.
  std::optional<double> hard = 0.0;
  if (!entry.hard_seed.empty()) hard = percent(entry.hard_seed, "hard seed", reasons);
  if (!germination || !purity || !hard) return std::nullopt;
  const double share =
      pure_live_share({.germination = *germination, .hard = *hard, .purity = *purity}, live);
  if (share > 0 && *germination + *hard <= 100 + 1e-9) return share;
  add(reasons, share > 0 ? "germination and hard seed come to more than 100 percent"
                         : "nothing of the seed lives");
  return std::nullopt;
}

void find_rate(EntrySowing& sown, const PlanEntry& entry, const SpeciesSeed* species,
               const SowingWanted& wanted) {
  if (!entry.sowing_rate.empty()) {
    sown.rate = {entry.sowing_rate, entry.sowing_rate_unit};
    sown.rate_from_plan = true;
  } else if (wanted.rate) {
    sown.rate = wanted.rate;
  } else {
    add(sown.lacks, "sowing rate not stated in the plan");
    if (species != nullptr) sown.lacks += ", usual rate of the species: " + species->usual();
  }
}

EntrySowing entry_sowing(const PlanEntry& entry, const SpeciesSeed* species, SquareMetres plot,
                         const SowingWanted& wanted) {
  EntrySowing sown{.code = entry.code};
  find_rate(sown, entry, species, wanted);
  sown.live_share = live_share(entry, wanted.live, sown.lacks);
  if (!sown.rate) return sown;
  const auto rate = sowing_rate(sown.rate->text, sown.rate->unit);
  if (!rate) {
    add(sown.lacks, rate.error().what);
    return sown;
  }
  if (species != nullptr && species->seeds_per_pound) {
    const auto per_mass = convert<SeedsPerKilogram>(*species->seeds_per_pound);
    sown.dense = seeds_sown(*rate, per_mass);
    sown.live_seeds = seeds_in(seed_for(*rate, plot), per_mass);
  }
  if (!sown.live_share) return sown;
  sown.bulk = bulk(*rate, *sown.live_share);
  sown.packet = seed_for(*sown.bulk, plot);
  return sown;
}

std::optional<BorderSowing> border_of(const Plan& plan, const Sowing& sowing) {
  const auto filler = std::ranges::find(plan.entries, EntryRole::kFiller, &PlanEntry::role);
  BorderSowing border{.entry = {}, .area = ground_of(plan).border};
  if (filler == plan.entries.end() || !(border.area.value() > 0)) return std::nullopt;
  border.entry = filler->code;
  const EntrySowing* const sown = sowing.of(filler->code);
  if (sown != nullptr && sown->bulk) border.seed = seed_for(*sown->bulk, border.area);
  return border;
}

}  // namespace

std::optional<Kilograms> EntrySowing::total(double spare) const {
  if (!packet) return std::nullopt;
  return *packet * static_cast<double>(plots) * (1 + spare);
}

const EntrySowing* Sowing::of(std::string_view entry) const {
  const auto at = std::ranges::find(entries, entry, &EntrySowing::code);
  return at == entries.end() ? nullptr : &*at;
}

Result<Sowing> sowing_of(const Plan& plan, std::span<const SpeciesSeed> species,
                         const SowingWanted& wanted) {
  const auto length = plan.plot_length.metres();
  if (!length) return std::unexpected(length.error());
  const auto width = plan.plot_width.metres();
  if (!width) return std::unexpected(width.error());
  if (wanted.rate) {
    if (const auto rate = sowing_rate(wanted.rate->text, wanted.rate->unit); !rate)
      return std::unexpected(rate.error());
  }
  Sowing sowing{.plot_area = area(*length, *width),
                .live = wanted.live,
                .spare = wanted.spare,
                .entries = {},
                .border = {}};
  sowing.entries.reserve(plan.entries.size());
  for (const PlanEntry& entry : plan.entries) {
    const auto known = std::ranges::find(species, entry.species, &SpeciesSeed::species);
    EntrySowing sown =
        entry_sowing(entry, known == species.end() ? nullptr : &*known, sowing.plot_area, wanted);
    sown.plots =
        static_cast<std::size_t>(std::ranges::count(plan.plots, entry.code, &PlanPlot::entry));
    sowing.entries.push_back(std::move(sown));
  }
  if (wanted.border_sown) sowing.border = border_of(plan, sowing);
  return sowing;
}

std::string packet_text(Kilograms packet) {
  const double grams = convert<Grams>(packet).value();
  return format_fixed(grams, grams < 100 ? 2 : 1) + " g";
}

}  // namespace ligule::print
