#include "sync/results/report_test_section.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <vector>

#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

using Columns = std::vector<const Analysis*>;

constexpr std::string_view kNothing = "–";

std::string percent_text(double alpha) {
  return rounded(100.0 * alpha, 0) + " %";
}

std::string heading(const Analysis& analysis, const SectionStyle& style) {
  switch (analysis.span) {
    case Span::kAllYears:
      return "All years";
    case Span::kYear:
      return analysis.year ? year_label(analysis) + " total" : "Total";
    case Span::kCutting:
      break;
  }
  if (analysis.cutting.empty()) return analysis.year ? year_label(analysis) : "Mean";
  return style.cuttings ? "Cutting " + analysis.cutting : analysis.cutting;
}

// The heading where columns of several years stand side by side.
std::string full_heading(const Analysis& analysis, const SectionStyle& style) {
  const bool plain = analysis.span != Span::kCutting || !analysis.year || analysis.cutting.empty();
  if (plain || !style.cuttings) return heading(analysis, style);
  return year_label(analysis) + ", " + "cutting " + analysis.cutting;
}

const EntryMean* find_entry(const Analysis& analysis, const std::string& entry) {
  const auto found = std::ranges::lower_bound(analysis.means, entry, {}, &EntryMean::entry);
  return found != analysis.means.end() && found->entry == entry ? &*found : nullptr;
}

// One number of decimals for a whole table, so that its columns can be compared at a glance.
int decimals_of(const Columns& columns) {
  int decimals = 0;
  for (const Analysis* column : columns) {
    double largest = 0.0;
    for (const EntryMean& entry : column->means) {
      largest = std::max(largest, std::fabs(entry.mean.value_or(0.0)));
    }
    if (largest > 0.0) decimals = std::max(decimals, decimals_for(largest, column->lsd));
  }
  return decimals;
}

// Entries of any column, best mean of the last column first; those without one follow by label.
std::vector<std::string> ranked_entries(const Columns& columns) {
  std::vector<std::string> entries;
  for (const Analysis* column : columns) {
    for (const EntryMean& entry : column->means) entries.push_back(entry.entry);
  }
  std::ranges::sort(entries);
  entries.erase(std::ranges::unique(entries).begin(), entries.end());
  std::map<std::string, std::size_t> rank;
  for (const EntryMean& entry : columns.back()->means) {
    rank[entry.entry] = entry.rank.value_or(entries.size() + 1);
  }
  std::ranges::stable_sort(entries, {}, [&](const std::string& entry) {
    const auto found = rank.find(entry);
    return found == rank.end() ? entries.size() + 1 : found->second;
  });
  return entries;
}

std::string number_cell(const std::optional<double>& number, int decimals) {
  return element("td", number ? rounded(*number, decimals) : std::string(kNothing));
}

std::string entry_row(const std::string& entry, const Columns& columns, int decimals,
                      double alpha) {
  std::string row = element("th", escaped(entry), "scope=\"row\"");
  for (const Analysis* column : columns) {
    const EntryMean* mean = find_entry(*column, entry);
    if (!mean || !mean->mean) {
      row += element("td", kNothing);
      continue;
    }
    const std::string value = rounded(*mean->mean, decimals);
    const bool marked = mean->in_top_group.value_or(false) && entries_differ(*column, alpha);
    row += marked ? element("td", value + "<i>" + kTopMark + "</i>", "class=\"top\"")
                  : element("td", value);
  }
  const EntryMean* last = find_entry(*columns.back(), entry);
  row += number_cell(last ? last->percent_of_mean : std::nullopt, 0);
  return element("tr", row) + "\n";
}

std::string lsd_cell(const Analysis& analysis, int decimals, double alpha) {
  if (!analysis.lsd) return element("td", kNothing);
  const std::string value = rounded(*analysis.lsd, decimals);
  return element("td", entries_differ(analysis, alpha) ? value : "ns (" + value + ")");
}

std::string foot_row(const std::string& name, const std::string& cells) {
  return element("tr", element("th", escaped(name), "scope=\"row\"") + cells + "<td></td>") + "\n";
}

