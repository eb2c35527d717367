// The names that entries are printed under, for whatever tells of entries.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace ligule::results {

// The name in print of a label; nothing: the entry is withheld. An empty function prints labels.
using PrintedName = std::function<std::optional<std::string>(const std::string& label)>;
[[nodiscard]] inline std::optional<std::string> name_in_print(const PrintedName& printed,
                                                              const std::string& label) {
  return printed ? printed(label) : std::optional(label);
}

// Rows of entries under their names in print, those of withheld ones left out; in their order.
template <class Row>
[[nodiscard]] std::vector<Row> printed_rows(std::vector<Row> rows, std::string Row::*entry,
                                            const PrintedName& printed) {
  std::vector<Row> shown;
  shown.reserve(rows.size());
  for (Row& row : rows) {
    std::optional<std::string> name = name_in_print(printed, row.*entry);
    if (!name) continue;
    row.*entry = *std::move(name);
    shown.push_back(std::move(row));
  }
  return shown;
}

}  // namespace ligule::results
