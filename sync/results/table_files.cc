#include "sync/results/table_files.h"

#include <utility>

#include "sync/results/long_term.h"
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

}  // namespace

PrintedFolder printed_folder(const TableFolder& folder) {
  PrintedAnalyses shown = printed(folder.analyses, folder.text.known);
  // Of all entries, so that what is withheld changes no figure of another.
  std::vector<LongTermRow> summary =
      printed(long_term(folder.analyses, folder.text.min_tests), folder.text.known);
  ReportText text = folder.text;
  for (RatingColumn& rating : text.ratings)
    rating.analysis = printed({&rating.analysis, 1}, folder.text.known).analyses.front();
  text.withheld = std::move(shown.withheld);
  text.known = folder.text.known.printed();
  complete_standings(text.standings, text.known);
  complete_varieties(text.varieties, text.known, shown.analyses);
  return {&folder, std::move(shown.analyses), std::move(summary), std::move(text)};
}

std::vector<OutputFile> table_files(const PrintedFolder& printed) {
  const TableFolder& folder = *printed.folder;
  std::vector<OutputFile> files;
  const auto add = [&](const std::string& file, std::string content) {
    files.push_back({in_folder(folder, file), std::move(content)});
  };
  add("tests.csv", tests_csv(folder.analyses, folder.text.alpha));
  add("means.csv", means_csv(printed.analyses));
  add("long_term.csv", long_term_csv(printed.summary));
  add("long_term_tests.csv",
      long_term_tests_csv(printed.summary, tests_behind(folder.analyses, folder.text.sown)));
  add("press.csv", press_csv(printed.analyses, printed.text));
  for (const OutputFile& other : folder.others) add(other.name, other.content);
  return files;
}

OutputFile report_file(PrintedFolder printed, const ReleaseState& release) {
  printed.text.release = release;
  return {in_folder(*printed.folder, "report.html"),
          report_html(printed.analyses, printed.summary, printed.text)};
}

}  // namespace ligule::results
