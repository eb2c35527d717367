#include "sync/results/report_charts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <string_view>
#include <utility>

#include "sync/results/html.h"
#include "sync/results/labels.h"
#include "sync/results/svg.h"

namespace ligule::results {
namespace {

constexpr double kWidth = 480.0;
constexpr double kRow = 17.0;
constexpr double kTop = 34.0;    // the scale's numbers, and the LSD bar
constexpr double kRight = 64.0;  // for what stands behind a row
constexpr double kLetter = 6.4;  // about the width of one at 12 pixels
constexpr double kLeastLeft = 90.0, kMostLeft = 250.0;
constexpr std::size_t kMostRows = 34;  // of a drawing: what an upright and a lying page both hold

struct Range {
  double low = 0.0, high = 1.0;
};

// From a number below all to one above all, both round, and the step between its marks.
struct Axis {
  double low = 0.0, high = 1.0, step = 1.0;
  int decimals = 0;
};

Axis round_scale(Range range) {
  const double span = std::max(range.high - range.low, 1e-9 * (1.0 + std::fabs(range.high)));
  const double rough = span / 5.0;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  const double of = rough / power;
  Axis scale;
  scale.step = power * (of <= 1.0 ? 1.0 : of <= 2.0 ? 2.0 : of <= 5.0 ? 5.0 : 10.0);
  scale.low = std::floor(range.low / scale.step) * scale.step;
  scale.high = std::ceil(range.high / scale.step) * scale.step;
  if (scale.high <= scale.low) scale.high = scale.low + scale.step;
  scale.decimals = std::max(0, -static_cast<int>(std::floor(std::log10(scale.step) + 1e-9)));
  return scale;
}

// A chart of rows with a name each, and a scale above them. One of many rows is drawn in parts of
// about the same height, each with the scale above it, so that no page cuts through a row.
class RowChart {
 public:
  RowChart(const std::vector<std::string_view>& names, Range range)
      : left_(left_of(names)), scale_(round_scale(range)), rows_(rows_of_part(names.size())) {
    for (std::size_t first = 0; first < names.size(); first += rows_)
      add_part(std::span(names).subspan(first, std::min(rows_, names.size() - first)));
  }

  void dot(std::size_t row, double at, double radius, std::string_view style) {
    svg_of(row).dot(x(at), y(row), radius, style);
  }
  void line(std::size_t row, double from, double to, std::string_view style) {
    svg_of(row).line(x(from), y(row), x(to), y(row), style);
  }
  void behind(std::size_t row, const std::string& text) {
    svg_of(row).text(kWidth - 4.0, y(row) + 4.0, text, Anchor::kEnd);
  }
  // Below the scale, and an edge down through all rows where it ends.
  void bar(double from, double to) {
    constexpr double kAt = kTop - 2.0;
    for (Part& part : parts_) {
      part.svg.line(x(from), kAt, x(to), kAt, "lsd");
      part.svg.line(x(to), kAt, x(to), part.bottom, "edge");
    }
  }
  // With a caption above that says what it shows.
  [[nodiscard]] std::string figure(const std::string& name, const std::string& words) const {
    std::string caption = element("b", escaped(name) + ".");
    if (!words.empty()) caption += " " + escaped(words);
    const bool several = parts_.size() > 1;
    std::string drawings;
    for (std::size_t i = 0; i < parts_.size(); ++i) {
      std::string title = name;
      if (several) title += fmt::format(", part {} of {}", i + 1, parts_.size());
      drawings += element("div", "\n" + parts_[i].svg.element(title), "class=\"wide\"") + "\n";
    }
    if (several) drawings = element("div", "\n" + drawings, "class=\"parts\"") + "\n";
    return element("figure", "\n" + element("figcaption", caption) + "\n" + drawings,
                   several ? "class=\"tall\"" : "") +
           "\n";
  }

 private:
  struct Part {
    Svg svg;
    double bottom;
  };

