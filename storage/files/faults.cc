#include "storage/files/faults.h"

#include <utility>

namespace ligule::files {

void add_fault(Faults& faults, Error fault) {
  if (faults.size() > kMostFaults) return;
  if (faults.size() == kMostFaults)
    fault = {ErrorKind::kInvalid, "there are more faults than are told here",
             std::move(fault.where), "mend those that are told, then check again"};
  faults.push_back(std::move(fault));
}

}  // namespace ligule::files
