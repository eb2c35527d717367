// Fields that are typed in, and what stands in the place of their pad at harvest. Part of views.h.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/flow/look_views.h"
#include "app/flow/views_common.h"

namespace ligule::flow {

struct FieldView {
  Field field = Field::kGross;  // words: "field." + name_of(field)
  std::string text;
  std::string unit;
  bool focused = false;
  Mark mark = Mark::kOpen;

  bool operator==(const FieldView&) const = default;
};
[[nodiscard]] std::string_view name_of(Field field);  // "gross", "sample_fresh" ...

// A check weight is due, or being weighed.
enum class CheckDue { kNone, kBefore, kNoon, kAfter, kOff };  // words: "check_due." + name_of
[[nodiscard]] std::string_view name_of(CheckDue due);
struct CheckView {
  std::vector<FieldView> fields;  // mass, allowance
  bool typing = false;            // one of them is being typed
  LoadView load;
  CheckDue due = CheckDue::kNone;

  bool operator==(const CheckView&) const = default;
};

// What the plot that was just weighed should give.
struct GaugeView {
  std::string plot;     // that one came from; empty: the present one
  bool any = false;     // false: there is nothing to compare with yet
  bool inside = false;  // the weight lies in the range
  std::string lowest;
  std::string highest;
  std::string unit;
  double place = 0;  // of the weight on the gauge, 0 to 1; the range is its middle half

  bool operator==(const GaugeView&) const = default;
};

// A kind of bag or bin, and what an empty one weighs.
struct BagKindView {
  std::string code;  // words: "bag_kind." + code
  std::string tare;  // with its unit; empty: none was weighed yet
  bool chosen = false;

  bool operator==(const BagKindView&) const = default;
};

// What else can be said of the plot being weighed.
struct MoreView {
  bool can_add_bag = false;    // a weight stands, or can be kept
  bool can_have_none = false;  // it may be said that there is no weight
  bool weeds_only = false;
  std::string kind;          // of bag; empty: nobody said
  std::string swath;         // "18 x 3 ft" as measured on the plot; empty: as planned
  bool asks_weeds = false;   // the plan wants the weeds by eye
  std::string weeds;         // "15 %" by eye; empty: nobody said
  std::string machine = {};  // of the present run

  bool operator==(const MoreView&) const = default;
};

struct NoWeightView {  // why a plot may have no weight
  std::string code;    // words: "no_weight." + code
  bool zero = false;   // counts as zero; else as missing

  bool operator==(const NoWeightView&) const = default;
};

}  // namespace ligule::flow
