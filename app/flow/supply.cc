#include "app/flow/supply.h"

#include <algorithm>
#include <variant>

#include "app/flow/view_parts.h"

namespace ligule::flow {
namespace {

std::int64_t plots_of(const SupplyWatch& watch) {
  return static_cast<std::int64_t>(watch.plots.size());
}

// What is to be told on the screen that is open; empty: nothing.
std::optional<Words> warning_here(const Model& model) {
  const Book* const book = book_of(model.screen);
  if (book == nullptr || std::holds_alternative<Review>(model.screen)) return std::nullopt;
  return supply_warning(model, book->plots.size() - plots_done(model, *book));
}

void take_over(SupplyWatch& watch, const Supply& told) {
  const Supply before = watch.now;
  watch.now = told;
  const std::optional<int> battery = watch.now.battery;
  if (!battery || watch.now.plugged) {
    watch.battery_from.reset();
  } else if (!watch.battery_from || *battery > before.battery.value_or(*battery)) {
    watch.battery_from = SupplyWatch::From{*battery, plots_of(watch)};
  }
  const std::int64_t ledger = watch.now.ledger_bytes;
  if (ledger <= 0) {
    watch.ledger_from.reset();
  } else if (!watch.ledger_from || ledger < watch.ledger_from->amount) {
    watch.ledger_from = SupplyWatch::From{ledger, plots_of(watch)};
  }
}

}  // namespace

void supply_told(Turn& turn, const SupplyTold& told) {
  const bool warned = warning_here(turn.model).has_value();
  take_over(turn.model.supply, told.supply);
  const auto warning = warning_here(turn.model);
  // Once when it begins, on every glass; where there is room a line stays.
  if (warning && !warned && !turn.model.notice) turn.notice(warning->key, warning->arguments);
}

void count_plot(Model& model, const Act& act) {
  if (act.kind != ActKind::kValues || !act.occasion || act.plot.empty()) return;
  model.supply.plots.insert({*act.occasion, act.plot});
}

std::optional<std::int64_t> battery_plots(const SupplyWatch& watch) {
  if (!watch.battery_from || !watch.now.battery) return std::nullopt;
  const std::int64_t percent = *watch.now.battery;
  const std::int64_t used = watch.battery_from->amount - percent;
  const std::int64_t plots = plots_of(watch) - watch.battery_from->plots;
  if (used < kLeastUsed || plots <= 0) return std::nullopt;
  return std::max<std::int64_t>(0, percent - kBatteryReserve) * plots / used;
}

std::optional<std::int64_t> storage_plots(const SupplyWatch& watch) {
  if (!watch.ledger_from || !watch.now.free_bytes) return std::nullopt;
  const std::int64_t grown = watch.now.ledger_bytes - watch.ledger_from->amount;
  const std::int64_t plots = plots_of(watch) - watch.ledger_from->plots;
  if (grown <= 0 || plots < kLeastPlots) return std::nullopt;
  const std::int64_t each = kKeptTwice * ((grown + plots - 1) / plots);
  return std::max<std::int64_t>(0, *watch.now.free_bytes - kSpaceReserve) / each;
}

bool battery_low(const SupplyWatch& watch, std::int64_t open) {
  if (!watch.now.battery || watch.now.plugged) return false;
  if (*watch.now.battery <= kBatteryTooLow) return true;
  const auto plots = battery_plots(watch);
  return plots ? *plots < open : *watch.now.battery <= kBatteryLow;
}

bool storage_low(const SupplyWatch& watch, std::int64_t open) {
  if (!watch.now.free_bytes) return false;
  if (*watch.now.free_bytes < kSpaceLow) return true;
  const auto plots = storage_plots(watch);
  return plots && *plots < open;
}

}  // namespace ligule::flow
