#include "sync/print/seed_lots.h"

#include <algorithm>

namespace ligule::print {
namespace {

// With spare and border; empty: not known.
std::optional<Kilograms> wanted_of(const EntrySowing& sown, const Sowing& sowing) {
  auto wanted = sown.plots == 0 ? Kilograms(0) : sown.total(sowing.spare);
  if (!wanted || !sowing.border || sowing.border->entry != sown.code) return wanted;
  if (!sowing.border->seed) return std::nullopt;
  return *wanted + *sowing.border->seed * (1 + sowing.spare);
}

}  // namespace

std::optional<Kilograms> LotSowing::lacking() const {
  // Less than a store's balance tells (common practice, no source) is nothing.
  constexpr Kilograms kNothing(0.00005);
  if (!wanted || !on_hand || *wanted - *on_hand < kNothing) return std::nullopt;
  return *wanted - *on_hand;
}

int LotSowing::decimals() const {
  constexpr Kilograms kGram(0.001);
  const auto short_by = lacking();
  return short_by && *short_by < kGram ? 1 : 0;
}

std::vector<LotSowing> lots_of(const Plan& plan, const Sowing& sowing,
                               const std::map<std::string, Kilograms>& on_hand) {
  std::vector<LotSowing> lots;
  for (const PlanEntry& entry : plan.entries) {
    const EntrySowing* const sown = sowing.of(entry.code);
    const bool of_border = sowing.border && sowing.border->entry == entry.code;
    if (entry.seed_lot.empty() || sown == nullptr || (sown->plots == 0 && !of_border)) continue;
    const auto wanted = wanted_of(*sown, sowing);
    const auto at = std::ranges::find(lots, entry.seed_lot, &LotSowing::lot);
    if (at == lots.end()) {
      const auto held = on_hand.find(entry.seed_lot);
      lots.push_back({entry.seed_lot, entry.code, wanted,
                      held == on_hand.end() ? std::nullopt : std::optional(held->second)});
      continue;
    }
    at->entries.append(", ").append(entry.code);
    std::optional<Kilograms>& all = at->wanted;
    if (all && wanted)
      all = *all + *wanted;
    else
      all.reset();
  }
  return lots;
}

}  // namespace ligule::print
