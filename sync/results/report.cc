#include "sync/results/report.h"

#include <algorithm>
#include <vector>

#include "sync/results/html.h"
#include "sync/results/labels.h"
#include "sync/results/report_index.h"
#include "sync/results/report_long_term.h"
#include "sync/results/report_names.h"
#include "sync/results/report_page.h"
#include "sync/results/report_raters.h"
#include "sync/results/report_style.h"
#include "sync/results/report_test_section.h"

namespace ligule::results {
namespace {

// For what a report holds besides its tests, and the release that is put in last.
constexpr std::size_t kRoom = std::size_t{1} << 17U;

std::string paragraph(const std::string& html) {
  return element("p", html) + "\n";
}

std::string link(const std::string& anchor, const std::string& label) {
  return element("li", element("a", escaped(label), "href=\"#" + anchor + "\"")) + "\n";
}

std::string revision_told(const Release& release, std::size_t number) {
  return "Revision " + std::to_string(number) + ", " + format_date(release.date) + ", by " +
         escaped(release.by) + ": " + escaped(release.changed);
}

// A draft says so before any number does.
std::string release_told(const ReleaseState& state) {
  const std::size_t count = state.releases.size();
  std::string told;
  if (state.released) {
    told = element("b", "RELEASED.") + " " + revision_told(state.releases.back(), count) + ".";
  } else if (count == 0) {
    told = element("b", "DRAFT.") +
           " The trial lead has not released these tables: numbers may still change. Do not "
           "publish or quote them.";
  } else {
    told = element("b", "DRAFT.") + " These tables are not those released on " +
           format_date(state.releases.back().date) +
           ": numbers have changed since. Do not publish or quote them.";
  }
  std::string html = element("p", told, "class=\"state\"") + "\n";
  std::string earlier;
  const std::size_t past = state.released ? count - 1 : count;
  for (std::size_t i = past; i-- > 0;)
    earlier += element("li", revision_told(state.releases[i], i + 1)) + "\n";
  if (!earlier.empty()) {
    html += element("details", "\n" + element("summary", "Earlier releases") + "\n" +
                                   element("ul", "\n" + earlier) + "\n") +
            "\n";
  }
  return html;
}

std::string measure_told(const ReportText& text, std::size_t tests) {
  std::string measure = text.measure.empty() ? "Values as given" : escaped(text.measure);
  if (!text.unit.empty()) measure += ", " + escaped(text.unit);
  measure += ". " + std::to_string(tests) + (tests == 1 ? " test" : " tests");
  if (!text.source.empty()) measure += ", from " + escaped(text.source);
  return measure + ".";
}

std::string contents(std::span<const ReportTest> tests, const ReportText& text) {
  std::string items = link("reading", "How to read the tables");
  items += link("cautions", "Before you choose");
  if (!tests.empty()) items += link("tests", "Tests");
  if (!text.varieties.empty()) items += link("varieties", "Varieties");
  if (!text.aliases.empty() || !text.alike.empty() || !text.apart.empty())
    items += link("names", "Names");
  for (const ReportTest& test : tests) items += link(test.anchor, test.test);
  if (!text.raters.empty()) items += link("raters", "How the raters agree");
  if (!text.days) items += link("long-term", "Long-term summary");
  return element("nav", "\n" + element("ul", "\n" + items) + "\n", "aria-label=\"Contents\"") +
         "\n";
}

std::string order_explained(const ReportText& text) {
  const std::string groups = std::ranges::any_of(text.standings,
                                                 [](const EntryStanding& each) {
                                                   return each.market != Market::kNotStated;
                                                 })
                                 ? " Entries on sale stand above experimental ones."
                                 : "";
  if (text.order == EntryOrder::kPlan)
    return "Entries are listed in the order of the plan." + groups;
  const std::string end = text.best == Best::kLowest ? "lowest" : "highest";
  return "Entries are listed from the " + end + " mean of the last column on." + groups;
}

std::string marks_explained(const ReportText& text) {
  if (text.best == Best::kNone) {
    return order_explained(text) + " Neither end is the better one, so nothing is marked.";
  }
  const std::string end = text.best == Best::kHighest ? "highest" : "lowest";
  std::string told = order_explained(text) + " " + element("b", std::string(kTopMark)) +
                     " marks the " + end +
                     " mean of a column and every mean that is not proven different from it. "
                     "<b>Inside the marked group the order is chance:</b> treat these entries as "
                     "equals.";
  if (!text.withheld.empty()) {
    told +=
        " Where the best entry of a column is not shown, only those not proven different from it "
        "are marked.";
  }
  if (!text.ratings.empty()) {
    told +=
        " Of ratings the good end is marked: the highest for stand and vigor, the lowest for "
        "injury and disease. Maturity and heading date have no good end and carry no mark.";
  }
  return told;
}

std::string how_to_read(const ReportText& text) {
  const std::string level = rounded(100.0 * text.alpha, 0) + "&nbsp;%";
  std::string items;
  const auto item = [&items](const std::string& html) { items += element("li", html) + "\n"; };
  item(marks_explained(text));
  item("LSD is the least significant difference at the " + level +
       " level: two means further apart than this differ by more than chance would explain. "
       "Compare entries within one column only.");
  item(
      "“ns” in place of an LSD or beside it means that the analysis of variance finds no "
      "difference among the "
      "entries at the " +
      level +
      " level. Entries are then alike as far as this test can tell, and nothing is marked." +
      (text.withhold_lsd ? "" : " The figure behind it is not to be used to tell entries apart."));
  item(
      std::string("CV is the chance variation between plots in percent of the mean. It describes a "
                  "test; a high one alone is no reason to set a test aside.") +
      (text.ratings.empty() && text.percents
           ? ""
           : " Scores, stages and dates have none: their scales begin anywhere."));
  if (text.percents && !text.days)
    item(
        "% of mean is the entry's mean in the last column, where 100 is the average of all entries "
        "in that column. % of checks has the mean of the check entries shown as 100.");
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
      "That an entry is listed recommends nothing, and that one is not listed says nothing against "
      "it. No endorsement of any variety or seller is meant.");
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

ReportPage report_page(std::span<const ReportTest> tests, std::span<const std::string> sections,
                       std::string_view long_term, const ReportText& text) {
  ReportPage page;
  std::string& html = page.html;
  std::size_t size = long_term.size() + kRoom;
  for (const std::string& section : sections) size += section.size();
  html.reserve(size);
  html +=
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<title>Variety test results</title>\n";
  add_element(html, "style", kReportStyle);
  html += "\n</head>\n<body>\n<main>\n<header>\n<h1>Variety test results</h1>\n";
  if (text.demonstration) {
    html += "<p class=\"demonstration\">Demonstration: these values are made up.</p>\n";
  }
  page.release_at = html.size();
  html += paragraph(measure_told(text, tests.size()));
  html += "</header>\n";
  html += contents(tests, text);
  html += how_to_read(text);
  html += cautions();
  html += index_section(tests);
  html += varieties_section(text.varieties);
  html += names_section(text);
  for (const std::string& section : sections) html += section;
  html += raters_section(text.raters, text.alpha);
  html += long_term;
  html += "</main>\n</body>\n</html>\n";
  return page;
}

std::string with_release(ReportPage page, const ReleaseState& release) {
  page.html.insert(page.release_at, release_told(release));
  return std::move(page.html);
}

std::string report_html(std::span<const Analysis> analyses, std::span<const LongTermRow> summary,
                        const ReportText& text) {
  const std::vector<ReportTest> tests = report_tests(analyses, text);
  std::vector<std::string> sections(1);
  CsvText press;
  for (const ReportTest& test : tests) add_test_texts(test, text, sections.front(), press);
  const std::string long_term =
      text.days ? std::string() : long_term_section(analyses, summary, text);
  return with_release(report_page(tests, sections, long_term, text), text.release);
}

}  // namespace ligule::results
