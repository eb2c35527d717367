#include "sync/results/report_table.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "storage/trial/calendar.h"
#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

constexpr std::string_view kNothing = "–";
constexpr const char* kOfMean = "% of mean";
constexpr const char* kOfChecks = "% of checks";

// One number of decimals for all yields of a table, so that its columns can be compared at a
// glance.
int decimals_of(const Columns& columns) {
  int decimals = 0;
  for (const Column& column : columns) {
    if (column.is_rating) continue;
    double largest = 0.0;
    for (const EntryMean& entry : column.analysis->means) {
      largest = std::max(largest, std::fabs(entry.mean.value_or(0.0)));
    }
    if (largest > 0.0) {
      decimals = std::max(decimals, decimals_for(largest, column.analysis->lsd));
    }
  }
  return decimals;
}

// "Cutting 1 (20 May)"
std::string name_of(const Column& column) {
  return column.below.empty() ? column.heading : column.heading + " (" + column.below + ")";
}

// "12 May": a mean day of the year, to the nearest day.
std::string day_told(double day, std::optional<int> year) {
  const date::year in(year.value_or(2001));  // any year without a leap day, where none is known
  const CalendarDate on(date::sys_days(in / date::January / 1) + date::days(std::lround(day) - 1));
  return day_and_month(on);
}

void add_mean_text(std::string& text, const Column& column, double mean, int decimals) {
  if (column.is_date)
    text += day_told(mean, column.analysis->year);
  else
    add_rounded(text, mean, decimals);
}

std::string number_text(const std::optional<double>& number, int decimals) {
  return number ? rounded(*number, decimals) : std::string(kNothing);
}

Market market_of(const EntryStanding* standing) {
  return standing != nullptr ? standing->market : Market::kNotStated;
}

// Those on sale first; what nobody states anything of between them and the experimental ones.
int group_of(Market market) {
  return market == Market::kOnSale ? 0 : market == Market::kNotStated ? 1 : 2;
}

const char* group_name(Market market) {
  return market == Market::kOnSale         ? "On sale"
         : market == Market::kExperimental ? "Experimental, not on sale"
                                           : "On sale or not: not stated";
}

// Of all columns, in byte order.
std::vector<std::string_view> entries_of(const Columns& columns) {
  std::vector<std::string_view> entries;
  for (const Column& column : columns) {
    const std::vector<EntryMean>& means = column.analysis->means;
    // Columns of one test mostly have the same entries.
    if (std::ranges::equal(means, entries, {}, &EntryMean::entry)) continue;
    for (const EntryMean& mean : means) entries.push_back(mean.entry);
    std::ranges::sort(entries);
    entries.erase(std::ranges::unique(entries).begin(), entries.end());
  }
  return entries;
}

}  // namespace

bool entries_differ(const Analysis& analysis, double alpha) {
  if (analysis.p) return *analysis.p <= alpha;
  if (analysis.mse != 0.0 || !analysis.lsd) return false;
  // Without any chance variation every difference is one; but there has to be one.
  return std::ranges::any_of(analysis.means, [](const EntryMean& entry) {
    return entry.in_top_group.has_value() && !*entry.in_top_group;
  });
}

const EntryMean* find_entry(const Analysis& analysis, std::string_view entry) {
  const auto found = std::ranges::lower_bound(analysis.means, entry, {}, &EntryMean::entry);
  return found != analysis.means.end() && found->entry == entry ? &*found : nullptr;
}

const EntryStanding* find_standing(std::span<const EntryStanding> standings, std::string_view test,
                                   std::string_view entry) {
  const auto key = [](const EntryStanding& standing) {
    return std::pair<std::string_view, std::string_view>(standing.test, standing.entry);
  };
  const auto found = std::ranges::lower_bound(standings, std::pair(test, entry), {}, key);
  return found != standings.end() && key(*found) == std::pair(test, entry) ? &*found : nullptr;
}

std::vector<EntryTable::Row> EntryTable::rows_of(const Columns& columns, const TableStyle& style) {
  const Analysis& last = *columns.back().analysis;
  std::vector<Row> rows;
  std::vector<std::size_t> next(columns.size(), 0);  // of each column, the mean that comes next
  for (const std::string_view entry : entries_of(columns)) {
    Row& row = rows.emplace_back(entry, find_standing(style.standings, last.test, entry));
    row.means.resize(columns.size(), nullptr);
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::vector<EntryMean>& means = columns[i].analysis->means;
      while (next[i] < means.size() && means[next[i]].entry < entry) ++next[i];
      if (next[i] < means.size() && means[next[i]].entry == entry) row.means[i] = &means[next[i]];
    }
  }
  std::ranges::stable_sort(rows, {}, [&style](const Row& row) {
    // Those without a place or a rank stand last.
    constexpr std::size_t kLast = std::numeric_limits<std::size_t>::max();
    const EntryMean* const mean = row.means.back();
    const std::size_t place = row.standing != nullptr ? row.standing->place : kLast;
    const std::size_t rank = mean != nullptr ? mean->rank.value_or(kLast) : kLast;
    return std::pair(group_of(market_of(row.standing)),
                     style.order == EntryOrder::kPlan ? place : rank);
  });
  return rows;
}

