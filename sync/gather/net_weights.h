// What the plots of a file weigh, neighbours who may have been exchanged in it, and runs of plots
// that may stand one place off.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "sync/gather/take_in.h"

namespace ligule::gather {

class NetWeights {
 public:
  // A value of the file; only gross weights and tares that are weights count.
  void add(const std::string& plot, const TakenValue& value);
  // A notice for every pair along the plot path of whom each weight fits the other plot and not its
  // own: nobody can be asked at a desk.
  [[nodiscard]] std::vector<Error> exchanged(const Plan& plan, const std::string& file) const;
  // A notice where the weights of a run of plots fit better one plot further on or back, by the
  // tablet's own rule (checks/lane_shift.h): the machine's count went on without the plots, or the
  // other way round. Of plots whose entry that cutting cuts, and all that the file weighs.
  [[nodiscard]] std::vector<Error> shifted(const Plan& plan, const PlanOccasion& cutting,
                                           const std::string& file) const;

 private:
  // Kilograms; empty: the file does not weigh it.
  [[nodiscard]] std::optional<double> net_of(const std::string& plot) const;

  struct Net {  // kilograms, of all bags
    bool weighed = false;
    double gross = 0;
    double tare = 0;
  };
  std::map<std::string, Net> plots_;
};

}  // namespace ligule::gather
