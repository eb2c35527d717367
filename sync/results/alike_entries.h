// Entries of a run whose names people may take for one another: listed for somebody to look at,
// never joined.
#pragma once

#include <set>
#include <span>
#include <string>
#include <vector>

#include "sync/results/aliases.h"

namespace ligule::results {

// An entry's label in any test of a run.
struct NamedEntry {
  std::string label;
  std::set<std::string> species = {};  // in small letters; empty: not known
};

struct AlikeNames {
  std::string first, second;  // labels, in byte order
  bool letter_apart = false;  // false: one name spelled two ways

  bool operator==(const AlikeNames&) const = default;
};

// By label. Compared are varieties, and of one variety the strains of one endophyte status: its
// statuses are entries of their own. Where two varieties are alike those labels are listed that
// agree in the endophyte, or where none do the first of each. Left out are names of different
// species, and those that an alias brings under one name.
[[nodiscard]] std::vector<AlikeNames> alike_names(std::span<const NamedEntry> entries,
                                                  const std::vector<Alias>& aliases);

}  // namespace ligule::results
