// Quantiles and tails of Student's t and of F, for any real degrees of freedom.
//
// Tails are computed directly, never as one minus the other side, so that a probability of 1e-300
// still has its digits. A question without an answer (no degrees of freedom, a probability outside
// its range, a number that is not finite) gives nothing instead of NaN.
#pragma once

#include <optional>

namespace ligule::statistics {

// The q with P(T <= q) = `probability`, 0 < probability < 1, df > 0 (infinity: the normal).
[[nodiscard]] std::optional<double> t_quantile(double probability, double df);

// The q with P(|T| > q) = `alpha`, 0 < alpha < 1: what a two-sided least significant difference
// multiplies its standard error by.
[[nodiscard]] std::optional<double> t_two_sided_quantile(double alpha, double df);

// P(|T| > |t|).
[[nodiscard]] std::optional<double> t_two_sided_tail(double t, double df);

// The q with P(F <= q) = `probability`; df_above > 0 finite, df_below > 0 (infinity: chi-squared
// over its degrees of freedom).
[[nodiscard]] std::optional<double> f_quantile(double probability, double df_above,
                                               double df_below);

// P(F > f), f >= 0; degrees of freedom as for f_quantile.
[[nodiscard]] std::optional<double> f_upper_tail(double f, double df_above, double df_below);

// P(|T| > |t|) where T is noncentral t: how often a two-sided test finds a difference that lies
// `noncentrality` of its standard errors from 0. df > 0, finite; noncentrality finite. To about 12
// digits.
[[nodiscard]] std::optional<double> noncentral_t_two_sided_tail(double t, double df,
                                                                double noncentrality);

}  // namespace ligule::statistics