  static std::size_t rows_of_part(std::size_t rows) {
    const std::size_t parts = (rows + kMostRows - 1) / kMostRows;
    return parts == 0 ? kMostRows : (rows + parts - 1) / parts;
  }
  void add_part(std::span<const std::string_view> names) {
    const double bottom = kTop + kRow * static_cast<double>(names.size());
    Svg svg(kWidth, bottom + 8.0);
    const int marks = static_cast<int>(std::lround((scale_.high - scale_.low) / scale_.step));
    for (int i = 0; i <= marks; ++i) {
      const double at = scale_.low + i * scale_.step;
      svg.line(x(at), kTop - 6.0, x(at), bottom, "grid");
      svg.text(x(at), kTop - 10.0, rounded(at, scale_.decimals), Anchor::kMiddle, "scale");
    }
    for (std::size_t i = 0; i < names.size(); ++i)
      svg.text(left_ - 8.0, y(i) + 4.0, shortened(names[i]), Anchor::kEnd);
    parts_.push_back({std::move(svg), bottom});
  }
  [[nodiscard]] Svg& svg_of(std::size_t row) { return parts_[row / rows_].svg; }
  [[nodiscard]] double x(double value) const {
    return left_ + (value - scale_.low) / (scale_.high - scale_.low) * (kWidth - kRight - left_);
  }
  // In its part.
  [[nodiscard]] double y(std::size_t row) const {
    return kTop + kRow * (static_cast<double>(row % rows_) + 0.5);
  }
  // Bytes of UTF-8 that begin a letter.
  static std::size_t letters(std::string_view name) {
    return static_cast<std::size_t>(std::ranges::count_if(
        name, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
  }
  static double left_of(const std::vector<std::string_view>& names) {
    std::size_t longest = 0;
    for (const std::string_view name : names) longest = std::max(longest, letters(name));
    return std::clamp(kLetter * static_cast<double>(longest) + 16.0, kLeastLeft, kMostLeft);
  }
  // Cut in the middle, since what tells two of one variety apart stands at the end; whole names
  // stand in the table.
  [[nodiscard]] std::string shortened(std::string_view name) const {
    const auto most = static_cast<std::size_t>((left_ - 14.0) / kLetter);
    const std::size_t all = letters(name);
    if (all <= most) return std::string(name);
    const std::size_t behind = std::min<std::size_t>(most / 2, 16);
    std::string text(name.substr(0, byte_of(name, most - behind - 1)));
    text += "…";
    text += name.substr(byte_of(name, all - behind));
    return text;
  }
  // Where the letter of that number begins, from 0.
  static std::size_t byte_of(std::string_view name, std::size_t letter) {
    std::size_t at = 0;
    for (std::size_t count = 0; at < name.size(); ++at) {
      if ((static_cast<unsigned char>(name[at]) & 0xC0U) != 0x80U && count++ == letter) break;
    }
    return at;
  }

  double left_;
  Axis scale_;
  std::size_t rows_;  // of each part but the last
  std::vector<Part> parts_;
};

std::string in_unit(const std::string& unit) {
  return unit.empty() ? std::string() : ": " + unit;
}

// The span of the means, with room for a bar of the LSD from the best one.
Range range_of(const Analysis& analysis, double alpha) {
  Range range{HUGE_VAL, -HUGE_VAL};
  for (const EntryMean& entry : analysis.means) {
    if (!entry.mean) continue;
    range.low = std::min(range.low, *entry.mean);
    range.high = std::max(range.high, *entry.mean);
  }
  const double lsd = entries_differ(analysis, alpha) ? analysis.lsd.value_or(0.0) : 0.0;
  if (range.high - range.low < lsd) range.low = range.high - lsd;
  return range;
}

// Whether the best entry is among those shown: it may be withheld.
bool shows_best(const Analysis& analysis) {
  return std::ranges::any_of(analysis.means,
                             [](const EntryMean& entry) { return entry.rank == std::size_t{1}; });
}

void draw_lsd(RowChart& chart, const Analysis& analysis, Best best, double alpha) {
  if (!shows_best(analysis)) return;
  if (!analysis.lsd || best == Best::kNone || !entries_differ(analysis, alpha)) return;
  const Range range = range_of(analysis, alpha);
  const double from = best == Best::kHighest ? range.high : range.low;
  const double to = best == Best::kHighest ? from - *analysis.lsd : from + *analysis.lsd;
  chart.bar(from, to);
}

}  // namespace

std::string means_chart(const Analysis& analysis, const std::string& unit, Best best,
                        const TableStyle& style) {
  std::vector<const EntryMean*> means;
  std::vector<std::string_view> names;
  for (const std::string_view entry : ordered_entries({{.analysis = &analysis}}, style)) {
    const EntryMean* const mean = find_entry(analysis, entry);
    if (mean == nullptr || !mean->mean) continue;
    means.push_back(mean);
    names.push_back(entry);
  }
  if (means.size() < 2) return {};
  double largest = 0.0;
  for (const EntryMean* const mean : means)
    largest = std::max(largest, std::fabs(mean->mean.value_or(0.0)));
  const int decimals = largest > 0.0 ? decimals_for(largest, analysis.lsd) : 0;
  RowChart chart(names, range_of(analysis, style.alpha));
  const bool differ = entries_differ(analysis, style.alpha);
  draw_lsd(chart, analysis, best, style.alpha);
  for (std::size_t i = 0; i < means.size(); ++i) {
    const bool marked = differ && means[i]->in_top_group.value_or(false);
    const double mean = means[i]->mean.value_or(0.0);
    chart.dot(i, mean, 5.0, marked ? "best" : "mean");
    chart.behind(i, rounded(mean, decimals));
  }
  std::string caption;
  if (differ && analysis.lsd && best != Best::kNone)
    caption =
        shows_best(analysis)
            ? "The bar is the LSD from the best: filled dots are not proven different from it."
            : "The best entry is not shown: filled dots are not proven different from it.";
  else if (analysis.lsd && !differ)
    caption = "The entries are alike as far as this test can tell.";
  return chart.figure("Entry means" + in_unit(unit), caption);
}

std::string stand_chart(std::span<const RatingColumn* const> stands, const TableStyle& style) {
  if (stands.size() < 2) return {};
  const Analysis& last = stands.back()->analysis;
  const std::vector<std::string_view> names = ordered_entries({{.analysis = &last}}, style);
  if (names.size() < 2) return {};
  RowChart chart(names, {0.0, 100.0});
  for (std::size_t i = 0; i < names.size(); ++i) {
    std::optional<double> before;
    for (const RatingColumn* const stand : stands) {
      const EntryMean* const mean = find_entry(stand->analysis, names[i]);
      if (mean == nullptr || !mean->mean) continue;
      const double at = std::clamp(*mean->mean, 0.0, 100.0);
      if (before) chart.line(i, *before, at, "path");
      before = at;
    }
    for (const RatingColumn* const stand : stands) {
      const EntryMean* const mean = find_entry(stand->analysis, names[i]);
      if (mean == nullptr || !mean->mean) continue;
      const bool is_last = stand == stands.back();
      const bool is_first = stand == stands.front();
      chart.dot(i, std::clamp(*mean->mean, 0.0, 100.0), is_first || is_last ? 5.0 : 2.5,
                is_last ? "best" : "mean");
      if (is_last) chart.behind(i, rounded(*mean->mean, 0) + " %");
    }
  }
  const auto when = [](const RatingColumn& stand) {
    return (stand.day.empty() ? std::string() : stand.day + " ") + year_label(stand.analysis);
  };
  return chart.figure("Percent stand over the years", "Open dots " + when(*stands.front()) +
                                                          ", filled dots " + when(*stands.back()) +
                                                          ", small dots between them.");
}

std::string long_term_chart(std::span<const LongTermRow* const> rows) {
  struct Dot {
    const LongTermRow* row;
    double middle, low, high;
  };
  std::vector<Dot> dots;
  std::vector<std::string_view> names;
  Range range{HUGE_VAL, -HUGE_VAL};
  for (const LongTermRow* const row : rows) {
    if (!row->shrunken_mean || !row->shrunken_interval || !row->company_mean) continue;
    const double to_percent = 100.0 / *row->company_mean;
    dots.push_back({row, to_percent * *row->shrunken_mean, to_percent * row->shrunken_interval->low,
                    to_percent * row->shrunken_interval->high});
    names.push_back(row->entry);
    range.low = std::min(range.low, dots.back().low);
    range.high = std::max(range.high, dots.back().high);
  }
  if (dots.size() < 2) return {};
  RowChart chart(names, range);
  for (std::size_t i = 0; i < dots.size(); ++i) {
    chart.line(i, dots[i].low, dots[i].high, "interval");
    chart.dot(i, dots[i].middle, 5.0, dots[i].row->percent_of_mean ? "best" : "mean");
    const std::size_t tests = dots[i].row->tests.size();
    chart.behind(i, std::to_string(tests) + (tests == 1 ? " test" : " tests"));
  }
  return chart.figure(
      "Long-term averages, percent of the mean of their company",
      "Drawn towards that mean, the more the fewer the tests. A line says where an entry stands "
      "beside the mean of its company: in about 95 of 100 cases it holds the true place. What "
      "other tests would yield is no part of it. Open dots stand for too few tests for an "
      "average.");
}

}  // namespace ligule::results
