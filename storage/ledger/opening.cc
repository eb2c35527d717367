#include "storage/ledger/opening.h"

#include <sys/stat.h>

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "storage/ledger/examiner.h"
#include "storage/ledger/files_of_ledger.h"
#include "storage/ledger/log.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {
namespace {

// A file of up to so many bytes is looked at wholly before it is written to. Of a larger one
// indexes and what is derived are not looked at, and of more records the older ones are not
// (2026-11-28: all of 10,277 records in 8 MB takes 0.24 s of a processor).
constexpr std::uint64_t kSmallFile = std::uint64_t{16} << 20U;
constexpr std::int64_t kNewest = 10'000;

std::unexpected<Error> damaged(std::string what, const std::string& path) {
  return fail(ErrorKind::kDamaged, std::move(what), path,
              "leave it as it is; run ligule-desk ledger-check on it");
}

std::optional<StreamId> stream_of_file(Connection& connection) {
  Query query(connection, "SELECT stream FROM this_file WHERE stream IS NOT NULL");
  return query.step() ? std::optional(StreamId{query.uuid(0)}) : std::nullopt;
}

bool is_copy(Connection& connection) {
  Query query(connection, "SELECT copied FROM this_file");
  return query.step() && query.integer(0) != 0;
}

// SQLite reads a log up to its first damaged page and passes over the rest, and whatever is written
// next lies over that: values that were told as kept would be gone for good. (An older file that
// was put back has no such log beside it, or is marked as a copy.)
Result<void> check_log(Connection& connection, const std::string& path) {
  if (bytes_of_log(path) == 0) return {};
  const std::vector<HighWater> told = high_waters(path);
  std::vector<Behind> gone = behind(connection, told);
  if (is_copy(connection)) std::erase_if(gone, [](const Behind& each) { return each.own; });
  if (gone.empty() || !is_of_this_ledger(connection, told)) return {};
  const std::int64_t first = gone.front().held + 1;
  const std::int64_t last = gone.front().told.seq;
  if (first == last)
    return damaged(
        "record " + std::to_string(last) + " was kept and can't be read from the ledger's log",
        path);
  return damaged("records " + std::to_string(first) + " to " + std::to_string(last) +
                     " were kept and can't be read from the ledger's log",
                 path);
}

// The digest that a record stands on, as far as the ledger knows it.
std::optional<Digest> digest_before(Connection& connection, StreamId stream, std::int64_t seq) {
  if (seq == 1) return Digest{};
  if (const auto before = digest_of(connection, stream, seq - 1)) return before;
  Query start(connection, "SELECT digest_before FROM span_start WHERE stream=? AND first=?");
  start.bind(1, stream.uuid).bind(2, seq);
  return start.step() ? std::optional(start.digest(0)) : std::nullopt;
}

// Pages that are sound may hold other bytes than were written.
Result<void> check_newest(Connection& connection, const std::string& path) {
  std::map<StreamId, Head> heads;
  Query query(connection,
              "SELECT stream, seq, body, digest FROM record"
              " WHERE row>(SELECT max(row) FROM record)-? ORDER BY row");
  query.bind(1, kNewest);
  while (query.step()) {
    const StreamId stream{query.uuid(0)};
    const std::int64_t seq = query.integer(1);
    const Digest said = query.digest(3);
    Head& head = heads[stream];
    const auto before = head.seq > 0 && head.seq == seq - 1
                            ? std::optional(head.digest)
                            : digest_before(connection, stream, seq);
    if (before && chained(*before, query.text(2)) != said)
      return damaged("record " + std::to_string(seq) + " is not what was kept", path);
    head = {seq, said};
  }
  return {};
}

// All that Ledger::check() looks at besides pages, which were looked at, and how far the ledger
// came: one that was put back from a copy may lack what came after it.
Result<void> check_whole(Connection& connection, const std::string& path) {
  Query(connection, "BEGIN").run();
  Examiner examiner(connection, path);
  examiner.note_all(key_faults(connection));
  examiner.check_records();
  Query(connection, "COMMIT").run();
  const std::vector<Error> findings = std::move(examiner).findings();
  if (findings.empty()) return {};
  return damaged("the ledger is damaged (" + findings.front().what + ")", path);
}

// Whether the ledger says of a stream what the stream's first record does not say, where that is
// held.
bool is_told_otherwise(Connection& connection) {
  Query query(connection,
              "SELECT s.id, r.body FROM stream s JOIN record r ON r.stream=s.id AND r.seq=1");
  while (query.step()) {
    const auto record = parse_record(query.text(1));
    if (!record) continue;  // damaged itself, or of a later format
    auto said = read_stream_record(*record);
    const auto held = stream_info(connection, {query.uuid(0)});
    if (said && held) said->mine = held->mine;
    if (!said || !held || *said != *held) return true;
  }
  return false;
}

}  // namespace

std::uint64_t bytes_of_file(const std::string& path) {
  struct stat found {};
  return ::stat(path.c_str(), &found) == 0 ? static_cast<std::uint64_t>(found.st_size) : 0;
}

std::uint64_t bytes_of_log(const std::string& path) {
  return bytes_of_file(beside(path, "-wal"));
}

std::vector<Behind> behind(Connection& connection, const std::vector<HighWater>& told) {
  const std::optional<StreamId> last_written = stream_of_file(connection);
  std::vector<Behind> behind;
  for (const HighWater& each : told) {
    const std::int64_t held = head_of(connection, each.stream).seq;
    if (held >= each.seq) continue;
    const bool own = last_written == each.stream;
    const auto stream = stream_info(connection, each.stream);
    if (own || !stream || !stream->mine) behind.push_back({each, held, own});
  }
  return behind;
}

bool is_of_this_ledger(Connection& connection, const std::vector<HighWater>& told) {
  if (std::ranges::any_of(
          told, [&](const HighWater& each) { return head_of(connection, each.stream).seq > 0; }))
    return true;
  Query query(connection, "SELECT 1 FROM stream");
  return !query.step();
}

void accept_put_back(Connection& connection, const std::string& path) {
  for (const Behind& each : behind(connection, high_waters(path))) {
    // Its own stream it must not go on with, and the note does not say so any more.
    if (each.own) Query(connection, "UPDATE this_file SET copied=1").run();
    lower_high_water(path, each.told, each.held);
  }
}

Result<void> check_opened(Connection& connection, const std::string& path, bool to_write) {
  const bool thorough = to_write && bytes_of_file(path) + bytes_of_log(path) <= kSmallFile;
  if (auto sound = check_pages(connection, path, thorough); !sound) return sound;
  if (auto sound = check_log(connection, path); !sound) return sound;
  if (is_told_otherwise(connection))
    return damaged("the ledger says otherwise of a tablet than its first record", path);
  if (!to_write) return {};
  return thorough ? check_whole(connection, path) : check_newest(connection, path);
}

}  // namespace ligule::ledger
