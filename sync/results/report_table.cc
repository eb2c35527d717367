#include "sync/results/report_table.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "storage/trial/calendar.h"
#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

constexpr std::string_view kNothing = "–";

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

std::string number_cell(const std::optional<double>& number, int decimals) {
  return cell(number ? rounded(*number, decimals) : std::string(kNothing));
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
    return element("div",
                   element("table", "\n" + element("caption", escaped(caption)) + "\n" +
                                        element("thead", element("tr", head())) + "\n" + bodies() +
                                        element("tfoot", "\n" + foot()) + "\n"),
                   "class=\"wide\"") +
           "\n";
  }

 private:
  [[nodiscard]] const Analysis& last() const { return *columns_.back().analysis; }

  [[nodiscard]] EntryStanding standing(const std::string& entry) const {
    return standing_of(style_.standings, last().test, entry);
  }

  // The mean of the checks in the last column: percents of checks are of it.
  void find_checks() {
    double sum = 0.0, count = 0.0, largest = 0.0;
    for (const EntryMean& mean : last().means) {
      if (!mean.mean) continue;
      largest = std::max(largest, std::fabs(*mean.mean));
      if (!standing(mean.entry).check) continue;
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
    if (style_.percents) head += element("th", "% of mean", "scope=\"col\"");
    if (checks_) head += element("th", "% of checks", "scope=\"col\"");
    return head;
  }

  [[nodiscard]] std::string row(const std::string& entry) const {
    std::string name = escaped(entry);
    if (standing(entry).check) name += " " + element("small", "check");
    std::string row = element("th", name, "scope=\"row\"");
    for (std::size_t i = 0; i < columns_.size(); ++i)
      row += mean_cell(columns_[i], decimals_[i], entry);
    const EntryMean* const mean = find_entry(last(), entry);
    if (style_.percents)
      row += number_cell(mean != nullptr ? mean->percent_of_mean : std::nullopt, 0);
    if (checks_) {
      const bool has = mean != nullptr && mean->mean.has_value();
      row += cell(has ? rounded(100.0 * *mean->mean / *checks_, 0) : std::string(kNothing));
    }
    return element("tr", row) + "\n";
  }

  [[nodiscard]] std::string mean_cell(const Column& column, int decimals,
                                      const std::string& entry) const {
    const EntryMean* const mean = find_entry(*column.analysis, entry);
    if (mean == nullptr || !mean->mean) return cell(std::string(kNothing));
    const std::string value = mean_text(column, *mean->mean, decimals);
    const bool marked =
        mean->in_top_group.value_or(false) && entries_differ(*column.analysis, style_.alpha);
    return marked ? element("td", value + "<i>" + kTopMark + "</i>", "class=\"top\"") : cell(value);
  }

  // Commercial and experimental entries in a body each, where anything is known of it.
  [[nodiscard]] std::string bodies() const {
    const bool grouped = std::ranges::any_of(entries_, [&](const std::string& entry) {
      return standing(entry).market != Market::kNotStated;
    });
    std::string html, rows;
    std::optional<Market> group;
    const auto close = [&] {
      if (!rows.empty()) html += element("tbody", "\n" + rows) + "\n";
      rows.clear();
    };
    for (const std::string& entry : entries_) {
      const Market market = standing(entry).market;
      if (grouped && market != group) {
        close();
        rows = group_row(market);
        group = market;
      }
      rows += row(entry);
    }
    close();
    return html;
  }

  [[nodiscard]] std::string group_row(Market market) const {
    const char* const name = market == Market::kOnSale         ? "On sale"
                             : market == Market::kExperimental ? "Experimental, not on sale"
                                                               : "On sale or not: not stated";
    const std::size_t width = columns_.size() + 1 + (style_.percents ? 1 : 0) + (checks_ ? 1 : 0);
    return element(
               "tr",
               element("th", name, "scope=\"rowgroup\" colspan=\"" + std::to_string(width) + "\""),
               "class=\"group\"") +
           "\n";
  }

  [[nodiscard]] std::string foot_row(const std::string& name, const std::string& cells) const {
    return element("tr", element("th", escaped(name), "scope=\"row\"") + cells +
                             (style_.percents ? "<td></td>" : "") + (checks_ ? "<td></td>" : "")) +
           "\n";
  }

  [[nodiscard]] std::string lsd_cell(const Column& column, int decimals) const {
    if (!column.analysis->lsd) return cell(std::string(kNothing));
    const std::string value =
        rounded(*column.analysis->lsd, column.is_date ? std::max(decimals, 1) : decimals) +
        (column.is_date ? " d" : "");
    if (entries_differ(*column.analysis, style_.alpha)) return cell(value);
    return cell(style_.withhold_lsd ? std::string("ns") : "ns (" + value + ")");
  }

  [[nodiscard]] std::string foot() const {
    std::string means, lsds, cvs, ps, counts;
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      const Analysis& analysis = *columns_[i].analysis;
      means += cell(analysis.mean ? mean_text(columns_[i], *analysis.mean, decimals_[i])
                                  : std::string(kNothing));
      lsds += lsd_cell(columns_[i], decimals_[i]);
      // Of a date it would hang on when the year begins.
      cvs += number_cell(columns_[i].is_date ? std::nullopt : analysis.cv_percent, 1);
      ps += cell(!analysis.p            ? std::string(kNothing)
                 : *analysis.p < 0.0001 ? std::string("&lt; 0.0001")
                                        : rounded(*analysis.p, 4));
      counts += cell(std::to_string(analysis.values));
    }
    return foot_row("Mean", means) + foot_row("LSD " + rounded(style_.alpha, 2), lsds) +
           foot_row("CV %", cvs) + foot_row("Prob > F", ps) + foot_row("Plots", counts);
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

EntryStanding standing_of(std::span<const EntryStanding> standings, std::string_view test,
                          std::string_view entry) {
  EntryStanding none{
      .test = std::string(test), .entry = std::string(entry), .place = standings.size()};
  const auto found = std::ranges::lower_bound(standings, none, standing_before);
  const bool there = found != standings.end() && !standing_before(none, *found);
  return there ? *found : none;
}

std::vector<std::string> ordered_entries(const Columns& columns, const TableStyle& style) {
  std::vector<std::string> entries;
  for (const Column& column : columns) {
    for (const EntryMean& entry : column.analysis->means) entries.push_back(entry.entry);
  }
  std::ranges::sort(entries);
  entries.erase(std::ranges::unique(entries).begin(), entries.end());
  const Analysis& last = *columns.back().analysis;
  std::map<std::string, std::pair<int, std::size_t>> keys;
  for (const std::string& entry : entries) {
    const EntryStanding standing = standing_of(style.standings, last.test, entry);
    const EntryMean* const mean = find_entry(last, entry);
    const std::size_t rank =
        mean != nullptr && mean->rank ? *mean->rank : entries.size() + 1;  // without one: last
    keys[entry] = {group_of(standing.market),
                   style.order == EntryOrder::kPlan ? standing.place : rank};
  }
  std::ranges::stable_sort(entries, {}, [&](const std::string& entry) { return keys.at(entry); });
  return entries;
}

std::string entry_table(const Columns& columns, const std::string& caption,
                        const TableStyle& style) {
  return Table(columns, style).html(caption);
}

}  // namespace ligule::results
