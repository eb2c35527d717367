#include "sync/results/table_files.h"

#include <utility>

#include "sync/results/long_term.h"
#include "sync/results/tables.h"

namespace ligule::results {
namespace {

std::string in_folder(const TableFolder& folder, const std::string& name) {
  return folder.name.empty() ? name : folder.name + "/" + name;
}

}  // namespace

std::vector<OutputFile> all_tables(std::span<const TableFolder> folders) {
  std::vector<OutputFile> files;
  for (const TableFolder& folder : folders) {
    const auto& [name, analyses, text, others] = folder;
    const std::vector<LongTermRow> summary = long_term(analyses, text.min_tests);
    const auto add = [&](const char* file, std::string content) {
      files.push_back({in_folder(folder, file), std::move(content)});
    };
    add("tests.csv", tests_csv(analyses, text.alpha));
    add("means.csv", means_csv(analyses));
    add("long_term.csv", long_term_csv(summary));
    add("long_term_tests.csv", long_term_tests_csv(summary, tests_behind(analyses, text.sown)));
    for (const OutputFile& other : others) add(other.name.c_str(), other.content);
  }
  return files;
}

OutputFile report_file(const TableFolder& folder, const ReleaseState& release) {
  ReportText text = folder.text;
  text.release = release;
  const std::vector<LongTermRow> summary = long_term(folder.analyses, text.min_tests);
  return {in_folder(folder, "report.html"), report_html(folder.analyses, summary, text)};
}

}  // namespace ligule::results
