// What the drying room shows, but for the whole of it.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "app/flow/look_views.h"
#include "app/flow/views_common.h"
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
  std::string part = {};  // key of words: what of a sorted sample is in it; empty: a plot's sample

  bool operator==(const BagRow&) const = default;
};
// How the samples are dried, as it is being stated.
struct OvenView {
  std::vector<FieldView> fields;  // degrees, hours
  bool until_constant = false;
  std::string remark;  // key of words: what is odd about it; empty: nothing

  bool operator==(const OvenView&) const = default;
};

// A cutting that samples can be sorted of.
struct SortRow {
  TrialId trial;
  OccasionId occasion;
  std::string trial_code;
  int year = 0;
  int cutting = 0;
  bool planned = false;  // the plan asks for it

  bool operator==(const SortRow&) const = default;
};
// The sample of a plot, as far as it is sorted.
struct SortPlotRow {
  std::string plot;
  int stated = 0;  // of its parts
  bool begun = false;
  bool whole = false;  // all is stated and weighed
  Mark mark = Mark::kOpen;

  bool operator==(const SortPlotRow&) const = default;
};
struct PartRow {
  int part = 0;      // 0: the whole sample, before it is sorted
  std::string word;  // key: "scale.part_bag.sown"
  Mark mark = Mark::kOpen;
  bool none = false;  // said to be nothing
  std::string bag;
  std::string fresh;  // with its unit; empty: not weighed
  bool chosen = false;

  bool operator==(const PartRow&) const = default;
};
struct SortingView {
  HeadView head;
  std::string trial_code;
  int year = 0;
  int cutting = 0;
  std::vector<SortPlotRow> plots;  // along the path, those that match what is typed
  std::size_t begun = 0;           // and not whole
  std::size_t whole = 0;
  std::string plot;  // on the table; empty: it is being asked
  std::vector<PartRow> parts;
  std::vector<FieldView> fields;
  int open = 0;         // of whole and parts: not stated
  std::string percent;  // of the whole that the parts come to, once all is kept; empty: not known
  bool can_say_none = false;
  bool can_keep = false;
  bool can_enter = true;
  bool can_take_back = false;

  bool operator==(const SortingView&) const = default;
};

}  // namespace ligule::flow
