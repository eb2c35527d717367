// Rows of plot values sorted out by their labels. For this room only.
#pragma once

#include <cstddef>
#include <functional>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "sync/results/plot_value.h"

namespace ligule::results {

// Labels are a few bytes long: to call for a comparison would take longer than to make it.
[[nodiscard]] inline bool same_key(std::string_view a, std::string_view b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i)
    if (a[i] != b[i]) return false;
  return true;
}
[[nodiscard]] inline bool same_key(Label a, Label b) {
  return a == b;
}

// Keys by numbers, from 0 in the order in which they first come. Made for rows of values:
// neighbours share most labels, and entries come in the same order in every block, so that mostly
// the last key or the one after it is asked for again.
template <class Key>
class Numbering {
 public:
  // Of a new key `keep` says what is kept: the same key, which must stay as long as this does.
  template <class Keep = std::identity>
  [[nodiscard]] std::size_t of(Key key, const Keep& keep = {}) {
    if (!keys_.empty()) {
      if (same_key(keys_[last_], key)) return last_;
      const std::size_t next = last_ + 1 < keys_.size() ? last_ + 1 : 0;
      if (same_key(keys_[next], key)) return last_ = next;
    }
    const auto found = places_.find(key);
    if (found != places_.end()) return last_ = found->second;
    keys_.push_back(keep(key));
    places_.emplace(keys_.back(), keys_.size() - 1);
    return last_ = keys_.size() - 1;
  }
  [[nodiscard]] const std::vector<Key>& keys() const { return keys_; }

 private:
  std::vector<Key> keys_;
  std::unordered_map<Key, std::size_t> places_;
  std::size_t last_ = 0;
};

using RowsOfTest = std::vector<const PlotValue*>;

// In the order of the values; all views and pointers are into them.
[[nodiscard]] std::map<std::string_view, RowsOfTest> rows_by_test(
    std::span<const PlotValue> values);

// The different labels of a column, in byte order, and each row's place among them.
struct NumberedLabels {
  std::vector<std::string> labels;
  std::vector<std::size_t> of_row;
};

[[nodiscard]] NumberedLabels number_labels(const RowsOfTest& rows, Label PlotValue::*label);

}  // namespace ligule::results
