#include "sync/results/report_long_term.h"

#include <algorithm>
#include <functional>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "sync/results/html.h"
#include "sync/results/labels.h"
#include "sync/results/report_charts.h"
#include "sync/results/tests_behind.h"

namespace ligule::results {
namespace {

constexpr std::size_t kTestsAcross = 25;  // on a landscape page, in the print of the style sheet
constexpr const char* kNotGiven = "–";

std::string text_block(const std::string& html) {
  return element("p", html) + "\n";
}

// Best average first; entries without one follow by label.
std::vector<const LongTermRow*> ranked(std::span<const LongTermRow> summary, Best best) {
  std::vector<const LongTermRow*> rows;
  for (const LongTermRow& row : summary) rows.push_back(&row);
  std::ranges::stable_sort(rows, [best](const LongTermRow* a, const LongTermRow* b) {
    if (!a->percent_of_mean || !b->percent_of_mean) {
      return a->percent_of_mean.has_value() && !b->percent_of_mean;
    }
    if (best == Best::kLowest) std::swap(a, b);
    return *a->percent_of_mean > *b->percent_of_mean;
  });
  return rows;
}

// Species of the entries as a heading, where it is known of any; a species has a company of its own
// as a rule.
std::map<std::string, std::string> species_of(const ReportText& text) {
  std::map<std::string, std::string> species;
  for (const VarietyLine& line : text.varieties) species[line.entry] = headed(line.species);
  return species;
}

std::string head_cell(const std::string& html) {
  return element("th", html, "scope=\"col\"");
}

std::string average_cells(const LongTermRow& row) {
  std::string corrected = kNotGiven;
  if (row.corrected_percent) {
    corrected = rounded(*row.corrected_percent, 1);
    if (row.corrected_percent_error) {
      corrected += " ± " + rounded(*row.corrected_percent_error, 1);
    }
  }
  return element("td",
                 row.percent_of_mean ? rounded(*row.percent_of_mean, 1) : std::string(kNotGiven)) +
         element("td", std::to_string(row.tests.size())) + element("td", corrected);
}

// The row's percents in tests first..last-1 of all; an empty cell: it did not stand there.
std::string test_cells(const LongTermRow& row, std::span<const TestBehind> tests) {
  std::string cells;
  for (const TestBehind& test : tests) {
    const auto found = std::ranges::find(row.tests, test.test, &TestPercent::test);
    cells += element("td",
                     found == row.tests.end() ? std::string() : rounded(found->percent_of_mean, 0));
  }
  return cells;
}

// The first table has the averages, too.
std::string table(const std::vector<const LongTermRow*>& rows, std::span<const TestBehind> tests,
                  std::size_t first_number, const std::map<std::string, std::string>& species) {
  const bool averages = first_number == 1;
  std::string head = head_cell("Entry");
  if (averages) {
    head += head_cell("% of mean") + head_cell("Tests") + head_cell("Corrected<br>for company");
  }
  for (std::size_t i = 0; i < tests.size(); ++i) {
    head += head_cell(std::to_string(first_number + i));
  }
  std::string body;
  const std::string* group = nullptr;
  for (const LongTermRow* row : rows) {
    const auto of = species.find(row->entry);
    if (of != species.end() && (group == nullptr || *group != of->second)) {
      group = &of->second;
      const std::size_t width = 1 + tests.size() + (averages ? 3 : 0);
      body += element("tr",
                      element("th", escaped(*group),
                              "scope=\"rowgroup\" colspan=\"" + std::to_string(width) + "\""),
                      "class=\"group\"") +
              "\n";
    }
    body +=
        element("tr", entry_head(row->entry) + (averages ? average_cells(*row) : std::string()) +
                          test_cells(*row, tests)) +
        "\n";
  }
  const std::string parts =
      "\n" + element("thead", element("tr", head)) + "\n" + element("tbody", "\n" + body) + "\n";
  return element("div", element("table", parts), "class=\"wide\"") + "\n";
}

std::string years_told(const TestBehind& test) {
  std::string years = years_label(test.years, "–");
  if (test.count_of_years > 1) {
    years += (years.empty() ? "" : ", ") + std::to_string(test.count_of_years) + " years";
  }
  return years.empty() ? std::string() : "data of " + years;
}

// What each numbered column is.
std::string legend(const std::vector<TestBehind>& tests, const ReportText& text) {
  std::string items;
  for (const TestBehind& test : tests) {
    std::string item = element("b", escaped(test.test));
    if (!test.site.empty()) item += ", " + escaped(test.site);
    if (test.sown_year) item += ", sown " + std::to_string(*test.sown_year);
    if (const std::string years = years_told(test); !years.empty()) item += ", " + years;
    if (test.mean) {
      item += "; 100 is " + rounded(*test.mean, decimals_for(*test.mean, std::nullopt));
      if (!text.unit.empty()) item += " " + escaped(text.unit);
      if (test.count_of_years > 1) item += " a year";
    }
    items += element("li", item) + "\n";
  }
  if (items.empty()) return {};
  return text_block("The tests behind the averages, by the number of their column:") +
         element("ol", "\n" + items, "class=\"tests\"") + "\n";
}

// Tests that have results above and none here, which would else fall out without a word.
std::string left_out_list(std::span<const Analysis> analyses) {
  std::string items;
  for (const TestLeftOut& test : tests_left_out(analyses))
    items += element("li", element("b", escaped(test.test)) + ": " + escaped(test.why)) + "\n";
  if (items.empty()) return {};
  return text_block("Tests that count in no average:") +
         element("ul", "\n" + items, "class=\"notes\"") + "\n";
}

// A chart each company, since only its entries can be compared.
std::string charts(const std::vector<const LongTermRow*>& rows, Best best) {
  std::map<std::size_t, std::vector<const LongTermRow*>> companies;
  for (const LongTermRow* const row : rows) {
    if (row->company > 0) companies[row->company].push_back(row);
  }
  std::string html;
  for (auto& [number, company] : companies) {
    const double sign = best == Best::kLowest ? -1.0 : 1.0;
    std::ranges::stable_sort(company, std::ranges::greater(), [sign](const LongTermRow* row) {
      return sign * row->shrunken_mean.value_or(0.0);
    });
    html += long_term_chart(company);
  }
  return html;
}

std::string corrected_told(std::span<const LongTermRow> summary) {
  std::string told =
      "An entry looks better than it is where it met mostly poor ones, and worse among good "
      "ones. <b>Corrected for company</b> is what its average would be, had every entry stood "
      "in every test, as far as those that stood side by side tell; 100 is the average of all "
      "entries. ± is its standard error: chance moves it by more than twice that in about one "
      "of 20 cases, and more often where tests are few. Where all stood in all tests it is the "
      "plain average.";
  // Of the rows' own numbers: an entry that is not printed may be what joins two of them.
  const bool several =
      std::ranges::any_of(summary, [](const LongTermRow& row) { return row.company > 1; });
  if (several)
    told +=
        " Some entries never stood in a test with the others, nor with any that did (other "
        "species, say): nothing tells how they compare. Each such group is corrected by itself, "
        "and 100 is its own average.";
  return told;
}

}  // namespace

std::string long_term_section(std::span<const Analysis> analyses,
                              std::span<const LongTermRow> summary, const ReportText& text) {
  if (!text.percents) {
    return element(
               "section",
               "\n" + element("h2", "Long-term summary") + "\n" +
                   text_block("Scores and stages begin anywhere, so that no percent of a mean is "
                              "told of them. Means over tests, corrected for company, stand in "
                              "long_term.csv."),
               "id=\"long-term\"") +
           "\n";
  }
  const std::vector<TestBehind> tests = tests_behind(analyses, text.sown);
  const std::map<std::string, std::string> species = species_of(text);
  std::vector<const LongTermRow*> rows = ranked(summary, text.best);
  std::ranges::stable_sort(rows, {}, [&species](const LongTermRow* row) {
    const auto of = species.find(row->entry);
    return of == species.end() ? std::pair(true, std::string()) : std::pair(false, of->second);
  });
  std::string html = element("h2", "Long-term summary") + "\n";
  html += text_block(
      "% of mean is the average, over the tests an entry stood in, of its percent of the test mean "
      "in that test's most complete column. Each test counts once. No average is given below " +
      std::to_string(text.min_tests) + (text.min_tests == 1 ? " test." : " tests.") +
      " Entries that stood in different tests met different company and different seasons: the "
      "more tests, the more an average can be relied on.");
  html += text_block(corrected_told(summary));
  std::size_t first = 0;
  do {
    const std::size_t count = std::min(kTestsAcross, tests.size() - first);
    html += table(rows, std::span(tests).subspan(first, count), first + 1, species);
    first += count;
  } while (first < tests.size());
  html += legend(tests, text) + left_out_list(analyses) + charts(rows, text.best);
  return element("section", "\n" + html, "id=\"long-term\"") + "\n";
}

}  // namespace ligule::results
