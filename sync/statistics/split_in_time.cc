#include "sync/statistics/split_in_time.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>
#include <vector>

#include "sync/statistics/distributions.h"
#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

using Grid = std::vector<double>;

// A complete table of treatments x blocks x times: values as distances from their mean, and every
// margin of it as means of those.
struct TimedTable {
  std::size_t treatments = 0, blocks = 0, times = 0;
  Grid cells;
  double mean = 0.0;
  double largest = 0.0;                                       // |value| before centring
  Grid of_treatment, of_block, of_time;                       // one index each
  Grid of_treatment_block, of_treatment_time, of_block_time;  // first index major

  [[nodiscard]] double t() const { return static_cast<double>(treatments); }
  [[nodiscard]] double b() const { return static_cast<double>(blocks); }
  [[nodiscard]] double c() const { return static_cast<double>(times); }
  [[nodiscard]] std::size_t at(std::size_t i, std::size_t j, std::size_t k) const {
    return (i * blocks + j) * times + k;
  }
  // What neither treatment, block, time nor two of them together explain.
  [[nodiscard]] double left(std::size_t i, std::size_t j, std::size_t k) const {
    return cells[at(i, j, k)] - of_treatment_block[i * blocks + j] -
           of_treatment_time[i * times + k] - of_block_time[j * times + k] + of_treatment[i] +
           of_block[j] + of_time[k];
  }
};

template <class Visit>
void each_cell(const TimedTable& table, Visit visit) {
  for (std::size_t i = 0; i < table.treatments; ++i) {
    for (std::size_t j = 0; j < table.blocks; ++j) {
      for (std::size_t k = 0; k < table.times; ++k) visit(i, j, k);
    }
  }
}

std::expected<TimedTable, WhyNoSplit> whole_table(std::span<const TimedObservation> observations,
                                                  std::size_t treatments, std::size_t blocks,
                                                  std::size_t times) {
  if (treatments < 2 || blocks < 2 || times < 2) return std::unexpected(WhyNoSplit::kTooFew);
  TimedTable table;
  table.treatments = treatments;
  table.blocks = blocks;
  table.times = times;
  const std::size_t size = treatments * blocks * times;
  table.cells.resize(size);
  std::vector<bool> filled(size, false);
  bool repeated = false;
  for (const TimedObservation& one : observations) {
    assert(one.treatment < treatments && one.block < blocks && one.time < times);
    assert(std::isfinite(one.value));
    const std::size_t cell = table.at(one.treatment, one.block, one.time);
    repeated = repeated || filled[cell];
    filled[cell] = true;
    table.cells[cell] = one.value;
  }
  if (repeated) return std::unexpected(WhyNoSplit::kRepeated);
  if (observations.size() < size) return std::unexpected(WhyNoSplit::kMissing);
  return table;
}

// In two passes, as fit.cc does and for its reason.
void take_out_mean(TimedTable& table) {
  const auto n = static_cast<double>(table.cells.size());
  for (const double value : table.cells) {
    table.mean += value;
    table.largest = std::max(table.largest, std::fabs(value));
  }
  table.mean /= n;
  double left = 0.0;
  for (const double value : table.cells) left += value - table.mean;
  table.mean += left / n;
  for (double& value : table.cells) value -= table.mean;
}

void set_margins(TimedTable& table) {
  const auto [t, b, c] = std::tuple(table.t(), table.b(), table.c());
  table.of_treatment.resize(table.treatments);
  table.of_block.resize(table.blocks);
  table.of_time.resize(table.times);
  table.of_treatment_block.resize(table.treatments * table.blocks);
  table.of_treatment_time.resize(table.treatments * table.times);
  table.of_block_time.resize(table.blocks * table.times);
  each_cell(table, [&](std::size_t i, std::size_t j, std::size_t k) {
    const double value = table.cells[table.at(i, j, k)];
    table.of_treatment[i] += value / (b * c);
    table.of_block[j] += value / (t * c);
    table.of_time[k] += value / (t * b);
    table.of_treatment_block[i * table.blocks + j] += value / c;
    table.of_treatment_time[i * table.times + k] += value / b;
    table.of_block_time[j * table.times + k] += value / t;
  });
}

// Sums of squared distances, never differences of sums.
struct SplitSquares {
  double block = 0.0, treatment = 0.0, treatment_block = 0.0, time = 0.0, treatment_time = 0.0;
  double block_time = 0.0, left = 0.0, total = 0.0;
};

