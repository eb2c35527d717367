#include "storage/ledger/ledger.h"

#include <sqlite3.h>

#include <utility>

#include "storage/ledger/database.h"
#include "storage/ledger/files_of_ledger.h"
#include "storage/ledger/fold_log.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"
#include "storage/ledger/plan_order.h"
#include "storage/ledger/projections.h"
#include "storage/ledger/rows.h"
#include "storage/ledger/schema.h"
#include "storage/ledger/sense.h"

namespace ligule::ledger {
namespace {

// Builds a whole empty ledger under a name of its own, so that a ledger under its final name is
// never half made.
Result<void> build_empty(const std::string& path) {
  if (auto made = make_private_file(path); !made) return made;
  try {
    Connection connection(path, SQLITE_OPEN_READWRITE);
    if (auto set = apply_settings(connection, path, /*read_only=*/false); !set) return set;
    const auto identity = identity_of(path);
    if (!identity) return std::unexpected(identity.error());
    connection.run("BEGIN IMMEDIATE");
    make_schema(connection);
    note_this_file(connection, *identity);
    connection.run("COMMIT");
    connection.run("PRAGMA wal_checkpoint(TRUNCATE)");
    return {};
  } catch (const SQLite::Exception& thrown) {
    return std::unexpected(error_of(thrown, path));
  }
}

Result<void> check_start(const StreamStart& start) {
  if (start.id.is_nil() || start.record.is_nil())
    return fail(ErrorKind::kInvalid, "a stream needs ids of its own");
  if (start.device.empty() || !is_cell_text(start.device) || !is_cell_text(start.software))
    return fail(ErrorKind::kInvalid, "a tablet needs a name of plain text", {}, "name the tablet");
  return {};
}

// One record to the end of a stream; head moves on.
Result<void> append_one(Connection& connection, Projector& projector, Record& record, Head& head) {
  const auto body = record_body(record);
  if (!body) return std::unexpected(body.error());
  if (body->size() > kLongestBody)
    return fail(ErrorKind::kInvalid, "the record is longer than 1 MiB", {}, "shorten its texts");
  head = {record.seq, chained(head.digest, *body)};
  const Envelope envelope{record.stream, record.seq, record.id, record.kind, record.format};
  const std::int64_t row = insert_record(connection, envelope, *body, head.digest);
  projector.project(row, record);
  return {};
}

// Whether a draft stands in its stream as it is, and where: a sync that failed may have left it
// there although it was told as not kept, and it is tried again under its own id.
bool stands_already(Connection& connection, Record& draft) {
  Query held(connection, "SELECT seq, body FROM record WHERE id=? AND stream=?");
  held.bind(1, draft.id.uuid).bind(2, draft.stream.uuid);
  if (!held.step()) return false;
  const std::int64_t next = std::exchange(draft.seq, held.integer(0));
  const auto body = record_body(draft);
  if (body && *body == held.text(1)) return true;
  draft.seq = next;
  return false;
}

Result<void> check_draft(Connection& connection, const Record& draft) {
  if (draft.kind == kind::kStream)
    return fail(ErrorKind::kInvalid, "a stream is begun by start_stream() only");
  if (auto sound = check_sense(draft); !sound) return sound;
  if (draft.kind == kind::kPlan) {
    const auto plan = parse_plan_text(draft.details);
    if (!plan) return std::unexpected(plan.error());
    const Enrolment enrolment{draft.at.local_date, draft.reason == kSownWithTheOthers};
    if (const auto fits = plan_fits(connection, *plan, enrolment); !fits)
      return std::unexpected(fits.error());
  }
  Query held(connection, "SELECT 1 FROM record WHERE id=?");
  held.bind(1, draft.id.uuid);
  if (held.step())
    return fail(ErrorKind::kConflict, "a record with the id " + draft.id.text() + " is held", {},
                "an id is used once");
  return {};
}

}  // namespace

Ledger::Ledger(std::unique_ptr<Database> database) : database_(std::move(database)) {}
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;
Ledger::~Ledger() = default;

Result<Ledger> Ledger::create(const std::string& path) {
  const std::string unfinished = std::string(path).append(kUnfinished);
  if (auto free = check_nothing_at(path); !free) return std::unexpected(free.error());
  remove_database(unfinished);  // left by a start that was cut off
  auto built = build_empty(unfinished);
  if (built) built = move_into_place(unfinished, path);
  if (!built) {
    remove_database(unfinished);
    return std::unexpected(built.error());
  }
  remove_database(unfinished);  // what SQLite could not remove beside it
  return open(path);
}

Result<Ledger> Ledger::in_memory() {
  auto database = std::make_unique<Database>(std::string(kInMemory), Access::kReadWrite);
  if (auto made = database->make_in_memory(); !made) return std::unexpected(made.error());
  return Ledger(std::move(database));
}

Result<Ledger> Ledger::open(const std::string& path, Access access) {
  auto database = std::make_unique<Database>(path, access);
  if (auto connected = database->connect(); !connected) return std::unexpected(connected.error());
  return Ledger(std::move(database));
}

const std::string& Ledger::path() const {
  return database_->path();
}

std::optional<StreamInfo> Ledger::my_stream() const {
  return database_->mine();
}

Result<StreamInfo> Ledger::start_stream(const StreamStart& start) {
  if (auto sound = check_start(start); !sound) return std::unexpected(sound.error());
  auto started = database_->write([&](Connection& connection) -> Result<StreamInfo> {
    if (auto known = database_->load_own_stream(connection); !known)
      return std::unexpected(known.error());
    if (database_->mine() && !start.instead)
      return fail(ErrorKind::kConflict, "the ledger writes a stream already", path());
    if (stream_info(connection, start.id))
      return fail(ErrorKind::kConflict, "the stream " + start.id.text() + " is held", path());
    const auto identity = identity_of(path());
    if (!identity) return std::unexpected(identity.error());
    // What continues a demonstration is one: its plans and values lie in the same file.
    const auto continues = database_->wrote_before();
    const auto before = continues ? stream_info(connection, *continues) : std::nullopt;
    StreamInfo info{
        start.id, start.device, start.public_key, continues, start.demo || (before && before->demo),
        true};
    insert_stream(connection, info);
    StreamStart marked = start;
    marked.demo = info.demo;
    Record record = stream_record(marked, info.continues);
    Projector projector(connection, "main");
    Head head;
    if (auto kept = append_one(connection, projector, record, head); !kept)
      return std::unexpected(kept.error());
    insert_span_start(connection, start.id, 1, Digest{});
    Query query(connection, "UPDATE this_file SET stream=?, inode=?, born=?, copied=0");
    query.bind(1, start.id.uuid).bind(2, identity->inode).bind(3, identity->born);
    query.run();
    note_disk(connection, path());
    return info;
  });
  if (!started) return started;
  auto loaded = database_->read(
      [&](Connection& connection) { return database_->load_own_stream(connection); });
  if (!loaded) return std::unexpected(loaded.error());
  note_high_water(path(), start.id, 1);
  return started;
}

Result<std::vector<Record>> Ledger::append(std::vector<Record> drafts) {
  if (drafts.empty()) return drafts;
  bool stood = false;
  auto kept = database_->write([&](Connection& connection) -> Result<void> {
    const std::optional<StreamInfo>& mine = database_->mine();
    if (!mine)
      return fail(ErrorKind::kNotFound, "the ledger has no stream of its own yet", path(),
                  "start one first");
    Head head = head_of(connection, mine->id);
    Projector projector(connection, "main");
    for (Record& draft : drafts) {
      draft.stream = mine->id;
      draft.seq = head.seq + 1;
      if (stands_already(connection, draft)) {
        stood = true;
        continue;
      }
      if (auto sound = check_draft(connection, draft); !sound) return sound;
      if (auto added = append_one(connection, projector, draft, head); !added) return added;
    }
    const Shifts shifts = shifts_in(connection);
    for (Record& draft : drafts) shifts.put_right(draft);
    return {};
  });
  const auto written_anew = [&] {
    return database_->read(
        [&](Connection& connection) { return fold_log(connection, path(), Fold::kWrittenAnew); });
  };
  // What stood there already may not be on the disk.
  if (kept && stood) kept = written_anew();
  if (kept) {
    note_high_water(path(), drafts.back().stream, drafts.back().seq);
    return drafts;
  }
  // A sync that failed may have left the records in the log file all the same. Then they are there
  // for every later reader, and saying otherwise would be wrong: fold them into the file, which
  // writes them anew, and believe that.
  if (kept.error().kind == ErrorKind::kIo) {
    const auto found = find(drafts.back().id);
    if (found && *found == drafts.back() && written_anew()) {
      note_high_water(path(), drafts.back().stream, drafts.back().seq);
      return drafts;
    }
  }
  return std::unexpected(kept.error());
}

}  // namespace ligule::ledger
