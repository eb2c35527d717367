// Composite samples: one bag over the plots of an entry, or of the whole trial, that are cut on one
// day. Shared by update and views; not for other rooms.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/flow/model.h"
#include "storage/checks/history.h"

namespace ligule::flow {

struct SharedBag {
  RecordId bag;  // reading that numbered it first
  std::string number;

  bool operator==(const SharedBag&) const = default;
};
// The bag that a plot's sample goes into today, where the plan takes one for its entry or trial and
// another plot of the day has filled it already.
[[nodiscard]] std::optional<SharedBag> shared_bag(const Model& model, const Harvest& harvest,
                                                  const PlanPlot& plot);

// The bag that a plot's new bag number names: one of its own, or the shared one, which the record
// then says.
[[nodiscard]] RecordId name_bag(const Model& model, const Harvest& harvest, const PlanPlot& plot,
                                Record& number);

// Bags whose number is taken for a plot: all that are filled and not dried, but for its own bag and
// the one it shares.
[[nodiscard]] std::vector<checks::BagInUse> bags_in_use(const Model& model, const Harvest& harvest,
                                                        const PlanPlot& plot,
                                                        std::optional<RecordId> own);

}  // namespace ligule::flow
