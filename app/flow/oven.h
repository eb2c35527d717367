// How the samples of the drying room are dried. Part of the model.
#pragma once

#include <string>

#include "app/flow/keypad.h"

namespace ligule::flow {

// How samples are dried, as somebody stated it: goes with every dried weight from then on.
struct Oven {
  std::string celsius;          // as typed; empty: not stated
  std::string hours;            // a sample is in it
  bool until_constant = false;  // weighed again until it loses no more
  bool operator==(const Oven&) const = default;
};
struct OvenSheet {  // degrees and hours are being stated
  Keypad keypad{Field::kOvenCelsius};
  bool operator==(const OvenSheet&) const = default;
};

}  // namespace ligule::flow
