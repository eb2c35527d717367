#include "sync/results/report_index.h"

#include <algorithm>
#include <map>

#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

constexpr const char* kNotKnown = "–";

std::string named_column(const std::string& name) {
  return element("th", name, "scope=\"col\"");
}

std::string text_column(const std::string& name) {
  return element("th", name, "scope=\"col\" class=\"text\"");
}

std::string text_cell(const std::string& text) {
  return element("td", text.empty() ? std::string(kNotKnown) : escaped(text), "class=\"text\"");
}

std::string table(const std::string& caption, const std::string& head, const std::string& rows) {
  const std::string name =
      caption.empty() ? std::string() : element("caption", escaped(caption)) + "\n";
  return element("div",
                 element("table", "\n" + name + element("thead", element("tr", head)) + "\n" +
                                      element("tbody", "\n" + rows) + "\n"),
                 "class=\"wide\"") +
         "\n";
}

std::string species_of(const ReportTest& test) {
  std::string names;
  if (test.facts == nullptr) return names;
  for (const std::string& name : test.facts->species) names += (names.empty() ? "" : ", ") + name;
  return headed(names);
}

std::string test_row(const ReportTest& test) {
  const TestFacts* const facts = test.facts;
  std::string row = element("th", element("a", escaped(test.test), "href=\"#" + test.anchor + "\""),
                            "scope=\"row\"");
  row += text_cell(test.places());
  row += text_cell(facts != nullptr && facts->sown ? format_date(*facts->sown) : std::string());
  row += text_cell(years_label(test.years(), "–"));
  row += element("td", std::to_string(test.entries()));
  row += text_cell(facts != nullptr && facts->next_due ? format_date(*facts->next_due)
                                                       : std::string());
  return element("tr", row) + "\n";
}

struct Shown {
  bool type = false, endophyte = false, market = false, note = false;
};

std::string variety_row(const VarietyLine& line, const Shown& shown) {
  std::string row = entry_head(line.entry);
  if (shown.type) row += text_cell(line.type);
  if (shown.endophyte) row += text_cell(line.endophyte) + text_cell(line.known_by);
  if (shown.market) row += text_cell(std::string(name_of(line.market)));
  std::string tests;
  for (const std::string& test : line.tests) tests += (tests.empty() ? "" : ", ") + test;
  row += text_cell(tests);
  if (shown.note) row += element("td", escaped(line.note), "class=\"text note\"");
  return element("tr", row) + "\n";
}

// Only columns that say something of one of them.
std::string variety_table(std::span<const VarietyLine> lines) {
  Shown shown;
  std::string rows;
  for (const VarietyLine& line : lines) {
    shown.type = shown.type || !line.type.empty();
    shown.endophyte = shown.endophyte || !line.endophyte.empty();
    shown.market = shown.market || line.market != Market::kNotStated;
    shown.note = shown.note || !line.note.empty();
  }
  for (const VarietyLine& line : lines) rows += variety_row(line, shown);
  std::string head = named_column("Entry");
  if (shown.type) head += text_column("Type");
  if (shown.endophyte) head += text_column("Endophyte") + text_column("How it is known");
  if (shown.market) head += text_column("Market");
  head += text_column("Tests");
  if (shown.note) head += text_column("Note");
  return table(headed(lines.front().species), head, rows);
}

}  // namespace

std::string index_section(std::span<const ReportTest> tests) {
  std::map<std::string, std::string> rows;  // by species
  for (const ReportTest& test : tests) rows[species_of(test)] += test_row(test);
  if (rows.empty()) return {};
  const std::string head = named_column("Test") + text_column("Site") + text_column("Sown") +
                           text_column("Data of") + named_column("Entries") +
                           text_column("Next planned");
  std::string bodies;
  for (const auto& [species, of_species] : rows) {
    std::string body = "\n";
    if (!species.empty()) {
      body += element("tr", element("th", escaped(species), "scope=\"rowgroup\" colspan=\"6\""),
                      "class=\"group\"") +
              "\n";
    }
    bodies += element("tbody", body + of_species) + "\n";
  }
  const std::string html =
      element("h2", "Tests") + "\n" +
      element("div", element("table", "\n" + element("thead", element("tr", head)) + "\n" + bodies),
              "class=\"wide\"") +
      "\n";
  return element("section", "\n" + html, "id=\"tests\"") + "\n";
}

std::string varieties_section(std::span<const VarietyLine> varieties) {
  if (varieties.empty()) return {};
  std::string tables;
  for (std::size_t first = 0; first < varieties.size();) {
    std::size_t last = first + 1;
    while (last < varieties.size() && varieties[last].species == varieties[first].species) ++last;
    tables += variety_table(varieties.subspan(first, last - first));
    first = last;
  }
  const std::string html =
      element("h2", "Varieties") + "\n" + element("div", "\n" + tables, "class=\"beside\"") + "\n";
  return element("section", "\n" + html, "id=\"varieties\"") + "\n";
}

}  // namespace ligule::results
