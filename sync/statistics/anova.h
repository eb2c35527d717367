// Lines of an analysis of variance, and the error terms of a fit. For this room only.
#pragma once

#include "sync/statistics/fit.h"

namespace ligule::statistics {

[[nodiscard]] AnovaRow anova_row(double df, double sum_of_squares);

// Sets F and p of a row, where the fit has an error mean square above zero.
void test_against_error(AnovaRow& row, const Fit& fit);

// Sets error and total rows, error mean square and CV of a fit whose observations, mean and error
// df are set. `largest` is the largest |value| before any mean was taken off.
void set_error_terms(Fit& fit, double largest, double residual_ss, double total_ss);

}  // namespace ligule::statistics
