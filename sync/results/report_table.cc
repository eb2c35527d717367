#include "sync/results/report_table.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
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

std::string cell(const std::string& text) {
  return element("td", text);
}

std::string number_text(const std::optional<double>& number, int decimals) {
  return number ? rounded(*number, decimals) : std::string(kNothing);
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

std::string mean_text(const Column& column, double mean, int decimals) {
  return column.is_date ? day_told(mean, column.analysis->year) : rounded(mean, decimals);
}

// A table as it is written, row by row.
class Table {
 public:
  Table(const Columns& columns, const TableStyle& style)
      : columns_(columns), style_(style), entries_(ordered_entries(columns, style)) {
    const int of_yields = decimals_of(columns);
    for (const Column& column : columns) {
      decimals_.push_back(column.is_rating ? decimals_of({{.analysis = column.analysis}})
                                           : of_yields);
    }
    if (style.percents) find_checks();
  }

  [[nodiscard]] std::string html(const std::string& caption) const {
    const std::string name =
        caption.empty() ? std::string() : element("caption", escaped(caption)) + "\n";
    return element("div",
                   element("table", "\n" + name + element("thead", element("tr", head())) + "\n" +
                                        bodies() + element("tfoot", "\n" + foot()) + "\n"),
                   "class=\"wide\"") +
           "\n";
  }

  [[nodiscard]] std::vector<PrintedCell> cells() const {
    std::vector<PrintedCell> cells;
    const bool in_groups = grouped();
    for (const std::string& entry : entries_) {
      const std::size_t first = cells.size();
      for (std::size_t i = 0; i < columns_.size(); ++i) cells.push_back(mean_cell(i, entry));
      for (PrintedCell& percent : percent_cells(entry)) cells.push_back(std::move(percent));
      if (!in_groups) continue;
      for (std::size_t i = first; i < cells.size(); ++i) cells[i].group = group_name(market(entry));
    }
    for (const FootRow& row : foot_rows()) {
      for (std::size_t i = 0; i < columns_.size(); ++i)
        cells.push_back({row.name, name_of(columns_[i]), row.texts[i]});
    }
    return cells;
  }

 private:
  [[nodiscard]] const Analysis& last() const { return *columns_.back().analysis; }

  [[nodiscard]] bool is_check(std::string_view entry) const {
    const EntryStanding* const of = find_standing(style_.standings, last().test, entry);
    return of != nullptr && of->check;
  }
  [[nodiscard]] Market market(std::string_view entry) const {
    const EntryStanding* const of = find_standing(style_.standings, last().test, entry);
    return of != nullptr ? of->market : Market::kNotStated;
  }

  // The mean of the checks in the last column: percents of checks are of it.
  void find_checks() {
    double sum = 0.0, count = 0.0, largest = 0.0;
    for (const EntryMean& mean : last().means) {
      if (!mean.mean) continue;
      largest = std::max(largest, std::fabs(*mean.mean));
      if (!is_check(mean.entry)) continue;
      sum += *mean.mean;
      count += 1.0;
    }
    // A mean that is only rounding noise can't be divided by, and a negative one tells nothing.
    if (count > 0.0 && sum / count > 1e-12 * largest) checks_ = sum / count;
  }

  [[nodiscard]] std::string head() const {
    std::string head = element("th", "Entry", "scope=\"col\"");
    for (const Column& column : columns_) {
      std::string title = escaped(column.heading);
      if (!column.below.empty()) title += "<br>" + element("small", escaped(column.below));
      head += element("th", title, "scope=\"col\"");
    }
    if (style_.percents) head += element("th", kOfMean, "scope=\"col\"");
    if (checks_) head += element("th", kOfChecks, "scope=\"col\"");
    return head;
  }

  [[nodiscard]] std::string row(const std::string& entry) const {
    const std::string check = is_check(entry) ? " " + element("small", "check") : "";
    std::string row = entry_head(entry, check);
    for (std::size_t i = 0; i < columns_.size(); ++i) row += html_of(mean_cell(i, entry));
    for (const PrintedCell& percent : percent_cells(entry)) row += html_of(percent);
    return element("tr", row) + "\n";
  }

  [[nodiscard]] PrintedCell mean_cell(std::size_t i, const std::string& entry) const {
    const Column& column = columns_[i];
    PrintedCell out{entry, name_of(column), std::string(kNothing)};
    const EntryMean* const mean = find_entry(*column.analysis, entry);
    if (mean == nullptr || !mean->mean) return out;
    out.text = mean_text(column, *mean->mean, decimals_[i]);
    out.marked =
        mean->in_top_group.value_or(false) && entries_differ(*column.analysis, style_.alpha);
    return out;
  }

  static std::string html_of(const PrintedCell& of) {
    return of.marked ? element("td", of.text + "<i>" + kTopMark + "</i>", "class=\"top\"")
                     : cell(escaped(of.text));
  }

  // Percents of the last column.
  [[nodiscard]] std::vector<PrintedCell> percent_cells(const std::string& entry) const {
    std::vector<PrintedCell> cells;
    const EntryMean* const mean = find_entry(last(), entry);
    if (style_.percents)
      cells.push_back(
          {entry, kOfMean, number_text(mean ? mean->percent_of_mean : std::nullopt, 0)});
    if (checks_) {
      const bool has = mean != nullptr && mean->mean.has_value();
      cells.push_back({entry, kOfChecks,
                       has ? rounded(100.0 * *mean->mean / *checks_, 0) : std::string(kNothing)});
    }
    return cells;
  }

  [[nodiscard]] bool grouped() const {
    return std::ranges::any_of(
        entries_, [&](const std::string& entry) { return market(entry) != Market::kNotStated; });
  }

  // Commercial and experimental entries in a body each, where anything is known of it.
  [[nodiscard]] std::string bodies() const {
    const bool in_groups = grouped();
    std::string html, rows;
    std::optional<Market> group;
    const auto close = [&] {
      if (!rows.empty()) html += element("tbody", "\n" + rows) + "\n";
      rows.clear();
    };
    for (const std::string& entry : entries_) {
      if (const Market of = market(entry); in_groups && of != group) {
        close();
        rows = group_row(of);
        group = of;
      }
      rows += row(entry);
    }
    close();
    return html;
  }

  static const char* group_name(Market market) {
    return market == Market::kOnSale         ? "On sale"
           : market == Market::kExperimental ? "Experimental, not on sale"
                                             : "On sale or not: not stated";
  }
  [[nodiscard]] std::string group_row(Market market) const {
    const char* const name = group_name(market);
    const std::size_t width = columns_.size() + 1 + (style_.percents ? 1 : 0) + (checks_ ? 1 : 0);
    return element(
               "tr",
               element("th", name, "scope=\"rowgroup\" colspan=\"" + std::to_string(width) + "\""),
               "class=\"group\"") +
           "\n";
  }

  [[nodiscard]] std::string lsd_text(std::size_t i) const {
    const Column& column = columns_[i];
    if (!column.analysis->lsd) return std::string(kNothing);
    const int decimals = column.is_date ? std::max(decimals_[i], 1) : decimals_[i];
    std::string value = rounded(*column.analysis->lsd, decimals) + (column.is_date ? " d" : "");
    if (entries_differ(*column.analysis, style_.alpha)) return value;
    return style_.withhold_lsd ? "ns" : "ns (" + value + ")";
  }

  // A row of the foot.
  struct FootRow {
    std::string name;
    std::vector<std::string> texts;  // of each column
  };
  [[nodiscard]] std::vector<FootRow> foot_rows() const {
    FootRow means{"Mean", {}}, lsds{"LSD " + rounded(style_.alpha, 2), {}}, cvs{"CV %", {}},
        ps{"Prob > F", {}}, counts{"Plots", {}};
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const Analysis& analysis = *columns_[i].analysis;
      means.texts.push_back(analysis.mean ? mean_text(columns_[i], *analysis.mean, decimals_[i])
                                          : std::string(kNothing));
      lsds.texts.push_back(lsd_text(i));
      // Of a date it would hang on when the year begins.
      cvs.texts.push_back(number_text(columns_[i].is_date ? std::nullopt : analysis.cv_percent, 1));
      ps.texts.push_back(!analysis.p            ? std::string(kNothing)
                         : *analysis.p < 0.0001 ? "< 0.0001"
                                                : rounded(*analysis.p, 4));
      counts.texts.push_back(std::to_string(analysis.values));
    }
    return {means, lsds, cvs, ps, counts};
  }

  [[nodiscard]] std::string foot() const {
    std::string html;
    for (const FootRow& row : foot_rows()) {
      std::string cells = element("th", escaped(row.name), "scope=\"row\"");
      for (const std::string& text : row.texts) cells += cell(escaped(text));
      if (style_.percents) cells += "<td></td>";
      if (checks_) cells += "<td></td>";
      html += element("tr", cells) + "\n";
    }
    return html;
  }

  const Columns& columns_;
  const TableStyle& style_;
  std::vector<std::string> entries_;
  std::vector<int> decimals_;  // of each column
  std::optional<double> checks_;
};

