// What is left of battery and storage, as Today and the cards tell it.
#include <string>

#include "app/flow/supply.h"
#include "app/flow/view_parts.h"

namespace ligule::flow {
namespace {

constexpr std::int64_t kManyPlots = 100'000;  // more is no news

// Two digits are as much as is known: 187 plots are "about 180".
std::string about(std::int64_t plots) {
  std::int64_t unit = 1;
  while (plots / unit >= 100) unit *= 10;
  return std::to_string(plots / unit * unit);
}

std::optional<Words> battery_words(const SupplyWatch& watch) {
  const Supply& now = watch.now;
  if (!now.battery) return std::nullopt;
  const std::string percent = std::to_string(*now.battery);
  if (now.plugged) return Words{"supply.battery.charging", {percent}};
  if (const auto plots = battery_plots(watch)) {
    return Words{"supply.battery.plots", {percent, about(*plots)}};
  }
  return Words{"supply.battery", {percent}};
}

std::optional<Words> storage_words(const SupplyWatch& watch) {
  if (const auto plots = storage_plots(watch)) {
    if (*plots >= kManyPlots) return Words{"supply.storage.many", {std::to_string(kManyPlots)}};
    return Words{"supply.storage.plots", {about(*plots)}};
  }
  if (!watch.now.free_bytes || *watch.now.free_bytes >= kSpaceLow) return std::nullopt;
  return Words{"supply.storage", {std::to_string(*watch.now.free_bytes / kMiB)}};
}

}  // namespace

SupplyView supply_view(const Model& model, std::int64_t open) {
  SupplyView view;
  view.battery = battery_words(model.supply);
  view.storage = storage_words(model.supply);
  view.battery_low = battery_low(model.supply, open);
  view.storage_low = storage_low(model.supply, open);
  return view;
}

std::optional<Words> supply_warning(const Model& model, std::size_t open) {
  const SupplyView view = supply_view(model, static_cast<std::int64_t>(open));
  if (view.battery_low) return view.battery;
  return view.storage_low ? view.storage : std::nullopt;
}

}  // namespace ligule::flow
