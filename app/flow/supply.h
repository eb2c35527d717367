// Battery and storage, in plots left. Used by update and views; not for other rooms.
//
// Figures: what a plot costs is measured in this sitting (battery: since the charger was pulled;
// storage: how far the ledger grew). Below 5 percent a battery is not counted on, and 64 MiB of the
// storage are left to the system: common practice, no source.
#pragma once

#include <cstdint>
#include <optional>

#include "app/flow/turn.h"

namespace ligule::flow {

inline constexpr int kBatteryReserve = 5;  // percent
inline constexpr int kBatteryLow = 15;     // percent, while no plot's cost is known
inline constexpr int kBatteryTooLow = 10;  // percent: low whatever a plot costs
inline constexpr int kLeastUsed = 2;       // percent used before a plot's cost is told
inline constexpr std::int64_t kMiB = 1024LL * 1024;
inline constexpr std::int64_t kSpaceReserve = 64 * kMiB;
inline constexpr std::int64_t kSpaceLow = 256 * kMiB;
inline constexpr std::int64_t kLeastPlots = 20;  // before the ledger's growth says anything
// The ledger's copy in the season file takes about as much again.
inline constexpr std::int64_t kKeptTwice = 2;

void supply_told(Turn& turn, const SupplyTold& told);
void count_plot(Model& model, const Act& act);  // when it was kept

// Empty: not known (no battery, on the charger, too little measured yet).
[[nodiscard]] std::optional<std::int64_t> battery_plots(const SupplyWatch& watch);
[[nodiscard]] std::optional<std::int64_t> storage_plots(const SupplyWatch& watch);
// Whether what is left does not reach for so many plots, or is little whatever comes.
[[nodiscard]] bool battery_low(const SupplyWatch& watch, std::int64_t open);
[[nodiscard]] bool storage_low(const SupplyWatch& watch, std::int64_t open);

}  // namespace ligule::flow
