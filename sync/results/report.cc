#include "sync/results/report.h"

#include <algorithm>
#include <vector>

#include "sync/results/html.h"
#include "sync/results/labels.h"
#include "sync/results/report_long_term.h"
#include "sync/results/report_raters.h"
#include "sync/results/report_test_section.h"

namespace ligule::results {
namespace {

// Paper first: black on white, thin rules, nothing that a copier would lose.
constexpr std::string_view kStyle = R"(
:root { --ink: #16211b; --rule: #b9c4bb; --band: #eef3ee; --strong: #1f5a3a; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.2rem; max-width: 72rem; color: var(--ink); background: #fff;
  font: 1rem/1.45 "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
h1 { margin: 0 0 .2rem; font-size: 1.7rem; }
h2 { margin: 2rem 0 .2rem; padding-top: .6rem; border-top: 3px solid var(--strong);
  font-size: 1.25rem; }
h3 { margin: .8rem 0 .2rem; font-size: 1rem; }
.place { margin: 0; color: #44514a; }
.demonstration { padding: .4rem .7rem; border: 2px solid var(--ink); font-weight: bold; }
.wide { overflow-x: auto; margin: .8rem 0; }
table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
caption { padding: .3rem 0; text-align: left; font-weight: bold; }
th, td { padding: .22rem 1.5rem .22rem .5rem; text-align: right; white-space: nowrap; }
th[scope=row], th:first-child { text-align: left; }
th[scope=row] { font-weight: normal; }
thead th { border-bottom: 2px solid var(--ink); vertical-align: bottom; }
tbody tr:nth-child(even) { background: var(--band); }
tfoot tr:first-child > * { border-top: 2px solid var(--ink); }
tfoot th { font-style: italic; }
td.top { position: relative; font-weight: bold; }
td i { position: absolute; right: .4rem; color: var(--strong); font-style: normal; }
.notes { margin: .4rem 0; padding-left: 1.2rem; font-size: .93rem; }
nav ul { columns: 14rem; padding-left: 1.2rem; }
footer { margin-top: 2rem; border-top: 1px solid var(--rule); font-size: .85rem; }
ol.tests { columns: 24rem; padding: 0; font-size: .85rem; }
ol.tests li { margin-left: 1.8rem; }
#long-term th, #long-term td { padding: .15rem .4rem; }
@page { margin: 14mm; }
@page across { margin: 12mm; size: landscape; }
@media print {
  body { padding: 0; max-width: none; font-size: 9.5pt; }
  nav { display: none; }
  .wide { overflow: visible; }
  table { page-break-inside: avoid; }
  h2, caption { page-break-after: avoid; }
  #long-term { page: across; }
  #long-term table { page-break-inside: auto; font-size: 7.5pt; line-height: 1.25; }
  #long-term tr, ol.tests li { page-break-inside: avoid; }
  #long-term th, #long-term td { padding: .3mm .8mm; }
  ol.tests { columns: 3; font-size: 7.5pt; line-height: 1.3; }
}
)";

struct Test {
  std::span<const Analysis> analyses;
  std::string anchor;
};

std::vector<Test> split_by_test(std::span<const Analysis> analyses) {
  std::vector<Test> tests;
  for (std::size_t first = 0; first < analyses.size();) {
    std::size_t last = first + 1;
    while (last < analyses.size() && analyses[last].test == analyses[first].test) ++last;
    tests.push_back(
        {analyses.subspan(first, last - first), "test-" + std::to_string(tests.size() + 1)});
    first = last;
  }
  return tests;
}

std::string paragraph(const std::string& html) {
  return element("p", html) + "\n";
}

std::string link(const std::string& anchor, const std::string& label) {
  return element("li", element("a", escaped(label), "href=\"#" + anchor + "\"")) + "\n";
}

std::string top(const ReportText& text, std::size_t tests) {
  std::string measure = text.measure.empty() ? "Values as given" : escaped(text.measure);
  if (!text.unit.empty()) measure += ", " + escaped(text.unit);
  measure += ". " + std::to_string(tests) + (tests == 1 ? " test" : " tests");
  if (!text.source.empty()) measure += ", from " + escaped(text.source);
  std::string html = "\n" + element("h1", "Variety test results") + "\n";
  if (text.demonstration) {
    html +=
        element("p", "Demonstration: these values are made up.", "class=\"demonstration\"") + "\n";
  }
  return element("header", html + paragraph(measure + ".")) + "\n";
}

std::string contents(const std::vector<Test>& tests, const ReportText& text) {
  std::string items = link("reading", "How to read the tables");
  for (const Test& test : tests) items += link(test.anchor, test.analyses.front().test);
  if (!text.raters.empty()) items += link("raters", "How the raters agree");
  items += link("long-term", "Long-term summary");
  items += link("cautions", "Before you choose");
  return element("nav", "\n" + element("ul", "\n" + items) + "\n", "aria-label=\"Contents\"") +
         "\n";
}

std::string marks_explained(Best best) {
  if (best == Best::kNone) {
    return "Entries are listed from the highest mean of the last column down. Neither end is the "
           "better one, so nothing is marked.";
  }
  const std::string end = best == Best::kHighest ? "highest" : "lowest";
  return "Entries are listed from the " + end + " mean of the last column on. " +
         element("b", std::string(kTopMark)) + " marks the " + end +
         " mean of a column and every mean that is not proven different from it. "
         "<b>Inside the marked group the order is chance:</b> treat these entries as equals.";
}

std::string how_to_read(const ReportText& text) {
  const std::string level = rounded(100.0 * text.alpha, 0) + "&nbsp;%";
  std::string items;
  const auto item = [&items](const std::string& html) { items += element("li", html) + "\n"; };
  item(marks_explained(text.best));
  item("LSD is the least significant difference at the " + level +
       " level: two means further apart than this differ by more than chance would explain. "
       "Compare entries within one column only.");
  item(
      "“ns” beside an LSD means that the analysis of variance finds no difference among the "
      "entries at the " +
      level +
      " level. Entries are then alike as far as this test can tell, and nothing is marked.");
  item(
      "CV is the chance variation between plots in percent of the mean. It describes a test; a "
      "high one alone is no reason to set a test aside.");
  item(
      "% of mean is the entry's mean in the last column, where 100 is the average of all entries "
      "in that column.");
  item(
      "Where plots are missing, means are adjusted for the blocks an entry stood in, the LSD is "
      "the "
      "average over all pairs, and each mark uses its own pair's. No value is made up.");
  item("– means that a figure can't be had.");
  return element("section",
                 "\n" + element("h2", "How to read the tables") + "\n" +
                     element("ul", "\n" + items) + "\n",
                 "id=\"reading\"") +
         "\n";
}

// Events of tests that have no table here: they are told all the same.
std::string without_table(const std::vector<Test>& tests, std::span<const EventLine> events) {
  std::string html;
  std::string before;
  for (const EventLine& event : events) {
    if (event.test == before) continue;
    before = event.test;
    const bool shown = std::ranges::any_of(
        tests, [&](const Test& test) { return test.analyses.front().test == event.test; });
    if (shown) continue;
    html += element("section", "\n" + element("h2", escaped(event.test)) + "\n" +
                                   paragraph("There is nothing to compare in this test yet.") +
                                   event_lists(events, event.test)) +
            "\n";
  }
  return html;
}

std::string cautions() {
  std::string items;
  const auto item = [&items](const std::string& html) { items += element("li", html) + "\n"; };
  item(
      "Stand and yield differ from site to site and from year to year. A result from one site in "
      "one year is weak ground for a choice; look for entries that do well over several.");
  item(
      "Percent stand, disease, winter injury and quality matter as much as yield and may not be "
      "shown here.");
  item(
      "What suits a field depends on its soil, water, use and management. The advice of those who "
      "know the local conditions decides.");
  return element(
             "section",
             "\n" + element("h2", "Before you choose") + "\n" + element("ul", "\n" + items) + "\n",
             "id=\"cautions\"") +
         "\n";
}

}  // namespace

std::string report_html(std::span<const Analysis> analyses, std::span<const LongTermRow> summary,
                        const ReportText& text) {
  const std::vector<Test> tests = split_by_test(analyses);
  std::string body = top(text, tests.size()) + contents(tests, text) + how_to_read(text);
  for (const Test& test : tests) {
    body += test_section(
        test.analyses, test.anchor,
        {text.alpha, text.cuttings, text.footings, text.events, text.compositions, text.entries});
  }
  body += without_table(tests, text.events);
  body += raters_section(text.raters, text.alpha);
  body += long_term_section(analyses, summary, text) + cautions();
  const std::string head =
      "\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
      element("title", "Variety test results") + "\n" + element("style", kStyle) + "\n";
  return "<!DOCTYPE html>\n" +
         element("html",
                 "\n" + element("head", head) + "\n" +
                     element("body", "\n" + element("main", "\n" + body) + "\n") + "\n",
                 "lang=\"en\"") +
         "\n";
}

}  // namespace ligule::results
