// A plot's subsample that is sorted by hand, as far as it stands in a cutting. Shared by update and
// views; not for other rooms.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/book.h"
#include "storage/checks/history.h"
#include "storage/trial/composition.h"

namespace ligule::flow {

// One part of it.
struct PartCells {
  Cell number;  // of its bag; state zero: there is nothing of the part
  Cell fresh;   // weights of that bag
  Cell dried;

  [[nodiscard]] bool none() const;
  [[nodiscard]] bool stated() const;  // none, or in a bag that was weighed fresh
};
struct SortedSample {
  Cell whole;  // before it was sorted
  std::array<PartCells, composition::kPartCount> parts;

  [[nodiscard]] bool begun() const;
  [[nodiscard]] int parts_stated() const;
  [[nodiscard]] bool complete() const;  // whole and all parts
};
[[nodiscard]] SortedSample sorted_sample(const Model& model, const Book& book,
                                         const PlanPlot& plot);
// All that stands of it.
[[nodiscard]] std::vector<Cell> sorted_cells(const Model& model, const Book& book,
                                             const PlanPlot& plot);

// What the rules may look at for one weight of it, or for saying that there is nothing of a part.
// part: which, 0 the whole. The bag's own tare where it was weighed is not known here.
void add_sorted(const Model& model, const Book& book, const PlanPlot& plot, int part,
                checks::History& history);
// What the parts come to, in percent of the whole, one decimal; empty: not all of it stands.
[[nodiscard]] std::string parts_of_whole(const Model& model, const Book& book,
                                         const PlanPlot& plot);
// The part whose bag a record numbered; 0: it is no part's bag.
[[nodiscard]] int part_with_bag(const Model& model, const Book& book, const PlanPlot& plot,
                                const Uuid& bag);
// Key of the word for a part, 1 to 5.
[[nodiscard]] std::string part_word(int part);

}  // namespace ligule::flow