// Those on sale first; what nobody states anything of between them and the experimental ones.
int group_of(Market market) {
  return market == Market::kOnSale ? 0 : market == Market::kNotStated ? 1 : 2;
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

std::vector<std::string> ordered_entries(const Columns& columns, const TableStyle& style) {
  std::vector<std::string> entries;
  for (const Column& column : columns) {
    for (const EntryMean& entry : column.analysis->means) entries.push_back(entry.entry);
  }
  std::ranges::sort(entries);
  entries.erase(std::ranges::unique(entries).begin(), entries.end());
  const Analysis& last = *columns.back().analysis;
  std::map<std::string_view, std::pair<int, std::size_t>> keys;
  for (const std::string& entry : entries) {
    const EntryStanding* const standing = find_standing(style.standings, last.test, entry);
    const EntryMean* const mean = find_entry(last, entry);
    // Those without a place or a rank stand last.
    constexpr std::size_t kLast = std::numeric_limits<std::size_t>::max();
    const std::size_t place = standing != nullptr ? standing->place : kLast;
    const std::size_t rank = mean != nullptr ? mean->rank.value_or(kLast) : kLast;
    keys[entry] = {group_of(standing != nullptr ? standing->market : Market::kNotStated),
                   style.order == EntryOrder::kPlan ? place : rank};
  }
  std::vector<std::string> ordered = entries;
  std::ranges::stable_sort(ordered, {}, [&](const std::string& entry) { return keys.at(entry); });
  return ordered;
}

std::string entry_table(const Columns& columns, const std::string& caption,
                        const TableStyle& style) {
  return Table(columns, style).html(caption);
}

std::vector<PrintedCell> entry_cells(const Columns& columns, const TableStyle& style) {
  return Table(columns, style).cells();
}

}  // namespace ligule::results
