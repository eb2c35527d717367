// How the value of a measure reads that is more than one number or one record: several heights,
// shares, counts, visits. Inside this room only.
#pragma once

#include <optional>
#include <string>

#include "app/flow/book.h"

namespace ligule::flow {

// One record in short: "70" for counted cells, "60 25 15" for shares, "2.41" for counted stages,
// else as entered. Without its unit.
[[nodiscard]] std::string short_text(const Scale* scale, const Record& record);
// The same with every number, as a history tells it: "70 (15 14 20 21)".
[[nodiscard]] std::string full_text(const Scale* scale, const Record& record);

// What counts for a plot: the value, of several heights their mean, of visits the day of the year
// it was reached. Lengths and weights in `unit`. Empty: none yet.
struct PlotFigure {
  std::string text;
  std::optional<double> value;
};
[[nodiscard]] PlotFigure figure_of(const Model& model, const Book& book, const PlanPlot& plot,
                                   std::string_view measure, std::string_view unit);

// What one unit measures in the base unit of its kind; 1 for units that nothing converts.
[[nodiscard]] double size_of(const Scale& scale, std::string_view unit);

// "05-16" of a day of the year.
[[nodiscard]] std::string short_date(double day, int year);

}  // namespace ligule::flow
