// Whether a report is out: a draft until the trial lead says so, and a draft again as soon as a
// number is another one than was released.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/trial/calendar.h"
#include "sync/results/output.h"

namespace ligule::results {

// One row of releases.csv beside the tables: date,released_by,changed,tables. Rows are only ever
// added.
struct Release {
  CalendarDate date{};
  std::string by;       // who released it: initials, a name, an office
  std::string changed;  // what is new since the one before; of the first, what it is
  std::string tables;   // digest of what was released, of tables_digest()

  bool operator==(const Release&) const = default;
};

inline constexpr const char* kReleasesFile = "releases.csv";

// SHA-256, in hex, over name and content of every file that is a table (CSV), in the order of their
// names, press.csv among them, which says how each is printed. Not of next_test.csv.
[[nodiscard]] std::string tables_digest(std::span<const OutputFile> files);

// Faults: columns and cells that are not as above, dates that run backwards.
[[nodiscard]] files::Checked<std::vector<Release>> parse_releases(std::string_view text,
                                                                  const std::string& name);
[[nodiscard]] std::string releases_csv(std::span<const Release> releases);

// How a report stands to what was released.
struct ReleaseState {
  std::vector<Release> releases;  // in order
  bool released = false;          // the tables are those of the last release
};
// Why what a person says of a release can't stand in the file; empty where it can.
[[nodiscard]] std::string release_fault(std::string_view by, std::string_view changed);

[[nodiscard]] ReleaseState state_of(std::vector<Release> releases, std::string_view tables);

}  // namespace ligule::results
