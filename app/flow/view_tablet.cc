// The Tablet screen.
#include <array>
#include <cmath>

#include "app/flow/cautions.h"
#include "app/flow/practice.h"
#include "app/flow/prefer.h"
#include "app/flow/scale_choice.h"
#include "app/flow/view_parts.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

// "640 kB", "12 MB", "3.4 GB": thousands of thousands, as sticks and disks are sold.
std::string bytes_text(std::uint64_t bytes) {
  constexpr std::array kUnits{"kB", "MB", "GB", "TB"};
  double amount = static_cast<double>(bytes) / 1000;
  std::size_t unit = 0;
  while (amount >= 999.5 && unit + 1 < kUnits.size()) {
    amount /= 1000;
    ++unit;
  }
  return format_fixed(amount, unit >= 2 && amount < 99.5 ? 1 : 0) + "\u00a0" + kUnits[unit];
}

std::optional<GlassView> glass_view(const Model& model, const OnTablet& screen) {
  if (!screen.measured) return std::nullopt;
  const double ppi = *screen.measured;
  return GlassView{kCardMm / 25.4 * ppi, can_step_glass(model, ppi, -1),
                   can_step_glass(model, ppi, 1)};
}

}  // namespace

TabletView tablet_view(const Model& model, const OnTablet& screen) {
  TabletView view;
  view.head = head_view(model);
  view.preferences = preferences_of(model);
  const double ppi = model.preferences.ppi.value_or(model.display.ppi);
  view.glass_measured = model.preferences.ppi.has_value();
  view.ppi = format_fixed(ppi, 0);
  const double pixels = std::hypot(model.display.width, model.display.height);
  view.diagonal = format_fixed(ppi > 0 ? pixels / ppi : 0, 1);
  view.glass = glass_view(model, screen);
  view.scale = scale_view(model, screen);
  if (screen.cautions) view.cautions = all_cautions();
  view.port = port_name(model.preferences.scale.port);
  view.name = model.setup.device;
  view.practice = practice_offers(model);
  if (const std::optional<TabletFacts>& facts = model.facts; facts.has_value()) {
    view.key = facts->fingerprint;
    view.version = facts->version;
    view.records = facts->path;
    view.records_size = bytes_text(facts->bytes);
    view.free = bytes_text(facts->free_bytes);
    if (screen.key) view.shown_key = KeyView{facts->fingerprint, facts->key_code};
  }
  return view;
}

}  // namespace ligule::flow
