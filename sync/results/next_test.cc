#include "sync/results/next_test.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "sync/results/labels.h"
#include "sync/statistics/blocks_needed.h"

namespace ligule::results {
namespace {

// Above this, mean squares of several tests should not be pooled without a look: rule of thumb
// after Gomez & Gomez (1984) ch. 8, from memory, which has 3 to 4.
constexpr double kDoubtfulRatio = 4.0;

// Those that a sum over all years rests on.
std::size_t years_with_values(std::span<const Analysis> of_test) {
  std::set<std::optional<int>> years;
  for (const Analysis& analysis : of_test) {
    if (analysis.span != Span::kAllYears && analysis.values > 0) years.insert(analysis.year);
  }
  return std::max<std::size_t>(years.size(), 1);
}

// All that follows from mse, entries and the wished LSD.
void plan_blocks(NextTestRow& row, double alpha) {
  namespace st = statistics;
  row.blocks = st::blocks_for_difference(row.mse, row.entries, alpha, row.wished);
  if (row.blocks) {
    row.lsd = st::expected_difference(row.mse, row.entries, *row.blocks, alpha);
    row.chance = st::chance_to_find(row.wished, row.mse, row.entries, *row.blocks, alpha);
  }
  row.blocks_to_find = st::blocks_to_find(row.wished, row.mse, row.entries, alpha, kChanceToFind);
  for (std::size_t blocks = kFewestListed; blocks <= kMostListed; ++blocks) {
    row.listed.push_back(st::expected_difference(row.mse, row.entries, blocks, alpha));
  }
}

std::optional<double> in_the_unit(const WishedLsd& wished, double mean) {
  const double size = wished.percent_of_mean ? wished.size / 100.0 * mean : wished.size;
  if (!(size > 0.0) || !std::isfinite(size)) return std::nullopt;
  return size;
}

std::optional<NextTestRow> row_of(const Analysis& analysis, std::size_t years,
                                  const NextTest& next) {
  if (!analysis.mse || !analysis.df_error || !analysis.mean) return std::nullopt;
  NextTestRow row;
  row.test = analysis.test;
  row.year = year_label(analysis);
  row.cutting = cutting_label(analysis);
  row.years = years;
  row.entries = analysis.entries;
  const auto per_year = static_cast<double>(years);
  row.mse = *analysis.mse / (per_year * per_year);
  row.df_error = *analysis.df_error;
  row.mean = *analysis.mean / per_year;
  const auto wished = in_the_unit(next.wished, row.mean);
  if (!(row.mse > 0.0) || !(row.df_error > 0.0) || row.entries < 2 || !wished) return std::nullopt;
  row.wished = *wished;
  plan_blocks(row, next.alpha);
  return row;
}

void pool(NextTest& next) {
  std::vector<statistics::ErrorMeanSquare> errors;
  double means = 0.0;
  double entries = 0.0;
  double smallest = 0.0;
  double largest = 0.0;
  for (const NextTestRow& row : next.rows) {
    if (!row.counts) continue;
    smallest = errors.empty() ? row.mse : std::min(smallest, row.mse);
    largest = std::max(largest, row.mse);
    errors.push_back({row.mse, row.df_error});
    means += row.mean;
    entries += static_cast<double>(row.entries);
  }
  const auto error = statistics::pooled(errors);
  if (errors.size() < 2 || !error) return;
  next.mse_ratio = largest / smallest;
  NextTestRow row;
  row.cutting = "total";
  row.mse = error->value;
  row.df_error = error->df;
  row.mean = means / static_cast<double>(errors.size());
  row.entries = static_cast<std::size_t>(std::ceil(entries / static_cast<double>(errors.size())));
  const auto wished = in_the_unit(next.wished, row.mean);
  if (!wished) return;
  row.wished = *wished;
  plan_blocks(row, next.alpha);
  next.pooled = std::move(row);
}

std::string csv_row(const NextTestRow& row) {
  const auto count = [](const std::optional<std::size_t>& blocks) {
    return blocks ? std::to_string(*blocks) : std::string();
  };
  std::vector<std::string> fields = {row.test,
                                     row.year,
                                     row.cutting,
                                     std::to_string(row.years),
                                     exact(row.mse),
                                     exact(row.df_error),
                                     std::to_string(row.entries),
                                     exact(row.mean),
                                     exact(row.wished),
                                     count(row.blocks),
                                     exact_or_empty(row.lsd),
                                     row.chance ? exact(100.0 * *row.chance) : std::string(),
                                     count(row.blocks_to_find)};
  for (const auto& lsd : row.listed) fields.push_back(exact_or_empty(lsd));
  return csv_line(fields);
}

// To three digits.
std::string figure(double number) {
  return rounded(number, decimals_for(number, std::nullopt));
}

std::string blocks_text(const std::optional<std::size_t>& blocks) {
  return blocks ? std::to_string(*blocks) + " blocks"
                : "more than " + std::to_string(statistics::kMostBlocks) + " blocks";
}

std::string told(const NextTestRow& row, const std::string& from, const NextTest& next,
                 const std::string& unit) {
  const std::string size = figure(row.wished) + (unit.empty() ? "" : " " + unit);
  const std::string wish =
      next.wished.percent_of_mean ? exact(next.wished.size) + " % of the mean, " + size : size;
  return "next test, from " + from + ": " + blocks_text(row.blocks) + " for an LSD of " + wish +
         (row.lsd ? " (expected " + figure(*row.lsd) + ")" : "") + ", " +
         blocks_text(row.blocks_to_find) + " to find a true difference of that size in " +
         rounded(100.0 * kChanceToFind, 0) + " of 100 tests";
}

std::string error_text(const NextTestRow& row) {
  return "MSE " + figure(row.mse) + " on " + exact(row.df_error) + " df, " +
         std::to_string(row.entries) + " entries";
}

std::string analysis_text(const NextTestRow& row) {
  std::string text = row.test;
  if (row.years > 1) {
    text += ", mean of " + std::to_string(row.years) + " years";
  } else {
    if (!row.year.empty()) text += " " + row.year;
    if (!row.cutting.empty()) text += row.cutting == "total" ? " total" : " cutting " + row.cutting;
  }
  return text + " (" + error_text(row) + ")";
}

}  // namespace

std::optional<WishedLsd> wished_lsd_of(std::string_view text) {
  WishedLsd wished;
  if (text.ends_with('%')) {
    wished.percent_of_mean = true;
    text.remove_suffix(1);
    while (text.ends_with(' ')) text.remove_suffix(1);
  }
  const std::optional<double> size = number(text);
  if (!size || !(*size > 0.0)) return std::nullopt;
  wished.size = *size;
  return wished;
}

NextTest next_test(std::span<const Analysis> analyses, const WishedLsd& wished, double alpha) {
  NextTest next;
  next.wished = wished;
  next.alpha = alpha;
  for (std::size_t first = 0; first < analyses.size();) {
    std::size_t last = first + 1;
    while (last < analyses.size() && analyses[last].test == analyses[first].test) ++last;
    const auto of_test = analyses.subspan(first, last - first);
    first = last;
    for (const Analysis& analysis : of_test) {
      const bool counts = &analysis == &of_test.back();
      if (!counts && analysis.span != Span::kCutting) continue;
      const std::size_t years =
          analysis.span == Span::kAllYears ? years_with_values(of_test) : std::size_t{1};
      std::optional<NextTestRow> row = row_of(analysis, years, next);
      if (!row && counts) next.without.push_back(analysis.test);
      if (!row) continue;
      row->counts = counts;
      next.rows.push_back(*std::move(row));
    }
  }
  pool(next);
  return next;
}

std::string next_test_csv(const NextTest& next) {
  std::string text =
      "test,year,cutting,years,mse,df_error,entries,mean,wished_lsd,blocks,lsd,chance_percent,"
      "blocks_for_80";
  for (std::size_t blocks = kFewestListed; blocks <= kMostListed; ++blocks) {
    text += ",lsd_" + std::to_string(blocks);
  }
  text += "\n";
  for (const NextTestRow& row : next.rows) text += csv_row(row);
  if (next.pooled) text += csv_row(*next.pooled);
  return text;
}

std::vector<std::string> next_test_lines(const NextTest& next, const std::string& unit) {
  std::vector<std::string> lines;
  std::size_t tests = 0;
  for (const NextTestRow& row : next.rows) {
    if (!row.counts) continue;
    ++tests;
    lines.push_back(told(row, analysis_text(row), next, unit));
  }
  if (next.pooled) {
    std::string from =
        "all " + std::to_string(tests) + " tests pooled (" + error_text(*next.pooled) + ")";
    if (next.mse_ratio > kDoubtfulRatio) {
      from += ", which is doubtful, their largest MSE being " + rounded(next.mse_ratio, 1) +
              " times the smallest";
    }
    lines.push_back(told(*next.pooled, from, next, unit));
  }
  for (const std::string& test : next.without) {
    lines.push_back("next test: " + test +
                    " tells nothing of it, for want of an error mean square or a mean above 0");
  }
  if (tests > 0) {
    lines.emplace_back(
        "a true difference as large as the LSD is found in only about half of such tests; where "
        "it must not be missed, sow the larger number of blocks");
  }
  return lines;
}

}  // namespace ligule::results
