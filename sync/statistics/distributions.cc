#include "sync/statistics/distributions.h"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/complement.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numbers>

#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

namespace bm = boost::math;
// Nothing may throw out of this room: every trouble comes back as a value that is not finite and is
// turned into "nothing" below. And nothing is worked out in long double, which is another number on
// each processor (80 bits or 128): it would take eight times as long for other last digits on each.
using Quiet = bm::policies::policy<bm::policies::domain_error<bm::policies::ignore_error>,
                                   bm::policies::pole_error<bm::policies::ignore_error>,
                                   bm::policies::overflow_error<bm::policies::ignore_error>,
                                   bm::policies::evaluation_error<bm::policies::ignore_error>,
                                   bm::policies::promote_double<false>>;
using StudentT = bm::students_t_distribution<double, Quiet>;
using NoncentralT = bm::non_central_t_distribution<double, Quiet>;
using FisherF = bm::fisher_f_distribution<double, Quiet>;
using ChiSquared = bm::chi_squared_distribution<double, Quiet>;

bool open_unit(double probability) {
  return probability > 0.0 && probability < 1.0;
}

bool f_degrees(double df_above, double df_below) {
  return df_above > 0.0 && std::isfinite(df_above) && df_below > 0.0;
}

}  // namespace

std::optional<double> t_quantile(double probability, double df) {
  if (!open_unit(probability) || !(df > 0.0)) return std::nullopt;
  return finite(bm::quantile(StudentT(df), probability));
}

std::optional<double> t_two_sided_quantile(double alpha, double df) {
  if (!open_unit(alpha) || !(df > 0.0)) return std::nullopt;
  // The last answer is asked for again and again: many tests share their degrees of freedom.
  struct Answer {
    double alpha = 0.0, df = 0.0, quantile = 0.0;
  };
  thread_local Answer last;
  if (last.alpha != alpha || last.df != df) {
    // By symmetry the lower quantile of alpha/2 with its sign turned: 1 - alpha/2 would lose
    // digits.
    last = {alpha, df, -bm::quantile(StudentT(df), alpha / 2.0)};
  }
  return finite(last.quantile);
}

std::optional<double> t_two_sided_tail(double t, double df) {
  if (!std::isfinite(t) || !(df > 0.0)) return std::nullopt;
  // Cauchy's, whose closed form the library takes near 1, where it has lost digits by then.
  if (df == 1.0) return 2.0 * std::numbers::inv_pi * std::atan2(1.0, std::fabs(t));
  return finite(2.0 * bm::cdf(bm::complement(StudentT(df), std::fabs(t))));
}

std::optional<double> f_quantile(double probability, double df_above, double df_below) {
  if (!open_unit(probability) || !f_degrees(df_above, df_below)) return std::nullopt;
  if (std::isinf(df_below)) {
    return finite(bm::quantile(ChiSquared(df_above), probability) / df_above);
  }
  return finite(bm::quantile(FisherF(df_above, df_below), probability));
}

std::optional<double> f_upper_tail(double f, double df_above, double df_below) {
  if (!std::isfinite(f) || f < 0.0 || !f_degrees(df_above, df_below)) return std::nullopt;
  if (std::isinf(df_below)) {
    return finite(bm::cdf(bm::complement(ChiSquared(df_above), f * df_above)));
  }
  return finite(bm::cdf(bm::complement(FisherF(df_above, df_below), f)));
}

std::optional<double> noncentral_t_two_sided_tail(double t, double df, double noncentrality) {
  if (!std::isfinite(t) || !(df > 0.0) || !std::isfinite(df)) return std::nullopt;
  if (!std::isfinite(noncentrality)) return std::nullopt;
  if (noncentrality == 0.0) return t_two_sided_tail(t, df);
  const NoncentralT shifted(df, noncentrality);
  const double size = std::fabs(t);
  return finite(bm::cdf(bm::complement(shifted, size)) + bm::cdf(shifted, -size));
}

}  // namespace ligule::statistics
