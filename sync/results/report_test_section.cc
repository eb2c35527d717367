#include "sync/results/report_test_section.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>
#include <vector>

#include "sync/results/html.h"
#include "sync/results/labels.h"
#include "sync/results/report_charts.h"
#include "sync/results/report_field.h"
#include "sync/results/report_stands.h"
#include "sync/results/report_weather.h"

namespace ligule::results {
namespace {

// Percent. Of yields: common practice, no source; Casler & Undersander (2000, Agron. J. 92:1064)
// advise against setting data aside by it.
constexpr double kHighCv = 15.0;

constexpr std::size_t kRatingsAcross = 6;  // on an upright page
constexpr std::size_t kLongFact = 160;     // letters; three lines of a column

std::string percent_text(double alpha) {
  return rounded(100.0 * alpha, 0) + " %";
}

std::string heading(const Analysis& analysis, const ReportText& text) {
  switch (analysis.span) {
    case Span::kAllYears:
      return "All years";
    case Span::kYear:
      return analysis.year ? year_label(analysis) + " total" : "Total";
    case Span::kCutting:
      break;
  }
  if (analysis.cutting.empty()) return analysis.year ? year_label(analysis) : "Mean";
  return text.cuttings ? "Cutting " + analysis.cutting : analysis.cutting;
}

// The heading where columns of several years stand side by side.
std::string full_heading(const Analysis& analysis, const ReportText& text) {
  const bool plain = analysis.span != Span::kCutting || !analysis.year || analysis.cutting.empty();
  if (plain || !text.cuttings) return heading(analysis, text);
  return year_label(analysis) + ", " + "cutting " + analysis.cutting;
}

// Why percents of the mean are not there, or tell little.
void note_percents(const Analysis& analysis, std::vector<std::string>& notes) {
  bool means = false, percents = false, below_zero = false;
  for (const EntryMean& entry : analysis.means) {
    means = means || entry.mean;
    percents = percents || entry.percent_of_mean;
    below_zero = below_zero || entry.mean.value_or(0.0) < 0.0;
  }
  if (means && !percents)
    notes.emplace_back("The mean is not above zero, so there are no percents of it and no CV.");
  else if (below_zero)
    notes.emplace_back("Some means are below zero: percents of the mean tell little beside them.");
}

// What a reader must know of one analysis before comparing entries in it; usually nothing.
std::vector<std::string> notes_of(const Analysis& analysis, const ReportText& text) {
  std::vector<std::string> notes;
  const double alpha = text.alpha;
  if (analysis.values == 0) {
    notes.emplace_back("No plot has a complete value, so there is nothing to compare.");
    return notes;
  }
  if (text.percents && !text.days) note_percents(analysis, notes);
  if (analysis.basis == Basis::kPublishedMeans) {
    notes.emplace_back(
        "Published means without single plots: there is no LSD, so small differences say nothing.");
    return notes;
  }
  if (!analysis.connected) {
    notes.emplace_back(
        "Some entries stand in no block together with the others, so no common means can be had.");
    return notes;
  }
  if (!analysis.mse) {
    notes.emplace_back("Too few plots to tell chance from difference: means only.");
  } else if (*analysis.mse == 0.0) {
    notes.emplace_back(
        "The plots agree without any chance variation, which real plots never do: look at the "
        "values.");
  } else if (analysis.lsd && !entries_differ(analysis, alpha)) {
    notes.emplace_back("The entries are alike at the " + percent_text(alpha) +
                       " level (ns): the order of the means is chance, and nothing is marked.");
  }
  if (text.cuttings && analysis.cv_percent && *analysis.cv_percent > kHighCv) {
    notes.emplace_back(
        "The CV is high (" + rounded(*analysis.cv_percent, 1) +
        " %): plots of one entry differ much beside the mean. That alone is no reason "
        "to set the values aside.");
  }
  const std::size_t rows = analysis.reps.value_or(0) * analysis.entries;
  if (analysis.lsd && analysis.values < rows) {
    const std::size_t missing = rows - analysis.values;
    notes.push_back(
        fmt::format("{} of {} plots {} missing.", missing, rows, missing == 1 ? "is" : "are"));
  }
  return notes;
}

bool is_under(const Footing& footing, const Analysis& analysis) {
  return analysis.span == Span::kCutting && footing.test == analysis.test &&
         footing.year == analysis.year && std::to_string(footing.cutting) == analysis.cutting;
}

// Of several cuttings or years: whether entries keep their order over them.
std::string over_items(const std::string& test, const ReportText& text) {
  std::string items;
  for (const OverCuttings& over : text.over_cuttings) {
    if (over.test != test) continue;
    const std::string of = over.over == Over::kYears ? std::string("All years")
                           : over.year               ? std::to_string(*over.year)
                                                     : std::string("Cuttings");
    items +=
        element("li", element("b", of + ":") + " " + escaped(interaction_words(over, text.alpha))) +
        "\n";
  }
  return items;
}

// Of the test's last-listed analysis that has the figure.
std::string gain_item(const std::string& test, const ReportText& text) {
  const DesignGain* last = nullptr;
  for (const DesignGain& gain : text.gains)
    if (gain.test == test && gain.over_none) last = &gain;
  if (last == nullptr) return {};
  const char* const design = last->design == Design::kLatinSquare        ? "Rows and columns"
                             : last->design == Design::kIncompleteBlocks ? "Incomplete blocks"
                                                                         : "Blocks";
  const double gain = last->over_none ? last->over_none->corrected : 1.0;
  std::string told = " made no difference to the last column.";
  if (gain > 1.05)
    told = " made the last column as precise as " + rounded(gain, 2) +
           " times as many plots without any blocking.";
  else if (gain < 0.95)
    told =
        " did not help here: without any blocking the last column would have been as precise "
        "with " +
        rounded(gain, 2) + " times as many plots.";
  return element("li", element("b", "Design:") + " " + design + told) + "\n";
}

std::string withheld_item(const std::string& test, const ReportText& text) {
  const auto found = std::ranges::find(text.withheld, test, &WithheldCount::test);
  if (found == text.withheld.end() || found->entries == 0) return {};
  const bool one = found->entries == 1;
  return element("li", std::to_string(found->entries) +
                           (one ? " more entry was" : " more entries were") +
                           " grown and analysed and " + (one ? "is" : "are") +
                           " not shown. Mean, LSD, CV, % of mean, ranks and marks count " +
                           (one ? "it" : "them") + "; % of checks is of the checks shown.") +
         "\n";
}

std::string notes(const ReportTest& test, const ReportText& text) {
  std::string items = withheld_item(test.test, text);
  for (const Analysis& analysis : test.analyses) {
    std::string words;
    for (const Footing& footing : text.footings)
      if (is_under(footing, analysis)) words += " " + footing.text;
    for (const std::string& each : notes_of(analysis, text)) words += " " + each;
    if (words.empty()) continue;
    items +=
        element("li", element("b", escaped(full_heading(analysis, text)) + ":") + escaped(words)) +
        "\n";
  }
  items += over_items(test.test, text) + gain_item(test.test, text);
  return items.empty() ? std::string() : element("ul", "\n" + items, "class=\"notes\"") + "\n";
}

// A year of a test: what was rated and what was cut.
struct Year {
  std::vector<const Analysis*> yields;
  std::vector<const RatingColumn*> ratings;
};

std::map<std::optional<int>, Year> by_year(const ReportTest& test) {
  std::map<std::optional<int>, Year> years;
  for (const Analysis& analysis : test.analyses) {
    if (analysis.span != Span::kAllYears) years[analysis.year].yields.push_back(&analysis);
  }
  for (const RatingColumn* const rating : test.ratings)
    years[rating->analysis.year].ratings.push_back(rating);
  return years;
}

// What growers look for beside yields; other ratings have a table of their own.
bool beside_yields(const RatingColumn& rating) {
  return rating.measure == "seedling_vigor" || rating.measure == "percent_stand" ||
         rating.measure == "maturity" || rating.is_date;
}

Column column_of(const RatingColumn& rating) {
  return {.analysis = &rating.analysis,
          .heading = rating.heading,
          .below = rating.below,
          .is_date = rating.is_date,
          .is_rating = true,
          .is_ratio = rating.is_ratio};
}

class Section {
 public:
  Section(const ReportTest& test, const ReportText& text)
      : test_(test), text_(text), style_(table_style(text)), years_(by_year(test)) {
    // Entries are looked up many times, and mostly among those of other tests.
    const auto of_test =
        std::ranges::equal_range(text.standings, test.test, {}, &EntryStanding::test);
    style_.standings = {of_test.begin(), of_test.end()};
    if (summed()) add_summary();
    for (const auto& [year, of_year] : years_) add_year(year, of_year);
  }

