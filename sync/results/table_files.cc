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

// Of all entries, so that what is withheld changes no figure of another.
std::vector<LongTermRow> printed_summary(const TableFolder& folder) {
  const ReportText& text = folder.text;
  return printed(long_term(folder.analyses, text.min_tests), text.known);
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

// What a report is made of, by the names in print.
struct Shown {
  std::vector<Analysis> analyses;
  ReportText text;
};

Shown shown_of(const TableFolder& folder) {
  PrintedAnalyses shown = printed(folder.analyses, folder.text.known);
  ReportText text = folder.text;
  for (RatingColumn& rating : text.ratings)
    rating.analysis = printed({&rating.analysis, 1}, text.known).analyses.front();
  text.withheld = std::move(shown.withheld);
  text.known = folder.text.known.printed();
  complete_standings(text.standings, text.known);
  complete_varieties(text.varieties, text.known, shown.analyses);
  return {std::move(shown.analyses), std::move(text)};
}

}  // namespace

std::vector<OutputFile> all_tables(std::span<const TableFolder> folders) {
  std::vector<OutputFile> files;
  for (const TableFolder& folder : folders) {
    const auto& [name, analyses, text, others] = folder;
    const std::vector<LongTermRow> summary = printed_summary(folder);
    const Shown shown = shown_of(folder);
    const auto add = [&](const char* file, std::string content) {
      files.push_back({in_folder(folder, file), std::move(content)});
    };
    add("tests.csv", tests_csv(analyses, text.alpha));
    add("means.csv", means_csv(shown.analyses));
    add("long_term.csv", long_term_csv(summary));
    add("long_term_tests.csv", long_term_tests_csv(summary, tests_behind(analyses, text.sown)));
    add("press.csv", press_csv(shown.analyses, shown.text));
    for (const OutputFile& other : others) add(other.name.c_str(), other.content);
  }
  return files;
}

OutputFile report_file(const TableFolder& folder, const ReleaseState& release) {
  Shown shown = shown_of(folder);
  shown.text.release = release;
  return {in_folder(folder, "report.html"),
          report_html(shown.analyses, printed_summary(folder), shown.text)};
}

}  // namespace ligule::results
