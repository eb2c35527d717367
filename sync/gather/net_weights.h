// What the plots of a file weigh, and neighbours who may have been exchanged in it.
#pragma once

#include <map>
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

 private:
  struct Net {  // kilograms, of all bags
    bool weighed = false;
    double gross = 0;
    double tare = 0;
  };
  std::map<std::string, Net> plots_;
};

}  // namespace ligule::gather
