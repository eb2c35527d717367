#include "sync/results/release.h"

#include <algorithm>
#include <functional>
#include <utility>

#include "storage/files/table_row.h"
#include "storage/ledger/digest.h"
#include "sync/results/checked_table.h"
#include "sync/results/in_parts.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

constexpr std::string_view kSchema = R"({"fields": [
  {"name": "date", "description": "Of the release.", "type": "date",
   "constraints": {"required": true}},
  {"name": "released_by", "description": "Who released it.", "type": "string",
   "constraints": {"required": true, "maxLength": 80}},
  {"name": "changed", "description": "What is new in it.", "type": "string",
   "constraints": {"required": true, "maxLength": 400}},
  {"name": "tables", "description": "Digest of the tables.", "type": "string",
   "constraints": {"required": true, "pattern": "[0-9a-f]{64}"}}]})";

// As much work to digest as a plot value is to analyse.
constexpr std::size_t kBytesOfAValue = 100;

// As the schema has them.
constexpr std::size_t kLongestBy = 80, kLongestChanged = 400;

}  // namespace

std::string tables_digest(std::span<const OutputFile> files) {
  std::vector<const OutputFile*> tables;
  std::size_t bytes = 0;
  for (const OutputFile& file : files) {
    const bool plans = file.name == "next_test.csv";  // which tells of no entry
    if (!file.name.ends_with(".csv") || file.name == kReleasesFile || plans) continue;
    tables.push_back(&file);
    bytes += file.content.size();
  }
  // The largest first, so that none is begun when all others are done.
  std::ranges::sort(tables, std::ranges::greater(),
                    [](const OutputFile* file) { return file->content.size(); });
  std::vector<std::pair<std::string, std::string>> digests(tables.size());
  std::vector<std::function<void()>> tasks;
  tasks.reserve(tables.size());
  for (std::size_t i = 0; i < tables.size(); ++i) {
    tasks.emplace_back([&, i] {
      digests[i] = {tables[i]->name, sha256(tables[i]->content).hex()};
    });
  }
  side_by_side(tasks, bytes / kBytesOfAValue);
  std::ranges::sort(digests);
  std::string all;
  for (const auto& [name, digest] : digests) {
    all += digest;
    all += "  ";
    all += name;
    all += '\n';
  }
  return sha256(all).hex();
}

files::Checked<std::vector<Release>> parse_releases(std::string_view text,
                                                    const std::string& name) {
  const auto table = checked_table(text, name, kSchema);
  if (!table) return std::unexpected(table.error());
  files::Faults faults;
  std::vector<Release> releases;
  for (const files::CsvRow& csv : table->rows()) {
    const files::TableRow row(*table, csv);
    const CalendarDate date = row.date("date").value_or(CalendarDate{});
    if (!releases.empty() && date < releases.back().date) {
      faults.push_back({ErrorKind::kInvalid, "this release is dated before the one above it",
                        row.place(), "rows are only ever added at the end; mend the date"});
    }
    releases.push_back({date, row.text("released_by"), row.text("changed"), row.text("tables")});
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return releases;
}

std::string releases_csv(std::span<const Release> releases) {
  std::string text = "date,released_by,changed,tables\n";
  for (const Release& release : releases) {
    text += csv_line(
        std::vector{format_date(release.date), release.by, release.changed, release.tables});
  }
  return text;
}

std::string release_fault(std::string_view by, std::string_view changed) {
  if (by.size() > kLongestBy) return "who releases it is told in more than 80 bytes";
  if (changed.size() > kLongestChanged) return "what is new is told in more than 400 bytes";
  return {};
}

ReleaseState state_of(std::vector<Release> releases, std::string_view tables) {
  const bool released = !releases.empty() && releases.back().tables == tables;
  return {std::move(releases), released};
}

}  // namespace ligule::results
