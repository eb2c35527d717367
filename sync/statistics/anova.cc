#include "sync/statistics/anova.h"

#include <cmath>

#include "sync/statistics/distributions.h"
#include "sync/statistics/rounding.h"

namespace ligule::statistics {

AnovaRow anova_row(double df, double sum_of_squares) {
  AnovaRow row;
  row.df = df;
  row.sum_of_squares = sum_of_squares;
  if (df > 0.0) row.mean_square = finite(sum_of_squares / df);
  return row;
}

void test_against_error(AnovaRow& row, const Fit& fit) {
  const double error = fit.error_mean_square.value_or(0.0);
  if (!row.mean_square || error <= 0.0) return;
  row.f = finite(*row.mean_square / error);
  if (row.f) row.p = f_upper_tail(*row.f, row.df, fit.df_error);
}

void set_error_terms(Fit& fit, double largest, double residual_ss, double total_ss) {
  fit.error = anova_row(fit.df_error, residual_ss);
  fit.total = anova_row(static_cast<double>(fit.observations) - 1.0, total_ss);
  if (fit.df_error <= 0.0 || !fit.error.mean_square) return;
  const double noise = kNoise * largest;
  if (*fit.error.mean_square <= noise * noise) {
    fit.error.mean_square = 0.0;
    fit.error.sum_of_squares = 0.0;
  }
  fit.error_mean_square = fit.error.mean_square;
  if (!fit.mean || *fit.mean <= 0.0 || zero_mean(*fit.mean, largest)) return;
  fit.cv_percent = finite(100.0 * std::sqrt(*fit.error_mean_square) / *fit.mean);
}

}  // namespace ligule::statistics