  void add_html(std::string& html) const {
    html += "<section id=\"";
    html += test_.anchor;
    html += "\">\n";
    add_element(html, "h2", escaped(test_.test));
    html += '\n';
    html += place();
    html += facts();
    for (const std::string& site : test_.sites())
      html += weather_tables(text_.weather, site, test_.years());
    if (years_.empty())
      html += element("p", "There is nothing to compare in this test yet.") + "\n";
    for (const EntryTable& table : tables_) table.add_html(html);
    html += stand_tables(test_, text_);
    html += grazing_table(test_, text_);
    html += charts();
    html += field_part(test_, text_);
    html += notes(test_, text_);
    html += composition_tables(text_.compositions, test_.test);
    html += event_lists(text_.events, test_.test);
    html += "</section>\n";
  }

  void add_press(CsvText& csv) const {
    for (const EntryTable& table : tables_) table.add_press(test_.test, csv);
  }

 private:
  [[nodiscard]] bool summed() const {
    return !test_.analyses.empty() && test_.analyses.back().span == Span::kAllYears;
  }

  [[nodiscard]] std::string place() const {
    std::string line = escaped(test_.places());
    if (test_.facts != nullptr && !test_.facts->title.empty())
      line = escaped(test_.facts->title) + (line.empty() ? "" : ". ") + line;
    return line.empty() ? line : element("p", line, "class=\"place\"") + "\n";
  }