std::string foot(const Columns& columns, int decimals, double alpha) {
  std::string means, lsds, cvs, ps, counts;
  for (const Analysis* column : columns) {
    means += number_cell(column->mean, decimals);
    lsds += lsd_cell(*column, decimals, alpha);
    cvs += number_cell(column->cv_percent, 1);
    ps += element("td", !column->p            ? std::string(kNothing)
                        : *column->p < 0.0001 ? std::string("&lt; 0.0001")
                                              : rounded(*column->p, 4));
    counts += element("td", std::to_string(column->values));
  }
  return foot_row("Mean", means) + foot_row("LSD " + rounded(alpha, 2), lsds) +
         foot_row("CV %", cvs) + foot_row("Prob > F", ps) + foot_row("Plots", counts);
}

std::string table(const Columns& columns, const std::string& caption, bool full_headings,
                  const SectionStyle& style) {
  const double alpha = style.alpha;
  const int decimals = decimals_of(columns);
  std::string head = element("th", "Entry", "scope=\"col\"");
  for (const Analysis* column : columns) {
    head += element("th",
                    escaped(full_headings ? full_heading(*column, style) : heading(*column, style)),
                    "scope=\"col\"");
  }
  head += element("th", "% of mean", "scope=\"col\"");
  std::string body;
  for (const std::string& entry : ranked_entries(columns)) {
    body += entry_row(entry, columns, decimals, alpha);
  }
  const std::string html = "\n" + element("caption", escaped(caption)) + "\n" +
                           element("thead", element("tr", head)) + "\n" +
                           element("tbody", "\n" + body) + "\n" +
                           element("tfoot", "\n" + foot(columns, decimals, alpha)) + "\n";
  return element("div", element("table", html), "class=\"wide\"") + "\n";
}

// What a reader must know of one analysis before comparing entries in it; usually nothing.
std::vector<std::string> notes_of(const Analysis& analysis, double alpha) {
  std::vector<std::string> notes;
  if (analysis.values == 0) {
    notes.emplace_back("no plot has a complete value, so there is nothing to compare.");
    return notes;
  }
  if (analysis.basis == Basis::kPublishedMeans) {
    notes.emplace_back(
        "published means without single plots: there is no LSD, so small differences say nothing.");
    return notes;
  }
  if (!analysis.connected) {
    notes.emplace_back(
        "some entries stand in no block together with the others, so no common means can be had.");
    return notes;
  }
  if (!analysis.mse) {
    notes.emplace_back("too few plots to tell chance from difference: means only.");
  } else if (*analysis.mse == 0.0) {
    notes.emplace_back(
        "the plots agree without any chance variation, which real plots never do: look at the "
        "values.");
  } else if (analysis.lsd && !entries_differ(analysis, alpha)) {
    notes.emplace_back("the entries are alike at the " + percent_text(alpha) +
                       " level (ns): the order of the means is chance, and nothing is marked.");
  }
  const std::size_t rows = analysis.reps.value_or(0) * analysis.entries;
  if (analysis.lsd && analysis.values < rows) {
    notes.emplace_back("plots are missing (" + std::to_string(analysis.values) + " of " +
                       std::to_string(rows) + ").");
  }
  return notes;
}

bool is_under(const Footing& footing, const Analysis& analysis) {
  return analysis.span == Span::kCutting && footing.test == analysis.test &&
         footing.year == analysis.year && std::to_string(footing.cutting) == analysis.cutting;
}

std::string note(const Analysis& analysis, const std::string& text, const SectionStyle& style) {
  return element("li",
                 element("b", escaped(full_heading(analysis, style)) + ":") + " " + escaped(text)) +
         "\n";
}

std::string notes(std::span<const Analysis> analyses, const SectionStyle& style) {
  std::string items;
  for (const Analysis& analysis : analyses) {
    for (const Footing& footing : style.footings)
      if (is_under(footing, analysis)) items += note(analysis, footing.text, style);
    for (const std::string& text : notes_of(analysis, style.alpha))
      items += note(analysis, text, style);
  }
  return items.empty() ? std::string() : element("ul", "\n" + items, "class=\"notes\"") + "\n";
}