SplitSquares split_squares(const TimedTable& table) {
  SplitSquares ss;
  const auto square = [](double distance) { return distance * distance; };
  each_cell(table, [&](std::size_t i, std::size_t j, std::size_t k) {
    const double treatment = table.of_treatment[i];
    const double block = table.of_block[j];
    const double time = table.of_time[k];
    ss.treatment += square(treatment);
    ss.block += square(block);
    ss.time += square(time);
    ss.treatment_block +=
        square(table.of_treatment_block[i * table.blocks + j] - treatment - block);
    ss.treatment_time += square(table.of_treatment_time[i * table.times + k] - treatment - time);
    ss.block_time += square(table.of_block_time[j * table.times + k] - block - time);
    ss.left += square(table.left(i, j, k));
    ss.total += square(table.cells[table.at(i, j, k)]);
  });
  return ss;
}

AnovaRow line_of(double df, double sum_of_squares) {
  AnovaRow row;
  row.df = df;
  row.sum_of_squares = sum_of_squares;
  row.mean_square = sum_of_squares / df;
  return row;
}

AnovaRow error_line(const TimedTable& table, double df, double sum_of_squares) {
  AnovaRow row = line_of(df, sum_of_squares);
  const double noise = kNoise * table.largest;
  if (row.mean_square.value_or(0.0) <= noise * noise) row.mean_square = row.sum_of_squares = 0.0;
  return row;
}

void test_with(AnovaRow& row, const AnovaRow& error) {
  const double below = error.mean_square.value_or(0.0);
  if (!row.mean_square || below <= 0.0) return;
  row.f = finite(*row.mean_square / below);
  if (row.f) row.p = f_upper_tail(*row.f, row.df, error.df);
}

std::optional<double> cv_of(const AnovaRow& error, const TimedTable& table) {
  if (!error.mean_square || table.mean <= 0.0 || zero_mean(table.mean, table.largest))
    return std::nullopt;
  return finite(100.0 * std::sqrt(*error.mean_square) / table.mean);
}

// Of means over so many values each.
SplitDifference difference_of(const AnovaRow& error, double values, double alpha) {
  SplitDifference out;
  out.standard_error = std::sqrt(2.0 * error.mean_square.value_or(0.0) / values);
  out.df = error.df;
  out.t = t_two_sided_quantile(alpha, error.df);
  return out;
}

// Of means over `values` values each, where the square of a difference is expected to be
// 2 (whole + (levels - 1) part) / (levels values).
SplitDifference mixed_difference(const AnovaRow& whole, const AnovaRow& part, double levels,
                                 double values, double alpha) {
  const double first = whole.mean_square.value_or(0.0);
  const double second = (levels - 1.0) * part.mean_square.value_or(0.0);
  const double sum = first + second;
  SplitDifference out;
  out.standard_error = std::sqrt(2.0 * sum / (levels * values));
  if (sum <= 0.0) return out;
  const double share = first / sum;
  const double rest = second / sum;
  out.df = 1.0 / (share * share / whole.df + rest * rest / part.df);
  out.t = t_two_sided_quantile(alpha, *out.df);
  const auto of_whole = t_two_sided_quantile(alpha, whole.df);
  const auto of_part = t_two_sided_quantile(alpha, part.df);
  if (of_whole && of_part) out.weighted_t = share * *of_whole + rest * *of_part;
  return out;
}

SplitPlot split_plot_of(const TimedTable& table, const SplitSquares& ss) {
  const auto [t, b, c] = std::tuple(table.t(), table.b(), table.c());
  SplitPlot out;
  out.error_a = error_line(table, (b - 1.0) * (t - 1.0), ss.treatment_block);
  out.error_b = error_line(table, t * (b - 1.0) * (c - 1.0), ss.block_time + ss.left);
  out.block = line_of(b - 1.0, ss.block);
  out.treatment = line_of(t - 1.0, ss.treatment);
  out.time = line_of(c - 1.0, ss.time);
  out.treatment_time = line_of((t - 1.0) * (c - 1.0), ss.treatment_time);
  out.total = line_of(t * b * c - 1.0, ss.total);
  for (AnovaRow* row : {&out.block, &out.treatment}) test_with(*row, out.error_a);
  for (AnovaRow* row : {&out.time, &out.treatment_time}) test_with(*row, out.error_b);
  out.cv_a_percent = cv_of(out.error_a, table);
  out.cv_b_percent = cv_of(out.error_b, table);
  return out;
}