  [[nodiscard]] std::string facts() const {
    if (test_.facts == nullptr || test_.facts->facts.empty()) return {};
    std::string list;
    for (const Fact& fact : test_.facts->facts) {
      // What would be a column of narrow lines takes the whole width.
      const bool long_one = fact.value.size() > kLongFact;
      list += element("li",
                      element("b", escaped(fact.name)) + " " + element("span", escaped(fact.value)),
                      long_one ? "class=\"long\"" : "") +
              "\n";
    }
    return element("ul", "\n" + list, "class=\"facts\"") + "\n";
  }

  // Yields of the year of sowing say little of the years after.
  [[nodiscard]] std::string seeding(const Analysis& analysis) const {
    const bool sown_then = test_.facts != nullptr && test_.facts->sown && analysis.year &&
                           int{test_.facts->sown->year()} == *analysis.year;
    return sown_then && text_.cuttings ? "seeding year" : "";
  }

  [[nodiscard]] std::string day_of(const Analysis& analysis) const {
    if (test_.facts == nullptr || analysis.span != Span::kCutting) return {};
    for (const PassDays& pass : test_.facts->passes) {
      const bool same = text_.cuttings ? pass.job == Job::kHarvest &&
                                             std::to_string(pass.cutting) == analysis.cutting
                                       : pass.code == analysis.cutting;
      if (same && analysis.year == pass.year) return days_and_month(pass.first, pass.last);
    }
    return {};
  }

  [[nodiscard]] Column column_of_yield(const Analysis& analysis, bool full) const {
    return {.analysis = &analysis,
            .heading = full ? full_heading(analysis, text_) : heading(analysis, text_),
            .below = full ? seeding(analysis) : day_of(analysis),
            .is_date = text_.days,
            .is_ratio = text_.percents};
  }

