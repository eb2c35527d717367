// Composite samples: one bag over the plots of an entry, or of the whole trial, that are cut on one
// day. Shared by update and views; not for other rooms.
#pragma once

#include <optional>
#include <set>
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
[[nodiscard]] std::optional<SharedBag> shared_bag(const Model& model, const Book& book,
                                                  const PlanPlot& plot);

// The bag that a plot's bag number names: one of its own, or one that it shares, which the record
// then says. A number that is put right (`standing` is what it replaces) and stays the same leaves
// the bag the same; another number is the bag of that number which the plot can be in, else its
// own.
[[nodiscard]] RecordId name_bag(const Model& model, const Book& book, const PlanPlot& plot,
                                const std::optional<KnownClaim>& standing, Record& number);
// Whether a plot that was in a bag with others has one of its own by its new number.
[[nodiscard]] bool leaves_shared_bag(const Record& standing, const Record& number);
// All bags that a plot's sample can be in with those of other plots.
[[nodiscard]] std::set<RecordId> shared_bags(const Model& model, const Book& book,
                                             const PlanPlot& plot);

// Bags whose number is taken for a plot: all that are filled and not dried, but for its own bag and
// those it can be in with others.
[[nodiscard]] std::vector<checks::BagInUse> bags_in_use(const Model& model, const Harvest& harvest,
                                                        const PlanPlot& plot,
                                                        std::optional<RecordId> own);

}  // namespace ligule::flow