SplitPlotInTime in_time_of(const TimedTable& table, const SplitSquares& ss,
                           const SplitPlot& plain) {
  const auto [t, b, c] = std::tuple(table.t(), table.b(), table.c());
  SplitPlotInTime out;
  out.block = plain.block;
  out.treatment = plain.treatment;
  out.error_a = plain.error_a;
  out.total = plain.total;
  out.error_b = error_line(table, (b - 1.0) * (c - 1.0), ss.block_time);
  out.error_c = error_line(table, (b - 1.0) * (t - 1.0) * (c - 1.0), ss.left);
  out.time = line_of(c - 1.0, ss.time);
  out.treatment_time = line_of((t - 1.0) * (c - 1.0), ss.treatment_time);
  test_with(out.time, out.error_b);
  test_with(out.treatment_time, out.error_c);
  out.cv_a_percent = plain.cv_a_percent;
  out.cv_b_percent = cv_of(out.error_b, table);
  out.cv_c_percent = cv_of(out.error_c, table);
  return out;
}

// Numbers of treatments, blocks and times, as the degrees of freedom have them.
struct Sizes {
  double t, b, c;
};

template <class Table>
Sizes sizes_of(const Table& table) {
  return {table.treatment.df + 1.0, table.block.df + 1.0, table.time.df + 1.0};
}

CautiousTest cautious(const AnovaRow& tested, const AnovaRow& error, double epsilon) {
  CautiousTest out;
  out.epsilon = epsilon;
  out.df = tested.df * epsilon;
  out.df_error = error.df * epsilon;
  if (tested.f) out.p = f_upper_tail(*tested.f, out.df, out.df_error);
  return out;
}

// From the covariances between times of what is left, each as a share of their trace. What is left
// is centred over times, so these are the covariances of any orthonormal contrasts, turned back:
// trace and sum of squares are the same.
std::optional<double> epsilon_of(const TimedTable& table, double trace) {
  double squares = 0.0;
  for (std::size_t k = 0; k < table.times; ++k) {
    for (std::size_t l = 0; l < table.times; ++l) {
      double product = 0.0;
      for (std::size_t i = 0; i < table.treatments; ++i) {
        for (std::size_t j = 0; j < table.blocks; ++j) {
          product += table.left(i, j, k) * table.left(i, j, l);
        }
      }
      squares += product / trace * (product / trace);
    }
  }
  return finite(1.0 / ((table.c() - 1.0) * squares));
}

}  // namespace

std::expected<TimesOfPlots, WhyNoSplit> split_in_time(
    std::span<const TimedObservation> observations, std::size_t treatments, std::size_t blocks,
    std::size_t times) {
  auto whole = whole_table(observations, treatments, blocks, times);
  if (!whole) return std::unexpected(whole.error());
  TimedTable& table = *whole;
  take_out_mean(table);
  set_margins(table);
  const SplitSquares ss = split_squares(table);
  // No sum of squares is larger than the total but for rounding.
  if (!std::isfinite(table.mean) || !std::isfinite(2.0 * ss.total)) {
    return std::unexpected(WhyNoSplit::kTooLarge);
  }

  TimesOfPlots out;
  out.mean = table.mean;
  out.split_plot = split_plot_of(table, ss);
  out.in_time = in_time_of(table, ss, out.split_plot);
  const SplitPlotInTime& in_time = out.in_time;
  out.lower_bound = cautious(in_time.treatment_time, in_time.error_c, 1.0 / (table.c() - 1.0));
  if (in_time.error_c.mean_square.value_or(0.0) > 0.0) {
    if (const auto epsilon = epsilon_of(table, ss.left)) {
      out.greenhouse_geisser = cautious(in_time.treatment_time, in_time.error_c, *epsilon);
    }
  }
  return out;
}

SplitDifferences differences(const SplitPlot& table, double alpha) {
  const auto [t, b, c] = sizes_of(table);
  return {.treatments = difference_of(table.error_a, b * c, alpha),
          .times = difference_of(table.error_b, b * t, alpha),
          .times_of_treatment = difference_of(table.error_b, b, alpha),
          .treatments_at_time = mixed_difference(table.error_a, table.error_b, c, b, alpha)};
}

SplitDifferences differences(const SplitPlotInTime& table, double alpha) {
  const auto [t, b, c] = sizes_of(table);
  return {.treatments = difference_of(table.error_a, b * c, alpha),
          .times = difference_of(table.error_b, b * t, alpha),
          .times_of_treatment = mixed_difference(table.error_b, table.error_c, t, b, alpha),
          .treatments_at_time = mixed_difference(table.error_a, table.error_c, c, b, alpha)};
}

}  // namespace ligule::statistics