  void add_summary() {
    Columns columns;
    for (const auto& [year, of_year] : years_) {
      if (!of_year.yields.empty()) columns.push_back(column_of_yield(*of_year.yields.back(), true));
    }
    columns.push_back(column_of_yield(test_.analyses.back(), true));
    tables_.emplace_back(std::move(columns), "All years", style_);
  }

  // What the table of a grazed test shows, with its hours and its caution.
  [[nodiscard]] bool stands_with_grazing(const RatingColumn& rating) const {
    const bool of_grazing =
        rating.measure == measure::kGrazingPreference || rating.measure == measure::kPercentRemoved;
    return of_grazing &&
           std::ranges::find(text_.grazing, test_.test, &GrazingTest::test) != text_.grazing.end();
  }

  void add_year(std::optional<int> year, const Year& of_year) {
    Columns main, others;
    for (const RatingColumn* const rating : of_year.ratings) {
      if (stands_with_grazing(*rating)) continue;
      (beside_yields(*rating) ? main : others).push_back(column_of(*rating));
    }
    const bool yields_stand_above = summed() && of_year.yields.size() == 1;
    if (!yields_stand_above || !main.empty()) {
      for (const Analysis* const yield : of_year.yields)
        main.push_back(column_of_yield(*yield, false));
    }
    const std::string label = year ? std::to_string(*year) : std::string();
    const std::string apart =
        of_year.yields.empty() ? std::string() : seeding(*of_year.yields.front());
    TableStyle ratings = style_;
    ratings.percents = false;
    std::string caption = main.empty() ? "Ratings" : "Other ratings";
    if (!label.empty()) caption += " of " + label;
    if (!main.empty())
      tables_.emplace_back(std::move(main), apart.empty() ? label : label + ", " + apart,
                           of_year.yields.empty() ? ratings : style_);
    for (std::size_t first = 0; first < others.size(); first += kRatingsAcross) {
      const auto from = others.begin() + static_cast<std::ptrdiff_t>(first);
      const std::size_t count = std::min(kRatingsAcross, others.size() - first);
      tables_.emplace_back(Columns(from, from + static_cast<std::ptrdiff_t>(count)), caption,
                           ratings);
    }
  }

  [[nodiscard]] std::string charts() const {
    std::string html;
    if (!test_.analyses.empty() && !text_.days) {
      const Analysis& last = test_.analyses.back();
      html += means_chart(last, chart_unit(last), text_.best, style_);
    }
    std::vector<const RatingColumn*> stands;
    for (const RatingColumn* const rating : test_.ratings) {
      if (rating->measure == "percent_stand") stands.push_back(rating);
    }
    html += stand_chart(stands, style_);
    return html.empty() ? html : element("div", "\n" + html, "class=\"beside\"") + "\n";
  }

  // "2025 total, ton/acre"
  [[nodiscard]] std::string chart_unit(const Analysis& analysis) const {
    const bool all = analysis.span == Span::kAllYears;
    const std::string of = all ? std::string("all years") : full_heading(analysis, text_);
    return text_.unit.empty() ? of : of + ", " + text_.unit;
  }

  const ReportTest& test_;
  const ReportText& text_;
  TableStyle style_;
  std::map<std::optional<int>, Year> years_;
  std::vector<EntryTable> tables_;
};

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
      std::string row = entry_head(entry.entry);
      for (const double percent : entry.percent) row += element("td", rounded(percent, 1));
      rows += element("tr", row + element("td", std::to_string(entry.plots))) + "\n";
    }
    if (first.test != test) continue;
    std::string head = element("th", "Entry", "scope=\"col\"");
    for (const std::string_view part : composition::kParts) {
      head += element("th", headed(in_words(std::string(part))), "scope=\"col\"");
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

void add_test_texts(const ReportTest& test, const ReportText& text, std::string& sections,
                    CsvText& press) {
  const Section section(test, text);
  section.add_html(sections);
  section.add_press(press);
}

}  // namespace ligule::results
