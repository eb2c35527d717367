// What an entry is in its test, beside its numbers: a check, on sale or not, and where the plan has
// it.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <tuple>

#include "sync/results/market.h"

namespace ligule::results {

// The name in print of a label; nothing: the entry is withheld. An empty function prints labels.
using PrintedName = std::function<std::optional<std::string>(const std::string& label)>;
[[nodiscard]] inline std::optional<std::string> name_in_print(const PrintedName& printed,
                                                              const std::string& label) {
  return printed ? printed(label) : std::optional(label);
}

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
