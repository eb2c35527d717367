// The same plots measured several times: treatments in blocks, each plot at each time.
//
// Treatments are the main units, times the sub units. Two analyses of the same sums: the split
// plot, and the split plot in time, which takes block x time out of the error of the sub units,
// because times come in one order and cannot be drawn (Steel & Torrie, Principles and Procedures of
// Statistics, 1980, ch. 16; Gomez & Gomez, Statistical Procedures for Agricultural Research, 1984:
// from memory).
//
// As in fit.h: plain indices, results do not depend on the order of the observations, what can't be
// had is empty and nothing is ever NaN.
#pragma once

#include <cstddef>
#include <expected>
#include <optional>
#include <span>

#include "sync/statistics/fit.h"

namespace ligule::statistics {

struct TimedObservation {
  std::size_t treatment, block, time;  // each below its number
  double value;                        // finite
};

enum class WhyNoSplit {
  kTooFew,    // below two treatments, two blocks or two times
  kMissing,   // a treatment has no value in some block at some time
  kRepeated,  // it has more than one
  kTooLarge,  // the squares of the values are beyond any number
};

// Two means compared: the least significant difference is standard_error * t, or * weighted_t.
struct SplitDifference {
  double standard_error = 0.0;
  // Of its error mean square. Where it is made of two, Satterthwaite's, not rounded; empty where
  // both are 0.
  std::optional<double> df;
  std::optional<double> t;  // two-sided quantile on df
  // Only where it is made of two: their t, weighted by their shares (t' of Cochran & Cox,
  // Experimental Designs, 1957: from memory).
  std::optional<double> weighted_t;
};

struct SplitDifferences {
  SplitDifference treatments;          // means over all times
  SplitDifference times;               // means over all treatments
  SplitDifference times_of_treatment;  // of one treatment
  SplitDifference treatments_at_time;  // at one time
};

// Blocks and treatments are tested with error a, in both analyses. An error mean square that is
// rounding noise is 0 (see Fit); what is tested with it then has no F and p.
struct SplitPlot {
  AnovaRow block, treatment;
  AnovaRow error_a;               // block x treatment
  AnovaRow time, treatment_time;  // tested with error b
  AnovaRow error_b;               // all that is left
  AnovaRow total;
  // 100 sqrt(error) / mean of all; empty unless that is above zero
  std::optional<double> cv_a_percent, cv_b_percent;
};

struct SplitPlotInTime {
  AnovaRow block, treatment;
  AnovaRow error_a;         // block x treatment
  AnovaRow time;            // tested with error b
  AnovaRow error_b;         // block x time
  AnovaRow treatment_time;  // tested with error c
  AnovaRow error_c;         // block x treatment x time
  AnovaRow total;
  std::optional<double> cv_a_percent, cv_b_percent, cv_c_percent;
};

// The test of treatment x time, in time, with fewer degrees of freedom: values of one plot hang
// together, and where they do so more at some times than at others the plain F finds too much.
struct CautiousTest {
  double epsilon = 1.0;  // both df of the plain test are multiplied by it
  double df = 0.0;
  double df_error = 0.0;
  std::optional<double> p;
};

struct TimesOfPlots {
  double mean = 0.0;  // of all values
  SplitPlot split_plot;
  SplitPlotInTime in_time;
  // Greenhouse & Geisser, Psychometrika 24 (1959), from memory: epsilon estimated from the
  // residuals. Empty where error c is 0.
  std::optional<CautiousTest> greenhouse_geisser;
  CautiousTest lower_bound;  // the worst there can be, epsilon 1 / (times - 1)
};

// Every treatment must have exactly one value in every block at every time: with less there is no
// table, only the reason.
[[nodiscard]] std::expected<TimesOfPlots, WhyNoSplit> split_in_time(
    std::span<const TimedObservation> observations, std::size_t treatments, std::size_t blocks,
    std::size_t times);

// Of the tables above, with t two-sided at `alpha`, between 0 and 1.
[[nodiscard]] SplitDifferences differences(const SplitPlot& table, double alpha);
[[nodiscard]] SplitDifferences differences(const SplitPlotInTime& table, double alpha);

}  // namespace ligule::statistics