std::string entry_list(std::span<const EntryLine> entries, const std::string& test) {
  std::string items;
  for (const EntryLine& entry : entries)
    if (entry.test == test) items += element("li", escaped(entry.text)) + "\n";
  if (items.empty()) return items;
  return element("h3", "How the endophyte of the entries is known") + "\n" +
         element("ul", "\n" + items, "class=\"notes\"") + "\n";
}

std::string places(const Analysis& analysis) {
  std::string line;
  for (const std::string& site : analysis.sites) {
    if (site.empty()) continue;
    if (!line.empty()) line += ", ";
    line += escaped(site);
  }
  return line.empty() ? line : element("p", line, "class=\"place\"") + "\n";
}

}  // namespace

std::string event_lists(std::span<const EventLine> events, const std::string& test) {
  std::string html;
  for (std::size_t from = 0; from < events.size();) {
    const EventLine& first = events[from];
    std::string items;
    for (;
         from < events.size() && events[from].test == first.test && events[from].year == first.year;
         ++from) {
      items += element("li", escaped(events[from].text)) + "\n";
    }
    if (first.test != test) continue;
    html += element("h3", "Events of " + std::to_string(first.year)) + "\n" +
            element("ul", "\n" + items, "class=\"notes\"") + "\n";
  }
  return html;
}

std::string composition_tables(std::span<const EntryComposition> compositions,
                               const std::string& test) {
  std::string html;
  for (std::size_t from = 0; from < compositions.size();) {
    const EntryComposition& first = compositions[from];
    std::string rows;
    for (; from < compositions.size(); ++from) {
      const EntryComposition& entry = compositions[from];
      if (std::tie(entry.test, entry.year, entry.cutting) !=
          std::tie(first.test, first.year, first.cutting))
        break;
      std::string row = element("th", escaped(entry.entry), "scope=\"row\"");
      for (const double percent : entry.percent) row += element("td", rounded(percent, 1));
      rows += element("tr", row + element("td", std::to_string(entry.plots))) + "\n";
    }
    if (first.test != test) continue;
    std::string head = element("th", "Entry", "scope=\"col\"");
    for (const std::string_view part : composition::kParts) {
      std::string name(part);
      std::ranges::replace(name, '_', ' ');
      head += element("th", name, "scope=\"col\"");
    }
    head += element("th", "Plots", "scope=\"col\"");
    const std::string caption = "Botanical composition, " + std::to_string(first.year) +
                                ", cutting " + std::to_string(first.cutting) +
                                ": percent of dry matter, separated by hand";
    html += element("div",
                    element("table", "\n" + element("caption", escaped(caption)) + "\n" +
                                         element("thead", element("tr", head)) + "\n" +
                                         element("tbody", "\n" + rows) + "\n"),
                    "class=\"wide\"") +
            "\n";
  }
  return html;
}

bool entries_differ(const Analysis& analysis, double alpha) {
  if (analysis.p) return *analysis.p <= alpha;
  return analysis.mse == 0.0 && analysis.lsd.has_value();
}

std::string test_section(std::span<const Analysis> analyses, const std::string& anchor,
                         const SectionStyle& style) {
  std::vector<Columns> years;
  for (const Analysis& analysis : analyses) {
    if (analysis.span == Span::kAllYears) continue;
    if (years.empty() || years.back().back()->year != analysis.year) years.emplace_back();
    years.back().push_back(&analysis);
  }
  std::string html =
      element("h2", escaped(analyses.front().test)) + "\n" + places(analyses.front());
  const bool summed = analyses.back().span == Span::kAllYears;
  if (summed) {
    Columns summary;
    for (const Columns& year : years) summary.push_back(year.back());
    summary.push_back(&analyses.back());
    html += table(summary, "All years", true, style);
  }
  for (const Columns& year : years) {
    if (summed && year.size() == 1) continue;  // stands in the summary already
    html += table(year, year_label(*year.front()), false, style);
  }
  html += notes(analyses, style);
  html += entry_list(style.entries, analyses.front().test);
  html += composition_tables(style.compositions, analyses.front().test);
  html += event_lists(style.events, analyses.front().test);
  return element("section", "\n" + html, "id=\"" + anchor + "\"") + "\n";
}

}  // namespace ligule::results
