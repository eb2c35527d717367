// What a trial takes of each seed lot, beside what there is of it.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "storage/trial/plan.h"
#include "sync/print/sowing.h"

namespace ligule::print {

struct LotSowing {
  std::string lot;                        // as the plan has it
  std::string entries;                    // that are of it, by their codes: "A, C"
  std::optional<Kilograms> wanted = {};   // with spare and border; empty: of one it is not known
  std::optional<Kilograms> on_hand = {};  // empty: nobody says

  // How much there is too little; nothing where it is enough to a twentieth of a gram, or not
  // known.
  [[nodiscard]] std::optional<Kilograms> lacking() const;
  // Of grams, as many as show what is short.
  [[nodiscard]] int decimals() const;
};

// The lots of a plan's entries in the plan's order, those that stand in no plot and sow no border
// left out; on_hand by lot. What has no lot is in none.
[[nodiscard]] std::vector<LotSowing> lots_of(const Plan& plan, const Sowing& sowing,
                                             const std::map<std::string, Kilograms>& on_hand);

}  // namespace ligule::print
