// What the Slide screen shows. Part of views.h.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/views_common.h"

namespace ligule::flow {

// The Slide screen: the path as it is and as it will be.
struct SlideCell {
  std::string measure;
  std::string shown;  // as on the map, of a visit its day; empty: the mark says it
  Mark mark = Mark::kKept;
  std::string word = {};  // key, beside it: what a visit found
  std::string part = {};  // key: of which part of a sorted sample it is; empty: of none

  bool operator==(const SlideCell&) const = default;
};
struct SlideRow {
  std::string plot;
  bool turn = false;  // the first of a field row
  bool in_run = false;
  bool changed = false;  // it will hold something else
  std::vector<SlideCell> now;
  std::vector<SlideCell> then;
  std::optional<std::size_t> goes_to;  // the row that gets its values
  bool lost = false;                   // the path ends before it has a place for them

  bool operator==(const SlideRow&) const = default;
};
struct SlideLost {  // values that would have no plot to go to
  std::string plot;
  std::vector<SlideCell> cells;

  bool operator==(const SlideLost&) const = default;
};
struct SlideView {
  std::string from;
  std::string to;
  int by = 0;
  bool choosing_to = false;
  std::vector<SlideRow> rows;
  std::size_t first_in_run = 0;
  std::vector<SlideLost> lost;
  std::optional<Words> problem;  // why it can't be done
  std::string problem_measure;   // the last argument of its words, as a measure; empty: none
  std::size_t moved = 0;         // values
  bool can_do = false;
  bool can_take_back = false;

  bool operator==(const SlideView&) const = default;
};

}  // namespace ligule::flow
