// What is sown in each plot of a trial: rates, pure live seed, what a packet weighs, and what is
// not known of it.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/plan.h"
#include "storage/trial/seed.h"

namespace ligule::print {

// A rate of pure live seed as somebody states it.
struct StatedRate {
  std::string text;  // "15"
  std::string unit;  // "lb/acre" or "kg/ha"
};

struct SowingWanted {
  std::optional<StatedRate> rate = {};  // of entries whose plan states none
  LiveSeed live = LiveSeed::kGerminatedAndHard;
  double spare = 0.1;  // seed on top of what the plots take, as a share of it
  // Whether the border is sown, with what fills plots that are left.
  bool border_sown = true;
};

// One entry. What can't be had is empty, and `lacks` says why; nothing is assumed.
struct EntrySowing {
  std::string code;
  std::size_t plots = 0;
  std::optional<StatedRate> rate = {};
  bool rate_from_plan = false;
  std::optional<double> live_share = {};          // pure live seed, 0 to 1
  std::optional<KilogramsPerHectare> bulk = {};   // the rate of seed as it is in the bag
  std::optional<Kilograms> packet = {};           // of it, for one plot
  std::optional<double> live_seeds = {};          // in a packet
  std::optional<SeedsPerSquareMetre> dense = {};  // live seeds on the ground
  std::string lacks = {};                         // why no packet has a weight; else empty

  // Of all its plots; and with the spare.
  [[nodiscard]] std::optional<Kilograms> total(double spare = 0) const;
};

// The border around a trial whose plan has a filler: it is sown as that is.
struct BorderSowing {
  std::string entry;  // the filler's code
  SquareMetres area;
  std::optional<Kilograms> seed = {};  // without spare; empty where the filler's packets have none
};

struct Sowing {
  SquareMetres plot_area;  // as sown
  LiveSeed live = LiveSeed::kGerminatedAndHard;
  double spare = 0;
  std::vector<EntrySowing> entries;  // in the plan's order, fillers too
  std::optional<BorderSowing> border = {};

  // Null: no such entry.
  [[nodiscard]] const EntrySowing* of(std::string_view entry) const;
};

// kInvalid where the plots' size or the rate wanted can't be read.
[[nodiscard]] Result<Sowing> sowing_of(const Plan& plan, std::span<const SpeciesSeed> species,
                                       const SowingWanted& wanted);

// As packets are weighed: to the hundredth of a gram below 100 g, else to the tenth. "15.62 g".
[[nodiscard]] std::string packet_text(Kilograms packet);

}  // namespace ligule::print
