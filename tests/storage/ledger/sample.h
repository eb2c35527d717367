// Verbs for ledger tests: a folder that goes away, a small plan, drafts of records, raw SQL.
#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "storage/ledger/ledger.h"

namespace ligule::ledger::sample {

// A folder made for one test, removed at its end. In memory where the machine allows it
// (in_memory), because forcing thousands of small files to a disk takes minutes.
class Folder {
 public:
  explicit Folder(bool in_memory = false);
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  Folder(Folder&&) = delete;
  Folder& operator=(Folder&&) = delete;
  ~Folder();
  [[nodiscard]] std::string file(std::string_view name) const;

 private:
  std::filesystem::path path_;
};

// The value, or a failed test with the error's line.
template <class T>
T need(Result<T> result);
void need(const Result<void>& result);
// The error of a result that must have failed, as "kind: line".
template <class T>
std::string error_line(const Result<T>& result);

// The n-th id of a test: version 7 in form, ascending with n.
[[nodiscard]] Uuid id(std::uint64_t n);
[[nodiscard]] Stamp at(std::int64_t seconds);
[[nodiscard]] StreamStart start(std::uint64_t n, std::string device = "field tablet");
// A ledger with a stream of its own; uses ids n and n + 1.
[[nodiscard]] Ledger started(const std::string& path, std::uint64_t n,
                             std::string device = "field tablet");

// One trial of two blocks with two entries: plots 101, 102, 201, 202; a rating and a cutting.
[[nodiscard]] Plan plan();
[[nodiscard]] TrialId trial();
[[nodiscard]] OccasionId rating();
[[nodiscard]] OccasionId cutting();
[[nodiscard]] PlotId plot(std::string_view number);

[[nodiscard]] Record plan_record(std::uint64_t n, const Plan& what);
[[nodiscard]] Record reading(std::uint64_t n, std::string_view plot_number,
                             std::string_view measure, std::string_view entered);
// Restates a claim; `n` its id, the rest as the target.
[[nodiscard]] Record correction(std::uint64_t n, const Record& target, std::string_view entered);
[[nodiscard]] Record withdrawal(std::uint64_t n, const Record& target);
[[nodiscard]] Record event(std::uint64_t n, std::string_view entered);
// Takes an event back.
[[nodiscard]] Record event_back(std::uint64_t n, const Record& target);
[[nodiscard]] Record settlement(std::uint64_t n, const std::vector<Record>& targets,
                                std::string_view entered);

// The bodies of a span of a ledger.
[[nodiscard]] std::vector<std::string> bodies(const Ledger& ledger, StreamId stream,
                                              std::int64_t first, std::int64_t last);

// Runs SQL on the file by a connection of its own, without any of the ledger's settings; gives
// SQLite's message, empty when it worked.
[[nodiscard]] std::string raw_sql(const std::string& path, const std::string& sql);
// First column of the first row.
[[nodiscard]] std::string raw_value(const std::string& path, const std::string& sql);
// All bytes of a file.
[[nodiscard]] std::string file_bytes(const std::string& path);
void write_bytes(const std::string& path, std::string_view bytes);

}  // namespace ligule::ledger::sample

#include "tests/storage/ledger/sample_impl.h"
