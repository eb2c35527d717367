// The planting list of a trial: what is weighed for each entry, and which packet goes into which
// plot, in the order in which they are sown.
#pragma once

#include <string>
#include <vector>

#include "storage/trial/plan.h"
#include "sync/print/page.h"
#include "sync/print/seed_lots.h"
#include "sync/print/sowing.h"

namespace ligule::print {

// Entries by their codes alone, or with variety and endophyte.
enum class Names { kBlind, kOpen };

struct PlantingPage {
  Paper paper = Paper::kLetter;
  Names names = Names::kBlind;
  std::vector<LotSowing> lots = {};  // what there is of each; none: nothing is said of it
};

// As what is weighed in the store: "0 g", "650 g", "0.3 g".
[[nodiscard]] std::string store_text(Kilograms seed, int decimals = 0);

// The page to print. `sowing` is that of this plan.
[[nodiscard]] std::string planting_page(const Plan& plan, const Sowing& sowing,
                                        const PlantingPage& page);

// One row a plot, along the plot path, numbers unrounded:
// `step,pass,plot,block,row,column,entry,role,seed_lot,rate,rate_unit,pure_live_percent,packet_g,
// lacks`. A pass is a run of plots of one field row; `lacks` says why a packet has no weight.
[[nodiscard]] std::string planting_table(const Plan& plan, const Sowing& sowing);

}  // namespace ligule::print
