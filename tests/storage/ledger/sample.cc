#include "tests/storage/ledger/sample.h"

#include <sqlite3.h>
#include <stdlib.h>

#include <fstream>
#include <sstream>

#include "storage/trial/number.h"
#include "storage/trial/record_line.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::ledger::sample {

Folder::Folder(bool in_memory) {
  std::filesystem::path base = std::filesystem::temp_directory_path();
  if (in_memory && std::filesystem::is_directory("/dev/shm")) base = "/dev/shm";
  std::string name = (base / "ligule-ledger-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) std::abort();
  path_ = name;
}

Folder::~Folder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

std::string Folder::file(std::string_view name) const {
  return (path_ / name).string();
}

void need(const Result<void>& result) {
  if (result) return;
  std::cerr << "needed: " << one_line(result.error()) << "\n";
  std::abort();
}

Uuid id(std::uint64_t n) {
  Uuid made;
  for (std::size_t i = 0; i < 6; ++i)
    made.bytes[i] = static_cast<std::uint8_t>(n >> (40U - 8U * i));
  made.bytes[6] = 0x70;
  made.bytes[8] = 0x80;
  return made;
}

Stamp at(std::int64_t seconds) {
  // 2026-05-04 12:00:00 UTC and on.
  return stamp_at(UtcInstant(std::chrono::seconds(1777896000 + seconds)),
                  std::chrono::minutes(-240));
}

StreamStart start(std::uint64_t n, std::string device) {
  StreamStart begin;
  begin.id = {id(n)};
  begin.record = {id(n + 1)};
  begin.device = std::move(device);
  begin.public_key.fill(static_cast<std::uint8_t>(n));
  begin.software = "ligule test";
  begin.at = at(0);
  return begin;
}

Ledger started(const std::string& path, std::uint64_t n, std::string device) {
  Ledger ledger = need(Ledger::create(path));
  need(ledger.start_stream(start(n, std::move(device))));
  return ledger;
}

Plan plan() {
  return two_block_plan({"north", "home", "TF26"});
}

TrialId trial() {
  return plan().id();
}
OccasionId rating() {
  return plan().occasion(plan().occasions[1]);
}
OccasionId cutting() {
  return plan().occasion(plan().occasions[0]);
}
PlotId plot(std::string_view number) {
  return plot_id(trial(), number);
}

Record plan_record(std::uint64_t n, const Plan& what) {
  Record record;
  record.id = {id(n)};
  record.kind = kind::kPlan;
  record.at = at(static_cast<std::int64_t>(n));
  record.trial = what.id();
  record.details = plan_text(what);
  record.plan = sha256(record.details).hex();
  return record;
}

Record reading(std::uint64_t n, std::string_view plot_number, std::string_view measure,
               std::string_view entered) {
  Record record;
  record.id = {id(n)};
  record.kind = kind::kReading;
  record.at = at(static_cast<std::int64_t>(n));
  record.person = person_id("AB");
  record.trial = trial();
  record.plan = sha256(plan_text(plan())).hex();
  record.subject = plot(plot_number).uuid;
  record.measure = measure;
  record.occasion = rating();
  record.purpose = Purpose::kSurvey;
  record.state = ValueState::kValue;
  record.entered = entered;
  if (const auto number = parse_number(entered)) record.value = *number;
  record.source = Source::kTapped;
  record.blind = true;
  return record;
}

Record correction(std::uint64_t n, const Record& target, std::string_view entered) {
  Record record = target;
  record.id = {id(n)};
  record.kind = kind::kCorrection;
  record.at = at(static_cast<std::int64_t>(n));
  record.entered = entered;
  record.value.reset();
  if (const auto number = parse_number(entered)) record.value = *number;
  record.targets = {target.id};
  record.reason = "mistyped";
  return record;
}

Record withdrawal(std::uint64_t n, const Record& target) {
  Record record = correction(n, target, "");
  record.kind = kind::kWithdrawal;
  record.state.reset();
  return record;
}

Record event(std::uint64_t n, std::string_view entered) {
  Record record;
  record.id = {id(n)};
  record.kind = kind::kEvent;
  record.at = at(static_cast<std::int64_t>(n));
  record.trial = trial();
  record.entered = entered;
  return record;
}

Record event_back(std::uint64_t n, const Record& target) {
  Record record;
  record.id = {id(n)};
  record.kind = kind::kWithdrawal;
  record.at = at(static_cast<std::int64_t>(n));
  record.trial = target.trial;
  record.targets = {target.id};
  record.reason = "mistap";
  return record;
}

Record settlement(std::uint64_t n, const std::vector<Record>& targets, std::string_view entered) {
  Record record = correction(n, targets.at(0), entered);
  record.kind = kind::kSettlement;
  record.targets.clear();
  for (const Record& target : targets) record.targets.push_back(target.id);
  return record;
}

std::vector<std::string> bodies(const Ledger& ledger, StreamId stream, std::int64_t first,
                                std::int64_t last) {
  std::vector<std::string> out;
  need(ledger.each_record(stream, first, last,
                          [&](std::int64_t, std::string_view body, const Digest&) {
                            out.emplace_back(body);
                            return true;
                          }));
  return out;
}

namespace {

struct RawAnswer {
  std::string error, value;
};

RawAnswer raw(const std::string& path, const std::string& sql) {
  sqlite3* handle = nullptr;
  RawAnswer answer;
  if (sqlite3_open_v2(path.c_str(), &handle, SQLITE_OPEN_READWRITE, nullptr) != SQLITE_OK)
    answer.error = "can't open";
  const auto keep_first = [](void* into, int, char** cells, char**) {
    auto& value = *static_cast<std::string*>(into);
    if (value.empty() && cells[0] != nullptr) value = cells[0];
    return 0;
  };
  char* message = nullptr;
  if (sqlite3_exec(handle, sql.c_str(), keep_first, &answer.value, &message) != SQLITE_OK)
    answer.error = message != nullptr ? message : "failed";
  sqlite3_free(message);
  sqlite3_close(handle);
  return answer;
}

}  // namespace

std::string raw_sql(const std::string& path, const std::string& sql) {
  return raw(path, sql).error;
}
std::string raw_value(const std::string& path, const std::string& sql) {
  return raw(path, sql).value;
}

std::string file_bytes(const std::string& path) {
  const std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

void write_bytes(const std::string& path, std::string_view bytes) {
  std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
}

}  // namespace ligule::ledger::sample
