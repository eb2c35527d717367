#include "sync/results/table_files.h"

#include <functional>
#include <span>
#include <string_view>
#include <utility>

#include "sync/results/in_parts.h"
#include "sync/results/long_term.h"
#include "sync/results/report_long_term.h"
#include "sync/results/report_page.h"
#include "sync/results/report_test_section.h"
#include "sync/results/tables.h"

namespace ligule::results {
namespace {

std::string in_folder(const TableFolder& folder, const std::string& name) {
  return folder.name.empty() ? name : folder.name + "/" + name;
}

// What the varieties table says of an entry goes with what its test's plan says.
void complete_standings(std::vector<EntryStanding>& standings, const Varieties& known) {
  for (EntryStanding& standing : standings) {
    const Variety* const variety = known.find(standing.entry);
    if (variety == nullptr) continue;
    standing.check = standing.check || variety->check;
    standing.market = variety->market;
  }
}

// What is printed of a folder.
struct Printed {
  std::span<const Analysis> analyses;
  std::vector<Analysis> renamed;  // what the analyses are, where names in print are others
  ReportText text;
};

Printed printed_folder(TableFolder& folder, const Varieties& known) {
  Printed out;
  out.text = std::move(folder.text);
  out.analyses = folder.analyses;
  if (known.changes_names()) {
    PrintedAnalyses shown = printed(folder.analyses, known);
    out.renamed = std::move(shown.analyses);
    out.analyses = out.renamed;
    out.text.withheld = std::move(shown.withheld);
    for (RatingColumn& rating : out.text.ratings)
      rating.analysis = printed({&rating.analysis, 1}, known).analyses.front();
  }
  out.text.known = known.printed();
  complete_standings(out.text.standings, out.text.known);
  complete_varieties(out.text.varieties, out.text.known, out.analyses);
  return out;
}

// What is told of all tests together.
struct OverTests {
  std::string rows, tests;  // long_term.csv, long_term_tests.csv
  std::string section;
};

OverTests over_tests(std::span<const Analysis> analyses, const Varieties& known,
                     const Printed& shown) {
  // Of all entries, so that what is withheld changes no figure of another.
  const std::vector<LongTermRow> summary =
      printed(long_term(analyses, shown.text.min_tests), known);
  OverTests out;
  out.rows = long_term_csv(summary);
  out.tests = long_term_tests_csv(summary, tests_behind(analyses, shown.text.sown));
  if (!shown.text.days) out.section = long_term_section(shown.analyses, summary, shown.text);
  return out;
}

// What is told of some of the tests.
struct SomeTests {
  CsvText tests, means, press;
  std::string sections;
};

// The n-th of so many parts of a list.
template <class Item>
std::span<const Item> part_of(std::span<const Item> all, std::size_t n, std::size_t parts) {
  const std::size_t first = n * all.size() / parts;
  return all.subspan(first, (n + 1) * all.size() / parts - first);
}

std::string joined(std::string_view header, std::span<const SomeTests> parts,
                   CsvText SomeTests::*lines) {
  std::size_t size = header.size() + 1;
  for (const SomeTests& part : parts) size += (part.*lines).text().size();
  std::string text;
  text.reserve(size);
  text += header;
  text += '\n';
  for (const SomeTests& part : parts) text += (part.*lines).text();
  return text;
}

}  // namespace

FolderFiles folder_files(TableFolder& folder) {
  const Varieties known = folder.text.known;
  const Printed shown = printed_folder(folder, known);
  const std::span<const Analysis> analyses = folder.analyses;
  const std::vector<ReportTest> tests = report_tests(shown.analyses, shown.text);
  std::size_t size = 0;
  for (const Analysis& analysis : analyses) size += analysis.values;

  // Many parts, so that no core has nothing to do while another one sums up over all tests.
  constexpr std::size_t kTestsOfPart = 8;
  const std::size_t count = tests.size() / kTestsOfPart + 1;
  std::vector<SomeTests> parts(count);
  OverTests over;
  std::vector<std::function<void()>> tasks;
  tasks.reserve(count + 1);
  tasks.emplace_back([&] { over = over_tests(analyses, known, shown); });
  for (std::size_t n = 0; n < count; ++n) {
    tasks.emplace_back([&, n] {
      SomeTests& part = parts[n];
      add_tests(part_of(analyses, n, count), part.tests);
      add_means(part_of(shown.analyses, n, count), part.means);
      for (const ReportTest& test : part_of(std::span(tests), n, count))
        add_test_texts(test, shown.text, part.sections, part.press);
    });
  }
  side_by_side(tasks, size);

  ReportPage page;
  std::string of_tests, of_means, of_press;
  const std::vector<std::function<void()>> joining = {
      [&] {
        std::vector<std::string> sections;
        sections.reserve(count);
        for (SomeTests& part : parts) sections.push_back(std::move(part.sections));
        page = report_page(tests, sections, over.section, shown.text);
      },
      [&] { of_means = joined(kMeansHeader, parts, &SomeTests::means); },
      [&] { of_press = joined(kPressHeader, parts, &SomeTests::press); },
      [&] { of_tests = joined(tests_header(shown.text.alpha), parts, &SomeTests::tests); }};
  side_by_side(joining, size);

  FolderFiles files;
  const auto add = [&](const std::string& file, std::string content) {
    files.tables.push_back({in_folder(folder, file), std::move(content)});
  };
  add("tests.csv", std::move(of_tests));
  add("means.csv", std::move(of_means));
  add("long_term.csv", std::move(over.rows));
  add("long_term_tests.csv", std::move(over.tests));
  add("press.csv", std::move(of_press));
  for (OutputFile& other : folder.others) add(other.name, std::move(other.content));
  files.report = {in_folder(folder, "report.html"), std::move(page.html)};
  files.release_at = page.release_at;
  return files;
}

OutputFile report_file(FolderFiles files, const ReleaseState& release) {
  files.report.content = with_release({std::move(files.report.content), files.release_at}, release);
  return std::move(files.report);
}

}  // namespace ligule::results
