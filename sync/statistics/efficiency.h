// What a design gained over one that would have left some of its factors out.
//
// The error mean square that the other design would have had, over that of this one: 1.5 says that
// the other would have needed half as many plots again for the same precision. Complete designs
// give the textbook figures (Gomez & Gomez 1984, Statistical Procedures for Agricultural Research,
// chapter 2; Steel & Torrie 1980, chapter 9; both from memory):
//   blocks over none      ((b-1) MSB + b (t-1) MSE) / ((bt-1) MSE)
//   Latin square over none           (MSR + MSC + (t-1) MSE) / ((t+1) MSE)
//   Latin square over columns only   (MSR + (t-1) MSE) / (t MSE)
// Where plots are missing, the same comparison is made of the variance among the levels that the
// adjusted mean square leads to, and of how often two plots that the other design would compare
// lie in different levels: our extension, no source, which gives the above where none is missing.
#pragma once

#include <optional>
#include <vector>

#include "sync/statistics/crossed_fit.h"
#include "sync/statistics/fit.h"

namespace ligule::statistics {

struct Efficiency {
  double plain = 1.0;
  // Times Fisher's (f+1)(g+3) / ((f+3)(g+1)), f the error df of this design and g of the other,
  // because an error from few df is known less well. Books ask for it where f is below 20.
  double corrected = 1.0;
};

// `fit` is that of `data`, all of whose terms are factors; `left_out` says of each whether the
// other design would lack it. Empty without an error mean square above zero, and where a factor
// left out has no df of its own.
[[nodiscard]] std::optional<Efficiency> efficiency_over(const CrossedData& data,
                                                        const CrossedFit& fit,
                                                        const std::vector<bool>& left_out);

// Of one design beside another fitted to the same values: the mean variance of a difference of two
// treatments in the other over that in this one, so that what incomplete blocks cost counts too
// (Cochran & Cox 1957, chapter 10, compare a lattice with its complete blocks so; from memory).
// Empty without an error mean square above zero in both, and where a difference can't be had.
[[nodiscard]] std::optional<Efficiency> efficiency_beside(const Fit& fit, const Fit& other);

// Of blocks over none where every treatment stands once in every block: the textbook figure from
// the sums of the fit, which takes no time. Empty for anything else, and without an error mean
// square above zero.
[[nodiscard]] std::optional<Efficiency> efficiency_of_complete_blocks(const Fit& fit);

}  // namespace ligule::statistics