std::vector<std::string_view> ordered_entries(const Columns& columns, const TableStyle& style) {
  std::vector<std::string_view> ordered;
  for (const EntryTable::Row& row : EntryTable::rows_of(columns, style))
    ordered.push_back(row.entry);
  return ordered;
}

EntryTable::EntryTable(Columns columns, std::string caption, const TableStyle& style)
    : columns_(std::move(columns)),
      caption_(std::move(caption)),
      style_(style),
      rows_(rows_of(columns_, style)) {
  const int of_yields = decimals_of(columns_);
  for (const Column& column : columns_) {
    decimals_.push_back(column.is_rating ? decimals_of({{.analysis = column.analysis}})
                                         : of_yields);
    differ_.push_back(entries_differ(*column.analysis, style.alpha));
    names_.push_back(name_of(column));
  }
  names_.emplace_back(kOfMean);
  names_.emplace_back(kOfChecks);
  if (style.percents) find_checks();
}

// The mean of the checks in the last column: percents of checks are of it.
void EntryTable::find_checks() {
  double sum = 0.0, count = 0.0, largest = 0.0;
  for (const EntryMean& mean : last().means) {
    if (!mean.mean) continue;
    largest = std::max(largest, std::fabs(*mean.mean));
    const EntryStanding* const of = find_standing(style_.standings, last().test, mean.entry);
    if (of == nullptr || !of->check) continue;
    sum += *mean.mean;
    count += 1.0;
  }
  // A mean that is only rounding noise can't be divided by, and a negative one tells nothing.
  if (count > 0.0 && sum / count > 1e-12 * largest) checks_ = sum / count;
}

bool EntryTable::is_marked(std::size_t column, const Row& row) const {
  const EntryMean* const mean = row.means[column];
  return mean != nullptr && mean->mean && mean->in_top_group.value_or(false) && differ_[column];
}

void EntryTable::add_mean(std::string& text, std::size_t column, const Row& row) const {
  const EntryMean* const mean = row.means[column];
  if (mean == nullptr || !mean->mean)
    text += kNothing;
  else
    add_mean_text(text, columns_[column], *mean->mean, decimals_[column]);
}

void EntryTable::add_percent_of_mean(std::string& text, const Row& row) const {
  const EntryMean* const mean = row.means.back();
  if (mean == nullptr || !mean->percent_of_mean)
    text += kNothing;
  else
    add_rounded(text, *mean->percent_of_mean, 0);
}

void EntryTable::add_percent_of_checks(std::string& text, const Row& row) const {
  const EntryMean* const mean = row.means.back();
  if (mean == nullptr || !mean->mean || !checks_)
    text += kNothing;
  else
    add_rounded(text, 100.0 * *mean->mean / *checks_, 0);
}

std::string EntryTable::lsd_text(std::size_t column) const {
  const Column& of = columns_[column];
  if (!of.analysis->lsd) return std::string(kNothing);
  const int decimals = of.is_date ? std::max(decimals_[column], 1) : decimals_[column];
  std::string value = rounded(*of.analysis->lsd, decimals) + (of.is_date ? " d" : "");
  if (differ_[column]) return value;
  return style_.withhold_lsd ? "ns" : "ns (" + value + ")";
}

std::vector<EntryTable::FootRow> EntryTable::foot_rows() const {
  FootRow means{"Mean", {}}, lsds{"LSD " + rounded(style_.alpha, 2), {}}, cvs{"CV %", {}},
      ps{"Prob > F", {}}, counts{"Plots", {}};
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const Analysis& analysis = *columns_[i].analysis;
    std::string& mean = means.texts.emplace_back();
    if (analysis.mean)
      add_mean_text(mean, columns_[i], *analysis.mean, decimals_[i]);
    else
      mean = kNothing;
    lsds.texts.push_back(lsd_text(i));
    const bool has_cv = columns_[i].is_ratio && !columns_[i].is_date;
    cvs.texts.push_back(number_text(has_cv ? analysis.cv_percent : std::nullopt, 1));
    ps.texts.push_back(!analysis.p            ? std::string(kNothing)
                       : *analysis.p < 0.0001 ? "< 0.0001"
                                              : rounded(*analysis.p, 4));
    const bool of_plots = analysis.basis == Basis::kPlots;
    counts.texts.push_back(of_plots ? std::to_string(analysis.values) : std::string(kNothing));
  }
  return {means, lsds, cvs, ps, counts};
}

