// What the drying room shows, but for the whole of it.
#pragma once

#include <string>
#include <vector>

#include "app/flow/views_fields.h"
#include "storage/trial/identity.h"

namespace ligule::flow {

struct BagRow {
  RecordId bag;
  std::string number;
  std::string plot;
  std::string trial_code;
  std::string filled;  // date
  int days = 0;        // since
  bool chosen = false;
  bool on_hold = false;
  bool drying = false;    // weighed dry, and still losing
  bool no_fresh = false;  // its fresh weight is still to come
  bool done = false;      // dried weight stands
  std::string gone;       // why it will have none: "bag_burst"

  bool operator==(const BagRow&) const = default;
};
// How the samples are dried, as it is being stated.
struct OvenView {
  std::vector<FieldView> fields;  // degrees, hours
  bool until_constant = false;
  std::string remark;  // key of words: what is odd about it; empty: nothing

  bool operator==(const OvenView&) const = default;
};

}  // namespace ligule::flow
