// What an entry is in its test, beside its numbers: a check, on sale or not, and where the plan has
// it.
#pragma once

#include <cstddef>
#include <string>
#include <tuple>

#include "sync/results/market.h"

namespace ligule::results {

struct EntryStanding {
  std::string test;
  std::string entry;      // as results print it
  std::size_t place = 0;  // orders those of a test as its plan has them, or the file
  bool check = false;
  Market market = Market::kNotStated;

  bool operator==(const EntryStanding&) const = default;
};

// By test, then entry: the order in which they are looked up.
[[nodiscard]] inline bool standing_before(const EntryStanding& a, const EntryStanding& b) {
  return std::tie(a.test, a.entry) < std::tie(b.test, b.entry);
}

}  // namespace ligule::results