template <class Visit>
void EntryTable::each_cell(const Visit& visit) const {
  std::string text;
  std::string_view heading;
  const auto cell = [&](std::string_view row, std::size_t column, bool marked) {
    visit(row, column, text, marked, heading);
    text.clear();
  };
  const bool in_groups = grouped();
  for (const Row& row : rows_) {
    if (in_groups) heading = group_name(market_of(row.standing));
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      add_mean(text, i, row);
      cell(row.entry, i, is_marked(i, row));
    }
    if (style_.percents) {
      add_percent_of_mean(text, row);
      cell(row.entry, columns_.size(), false);
    }
    if (checks_) {
      add_percent_of_checks(text, row);
      cell(row.entry, columns_.size() + 1, false);
    }
  }
  heading = {};
  for (const FootRow& row : foot_rows()) {
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      text = row.texts[i];
      cell(row.name, i, false);
    }
  }
}

std::vector<PrintedCell> EntryTable::cells() const {
  std::vector<PrintedCell> cells;
  each_cell([&](std::string_view row, std::size_t column, const std::string& text, bool marked,
                std::string_view heading) {
    cells.push_back({std::string(row), names_[column], text, marked, std::string(heading)});
  });
  return cells;
}

void EntryTable::add_press(std::string_view test, CsvText& csv) const {
  const std::string beginning = csv_field(test) + "," + csv_field(caption_);
  std::vector<std::string> columns;
  columns.reserve(names_.size());
  for (const std::string& name : names_) columns.push_back(csv_field(name));
  each_cell([&](std::string_view row, std::size_t column, const std::string& text, bool marked,
                std::string_view heading) {
    csv.add_ready(beginning).add(row).add_ready(columns[column]).add(text);
    csv.add_ready(marked ? "1" : "0").add(heading).end_line();
  });
}

void EntryTable::add_html(std::string& html) const {
  html += "<div class=\"wide\"><table>\n";
  if (!caption_.empty()) {
    add_element(html, "caption", escaped(caption_));
    html += '\n';
  }
  html += "<thead><tr>";
  add_head(html);
  html += "</tr></thead>\n";
  add_bodies(html);
  html += "<tfoot>\n";
  add_foot(html);
  html += "</tfoot>\n</table></div>\n";
}

void EntryTable::add_head(std::string& html) const {
  constexpr std::string_view kColumn = "scope=\"col\"";
  add_element(html, "th", "Entry", kColumn);
  for (const Column& column : columns_) {
    std::string title = escaped(column.heading);
    if (!column.below.empty()) title += "<br>" + element("small", escaped(column.below));
    add_element(html, "th", title, kColumn);
  }
  if (style_.percents) add_element(html, "th", kOfMean, kColumn);
  if (checks_) add_element(html, "th", kOfChecks, kColumn);
}

void EntryTable::add_row(std::string& html, const Row& row) const {
  const bool check = row.standing != nullptr && row.standing->check;
  html += "<tr>";
  add_entry_head(html, row.entry, check ? " <small>check</small>" : "");
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    const bool marked = is_marked(i, row);
    html += marked ? "<td class=\"top\">" : "<td>";
    add_mean(html, i, row);
    if (marked) {
      html += "<i>";
      html += kTopMark;
      html += "</i>";
    }
    html += "</td>";
  }
  if (style_.percents) {
    html += "<td>";
    add_percent_of_mean(html, row);
    html += "</td>";
  }
  if (checks_) {
    html += "<td>";
    add_percent_of_checks(html, row);
    html += "</td>";
  }
  html += "</tr>\n";
}

// Commercial and experimental entries in a body each, where anything is known of it.
bool EntryTable::grouped() const {
  return std::ranges::any_of(
      rows_, [](const Row& row) { return market_of(row.standing) != Market::kNotStated; });
}

void EntryTable::add_bodies(std::string& html) const {
  const bool in_groups = grouped();
  std::optional<Market> group;
  bool open = false;
  for (const Row& row : rows_) {
    const Market market = market_of(row.standing);
    const bool begins = in_groups && market != group;
    if (open && begins) html += "</tbody>\n";
    if (!open || begins) html += "<tbody>\n";
    if (begins) add_group(html, market);
    open = true;
    group = market;
    add_row(html, row);
  }
  if (open) html += "</tbody>\n";
}

void EntryTable::add_group(std::string& html, Market market) const {
  const std::size_t width = columns_.size() + 1 + (style_.percents ? 1 : 0) + (checks_ ? 1 : 0);
  html += "<tr class=\"group\">";
  add_element(html, "th", group_name(market),
              "scope=\"rowgroup\" colspan=\"" + std::to_string(width) + "\"");
  html += "</tr>\n";
}

void EntryTable::add_foot(std::string& html) const {
  for (const FootRow& row : foot_rows()) {
    html += "<tr>";
    add_element(html, "th", escaped(row.name), "scope=\"row\"");
    for (const std::string& text : row.texts) add_element(html, "td", escaped(text));
    if (style_.percents) html += "<td></td>";
    if (checks_) html += "<td></td>";
    html += "</tr>\n";
  }
}

std::string entry_table(const Columns& columns, const std::string& caption,
                        const TableStyle& style) {
  std::string html;
  EntryTable(columns, caption, style).add_html(html);
  return html;
}

}  // namespace ligule::results
