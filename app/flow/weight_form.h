// What is typed at the scale before anything of it is kept: the head of a run, a check weight, the
// weights of a plot. Part of the model.
#pragma once

#include <optional>
#include <string>

#include "app/flow/keypad.h"

namespace ligule::flow {

struct RunHead {  // the head of a run is being filled in
  Keypad keypad{Field::kMachine};
  std::string surface;
  bool machine_meant = false;  // another one than the block was begun with
  bool low_meant = false;      // the stubble setting is meant, low as it is
  bool again = false;          // of another run of the day: plots were weighed in one before
  bool operator==(const RunHead&) const = default;
};
struct CheckingScale {  // a check weight goes on; kGross active: nothing is being typed
  Keypad keypad{Field::kGross};
  bool operator==(const CheckingScale&) const = default;
};
// A strip's length and width, typed and not kept.
struct BegunStrip {
  Keypad keypad{Field::kSwathLength};
  std::string unit;
  bool operator==(const BegunStrip&) const = default;
};
// What is typed and chosen for the plot being weighed.
struct WeightForm {
  Keypad keypad{Field::kGross};
  int bag = 1;       // which of the plot's bags hangs on the scale
  std::string kind;  // of bag, that its tare is of; empty: nobody said
  bool weeds_only = false;
  std::string offered_bag;          // number of a common bag that nobody typed
  std::optional<BegunStrip> strip;  // while its page is closed
  bool operator==(const WeightForm&) const = default;
};

}  // namespace ligule::flow
