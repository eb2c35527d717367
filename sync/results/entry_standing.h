// What an entry is in its test, beside its numbers: a check, on sale or not, and where the plan has
// it.
#pragma once

#include <cstddef>
#include <string>
#include <tuple>

namespace ligule::results {

enum class Market { kNotStated, kOnSale, kExperimental };

struct EntryStanding {
  std::string test;
  std::string entry;      // as results print it
  std::size_t place = 0;  // in the plan's order of codes, or in the order of the file
  bool check = false;
  Market market = Market::kNotStated;

  bool operator==(const EntryStanding&) const = default;
};

// By test, then entry: the order in which they are looked up.
[[nodiscard]] inline bool standing_before(const EntryStanding& a, const EntryStanding& b) {
  return std::tie(a.test, a.entry) < std::tie(b.test, b.entry);
}

}  // namespace ligule::results
