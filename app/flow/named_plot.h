// A plot as a person or a scanner names it: by its number, or by what the code on its stake holds
// (storage/trial/stake_code.h), which says the trial too.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/flow/book.h"
#include "app/flow/turn.h"

namespace ligule::flow {

struct NamedPlot {
  std::string trial;  // its code, where the text said one; else empty
  std::string number;
};

// A number of the book's trial goes before everything else that the text could be. A code of a
// trial that this tablet does not hold is known by its stroke alone.
[[nodiscard]] NamedPlot named_plot(const Model& model, const Book& book, std::string_view text);

// Whether the plan of the book has it, whether it takes part or not.
[[nodiscard]] bool is_in_plan(const Model& model, const Book& book, const NamedPlot& plot);
// Empty: it is of another trial, or takes no part, or there is none.
[[nodiscard]] std::optional<std::size_t> place_of(const Model& model, const Book& book,
                                                  const NamedPlot& plot);

// Words for why it has no place.
struct NoPlace {
  std::string key;
  std::vector<std::string> arguments;
};
[[nodiscard]] NoPlace no_place(const Model& model, const Book& book, const NamedPlot& plot);
// Says it; of a plot that was abandoned the form of what stands there is opened, where it can be.
void tell_no_place(Turn& turn, const Book& book, const NamedPlot& plot);

}  // namespace ligule::flow
