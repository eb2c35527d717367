// The plots beside one whose value is looked at, with what they have of the same measure: what is
// odd beside all of them is a slip more often than what is not. For this room only.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "storage/ledger/ledger.h"
#include "sync/gather/names.h"
#include "sync/gather/settle.h"

namespace ligule::gather {

// One trial's standing values.
class Beside {
 public:
  // All must outlive it. Errors: those of reading the ledger.
  static Result<Beside> read(const ledger::Ledger& ledger, const Names& names, const Plan& plan,
                             const std::vector<Record>& standing);
  // Two plots before and two after it on the plot path, then those across it in the rows before and
  // behind: as the tablet shows them. Of several values on a plot (heights, bags) all. Empty for
  // what is about no plot of the plan, nor about a bag of one.
  [[nodiscard]] std::vector<PlotBeside> of(const Record& record) const;

 private:
  // A plot, and whether it is about its sample bag or that of a part (then which), or itself.
  struct Home {
    std::string plot;
    std::string bag;
    int part = 0;
  };
  using Where = std::tuple<std::string, std::string, int, std::string, std::optional<OccasionId>>;

  Result<std::optional<Home>> home_of(const Record& record);
  [[nodiscard]] std::string shown_on(const PlanPlot& plot, const Home& as,
                                     const Record& like) const;

  const ledger::Ledger* ledger_ = nullptr;
  const Names* names_ = nullptr;
  const Plan* plan_ = nullptr;
  std::map<Uuid, std::optional<Home>> homes_;
  std::map<Where, std::map<int, std::vector<std::string>>> shown_;  // by part of the measure
};

}  // namespace ligule::gather
