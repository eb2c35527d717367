#include "storage/ledger/schema.h"

#include <sqlite3.h>

#include <algorithm>
#include <array>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "storage/trial/number.h"

namespace ligule::ledger {
namespace {

// Ids are 16 bytes, digests and keys 32. body is the exact line that is hashed and exported.
constexpr const char* kLog = R"sql(
CREATE TABLE stream(
  id BLOB PRIMARY KEY CHECK(length(id)=16),
  device TEXT NOT NULL,
  public_key BLOB NOT NULL CHECK(length(public_key)=32),
  continues BLOB CHECK(length(continues)=16),
  demo INTEGER NOT NULL CHECK(demo IN(0,1)),
  mine INTEGER NOT NULL CHECK(mine IN(0,1))
) STRICT, WITHOUT ROWID;
CREATE TABLE record(
  row INTEGER PRIMARY KEY,
  stream BLOB NOT NULL REFERENCES stream,
  seq INTEGER NOT NULL CHECK(seq>0),
  id BLOB NOT NULL UNIQUE CHECK(length(id)=16),
  kind TEXT NOT NULL,
  format INTEGER NOT NULL,
  body TEXT NOT NULL,
  digest BLOB NOT NULL CHECK(length(digest)=32),
  UNIQUE(stream,seq)
) STRICT;
CREATE TRIGGER record_no_update BEFORE UPDATE ON record
BEGIN SELECT RAISE(ABORT,'records are never changed'); END;
CREATE TRIGGER record_no_delete BEFORE DELETE ON record
BEGIN SELECT RAISE(ABORT,'records are never deleted'); END;
CREATE TRIGGER record_no_replace BEFORE INSERT ON record
WHEN EXISTS(SELECT 1 FROM record r WHERE r.row=new.row)
  OR EXISTS(SELECT 1 FROM record r WHERE r.id=new.id)
  OR EXISTS(SELECT 1 FROM record r WHERE r.stream=new.stream AND r.seq=new.seq)
BEGIN SELECT RAISE(ABORT,'a record is never replaced'); END;
CREATE TRIGGER stream_no_update BEFORE UPDATE ON stream
BEGIN SELECT RAISE(ABORT,'streams are never changed'); END;
CREATE TRIGGER stream_no_delete BEFORE DELETE ON stream
BEGIN SELECT RAISE(ABORT,'streams are never deleted'); END;
CREATE TRIGGER stream_no_replace BEFORE INSERT ON stream
WHEN EXISTS(SELECT 1 FROM stream s WHERE s.id=new.id)
BEGIN SELECT RAISE(ABORT,'a stream is never replaced'); END;
)sql";

// span_start: where each unbroken run of a stream's records begins, and the digest before it, which
// a run that begins in the middle needs. this_file has one row: the stream this file writes and how
// the file is told from a copy of it.
constexpr const char* kLocal = R"sql(
CREATE TABLE span_start(
  stream BLOB NOT NULL REFERENCES stream,
  first INTEGER NOT NULL CHECK(first>0),
  digest_before BLOB NOT NULL CHECK(length(digest_before)=32),
  PRIMARY KEY(stream,first)
) STRICT, WITHOUT ROWID;
CREATE TABLE this_file(
  one INTEGER PRIMARY KEY CHECK(one=1),
  stream BLOB REFERENCES stream,
  inode INTEGER NOT NULL,
  born INTEGER NOT NULL,
  copied INTEGER NOT NULL CHECK(copied IN(0,1)),
  projections INTEGER NOT NULL
) STRICT;
CREATE TABLE seal(
  stream BLOB NOT NULL REFERENCES stream,
  first INTEGER NOT NULL,
  last INTEGER NOT NULL CHECK(last>=first),
  sealed_ms INTEGER NOT NULL,
  file_name TEXT NOT NULL,
  file_sha256 BLOB NOT NULL CHECK(length(file_sha256)=32),
  PRIMARY KEY(stream,first,last,file_sha256)
) STRICT;
CREATE TABLE copy(
  file_name TEXT NOT NULL,
  place TEXT NOT NULL,
  at_ms INTEGER NOT NULL
) STRICT;
CREATE TABLE gathered(
  file_sha256 BLOB PRIMARY KEY CHECK(length(file_sha256)=32),
  file_name TEXT NOT NULL,
  stream BLOB NOT NULL REFERENCES stream,
  first INTEGER NOT NULL,
  last INTEGER NOT NULL,
  at_ms INTEGER NOT NULL
) STRICT;
)sql";

// Whom this file trusts, as of version 1.
constexpr const char* kTrust1 = R"sql(
CREATE TABLE trusted_key(
  public_key BLOB PRIMARY KEY CHECK(length(public_key)=32),
  label TEXT NOT NULL,
  status TEXT NOT NULL CHECK(status IN('trusted','revoked')),
  trusted_to_seq INTEGER
) STRICT;
)sql";
constexpr const char* kTrustedKey = R"sql(
CREATE TABLE trusted_key(
  public_key BLOB PRIMARY KEY CHECK(length(public_key)=32),
  label TEXT NOT NULL,
  status TEXT NOT NULL CHECK(status IN('trusted','revoked'))
) STRICT;
)sql";
// believed: of a revoked key, the records of a stream up to `last`, whose digest is `head`. branch:
// streams that forked and of which one branch is kept: all that is held is of it. disk: what the
// disk that the file was written on says of itself.
constexpr std::array<const char*, 3> kLocal2{
    R"(CREATE TABLE $.believed(
  public_key BLOB NOT NULL CHECK(length(public_key)=32),
  stream BLOB NOT NULL CHECK(length(stream)=16),
  last INTEGER NOT NULL CHECK(last>0),
  head BLOB NOT NULL CHECK(length(head)=32),
  PRIMARY KEY(public_key,stream)
) STRICT, WITHOUT ROWID)",
    R"(CREATE TABLE $.branch(
  stream BLOB PRIMARY KEY CHECK(length(stream)=16)
) STRICT, WITHOUT ROWID)",
    R"(CREATE TABLE $.disk(
  one INTEGER PRIMARY KEY CHECK(one=1),
  mark TEXT NOT NULL
) STRICT)"};

// item has a row for each record this program understands; standing is 1 or 0 for claims, NULL for
// everything else. Nothing here is UNIQUE beyond the record's row, and no target is a foreign key:
// two tablets may say the same thing, and a correction may arrive before what it corrects.
constexpr std::array<const char*, 12> kProjections{
    R"(CREATE TABLE $.item(
  row INTEGER PRIMARY KEY,
  kind TEXT NOT NULL,
  trial BLOB,
  subject BLOB,
  measure TEXT NOT NULL,
  occasion BLOB,
  part INTEGER NOT NULL,
  purpose TEXT,
  state TEXT,
  standing INTEGER
) STRICT)",
    "CREATE INDEX $.item_subject ON item(subject,measure) WHERE subject IS NOT NULL",
    "CREATE INDEX $.item_standing ON item(trial,occasion) WHERE standing=1",
    "CREATE INDEX $.item_kind ON item(kind,trial) WHERE standing IS NULL",
    "CREATE INDEX $.item_bag ON item(measure) WHERE standing=1 AND measure='bag_number'",
    "CREATE INDEX $.item_part_bag ON item(measure) WHERE standing=1 AND measure='part_bag'",
    R"(CREATE TABLE $.replaced(
  target BLOB NOT NULL,
  row INTEGER NOT NULL,
  PRIMARY KEY(target,row)
) STRICT, WITHOUT ROWID)",
    R"(CREATE TABLE $.plan(
  digest TEXT NOT NULL,
  row INTEGER NOT NULL,
  trial BLOB NOT NULL,
  parent TEXT NOT NULL,
  utc_ms INTEGER NOT NULL,
  PRIMARY KEY(digest,row)
) STRICT, WITHOUT ROWID)",
    "CREATE INDEX $.plan_trial ON plan(trial)",
    R"(CREATE TABLE $.definition(
  digest TEXT NOT NULL,
  row INTEGER NOT NULL,
  PRIMARY KEY(digest,row)
) STRICT, WITHOUT ROWID)",
    // Its stream need not be held; utc_ms and id are those of the record that says it.
    R"(CREATE TABLE $.shift(
  row INTEGER PRIMARY KEY,
  stream BLOB NOT NULL,
  first INTEGER NOT NULL,
  last INTEGER NOT NULL,
  shift_ms INTEGER NOT NULL,
  utc_ms INTEGER NOT NULL,
  id BLOB NOT NULL
) STRICT)",
    "CREATE INDEX $.shift_stream ON shift(stream)"};

constexpr std::array<const char*, 5> kProjectionTables{"item", "replaced", "plan", "definition",
                                                       "shift"};

struct Setting {
  const char* name;
  const char* value;
  const char* reads_back;
};
constexpr std::array<Setting, 6> kSettings{{{"synchronous", "FULL", "2"},
                                            {"foreign_keys", "ON", "1"},
                                            {"recursive_triggers", "ON", "1"},
                                            {"cache_size", "-65536", "-65536"},
                                            {"busy_timeout", "5000", "5000"},
                                            {"trusted_schema", "OFF", "0"}}};

std::string pragma(Connection& connection, const std::string& name) {
  return connection.database().execAndGet("PRAGMA " + name).getString();
}

using SchemaObject = std::tuple<std::string, std::string, std::string>;  // type, name, sql
std::set<SchemaObject> objects_of(Connection& connection) {
  std::set<SchemaObject> objects;
  Query query(connection,
              "SELECT type, name, coalesce(sql,'') FROM main.sqlite_schema"
              " WHERE name NOT LIKE 'sqlite\\_stat%' ESCAPE '\\'");
  while (query.step()) {
    objects.emplace(query.text(0), query.text(1), query.text(2));
  }
  return objects;
}

std::int64_t version_of(Connection& connection) {
  return connection.database().execAndGet("PRAGMA user_version").getInt64();
}

// Statements whose tables are named $.NAME, in a schema.
void run_in(Connection& connection, const std::string& schema,
            std::span<const char* const> statements) {
  for (const char* statement : statements) {
    std::string sql(statement);
    sql.replace(sql.find('$'), 1, schema);
    connection.run(sql);
  }
}

// Log and local tables as a version has them.
void make_lasting(Connection& connection, std::int64_t version) {
  connection.run(kLog);
  connection.run(kLocal);
  if (version < 2) return connection.run(kTrust1);
  connection.run(kTrustedKey);
  run_in(connection, "main", kLocal2);
}

// Tables that are neither of the log nor local.
std::vector<std::string> foreign_tables(Connection& connection) {
  Connection sample(":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
  make_lasting(sample, version_of(connection));
  const std::set<SchemaObject> lasting = objects_of(sample);
  std::vector<std::string> foreign;
  for (const SchemaObject& object : objects_of(connection))
    if (std::get<0>(object) == "table" && !lasting.contains(object) &&
        std::get<1>(object).find('"') == std::string::npos)
      foreign.push_back(std::get<1>(object));
  return foreign;
}

}  // namespace

void make_projections(Connection& connection, const std::string& schema) {
  run_in(connection, schema, kProjections);
}

void drop_projections(Connection& connection, const std::string& schema) {
  for (const char* table : kProjectionTables)
    connection.run("DROP TABLE IF EXISTS " + schema + "." + table);
  if (schema != "main") return;
  // Those of another version may have other names.
  for (const std::string& table : foreign_tables(connection))
    connection.run("DROP TABLE main.\"" + table + "\"");
}

std::int64_t projection_version(Connection& connection) {
  Query query(connection, "SELECT projections FROM this_file");
  return query.step() ? query.integer(0) : -1;
}

void make_schema(Connection& connection) {
  connection.run("PRAGMA application_id=" + std::to_string(kApplicationId));
  connection.run("PRAGMA user_version=" + std::to_string(kSchemaVersion));
  make_lasting(connection, kSchemaVersion);
  make_projections(connection, "main");
}

void migrate(Connection& connection, bool read_only) {
  const std::string schema = read_only ? "temp" : "main";
  if (version_of(connection) == kSchemaVersion) return;
  connection.run(read_only ? "BEGIN" : "BEGIN IMMEDIATE");
  if (version_of(connection) == kSchemaVersion) return connection.run("ROLLBACK");  // by another
  run_in(connection, schema, kLocal2);
  // The number that a revoked key was trusted to meant any of its streams; what is held of them is
  // believed as far as that.
  connection.run("INSERT INTO " + schema +
                 ".believed(public_key,stream,last,head)"
                 " SELECT k.public_key, s.id, r.seq, r.digest FROM trusted_key k"
                 " JOIN stream s ON s.public_key=k.public_key"
                 " JOIN record r ON r.stream=s.id AND r.seq=(SELECT max(e.seq) FROM record e"
                 "  WHERE e.stream=s.id AND e.seq<=k.trusted_to_seq)"
                 " WHERE k.status='revoked'");
  if (!read_only) {
    connection.run(
        "CREATE TEMP TABLE keys_before AS SELECT public_key, label, status FROM trusted_key");
    connection.run("DROP TABLE trusted_key");
    connection.run(kTrustedKey);
    connection.run("INSERT INTO trusted_key SELECT public_key, label, status FROM keys_before");
    connection.run("DROP TABLE temp.keys_before");
    connection.run("PRAGMA user_version=" + std::to_string(kSchemaVersion));
  }
  connection.run("COMMIT");
}

Result<void> check_marks(Connection& connection, const std::string& path) {
  if (pragma(connection, "application_id") != std::to_string(kApplicationId)) {
    return fail(ErrorKind::kInvalid, "this is no ledger", path, kNoLedger);
  }
  const std::int64_t version = version_of(connection);
  if (version > kSchemaVersion) {
    return fail(ErrorKind::kNewerVersion,
                "the ledger is of version " + std::to_string(version) + ", this program reads " +
                    std::to_string(kSchemaVersion),
                path, "open it with a newer version of the program");
  }
  Connection sample(":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
  make_lasting(sample, version);
  const std::set<SchemaObject> held = objects_of(connection);
  const std::set<SchemaObject> lasting = objects_of(sample);
  bool sound = version > 0 && std::ranges::includes(held, lasting);
  if (sound && projection_version(connection) == kProjectionVersion) {
    make_projections(sample, "main");
    sound = held == objects_of(sample);
  } else if (sound) {
    sound = std::ranges::all_of(held, [&](const SchemaObject& object) {
      const std::string& type = std::get<0>(object);
      return type == "table" || type == "index" || lasting.contains(object);
    });
  }
  if (!sound) {
    return fail(ErrorKind::kDamaged, "the ledger's tables are not those a ledger has", path,
                "leave it as it is; run ligule-desk ledger-check on it");
  }
  return {};
}

Result<void> check_pages(Connection& connection, const std::string& path, bool thorough) {
  const std::string answer = pragma(connection, thorough ? "integrity_check(1)" : "quick_check(1)");
  if (answer == "ok") return {};
  // A page that the disk did not give is no damage of the file.
  constexpr std::string_view kCode = "error code=";
  if (const std::size_t at = answer.find(kCode); at != std::string::npos) {
    const auto code = static_cast<int>(
        parse_integer(std::string_view(answer).substr(at + kCode.size())).value_or(0));
    if ((code & 0xff) == SQLITE_IOERR) throw SQLite::Exception(sqlite3_errstr(SQLITE_IOERR), code);
  }
  return fail(ErrorKind::kDamaged, "the ledger is damaged (" + answer + ")", path,
              "leave it as it is; run ligule-desk ledger-check on it");
}

Result<void> apply_settings(Connection& connection, const std::string& path, bool read_only) {
  const auto refuse = [&](const std::string& name, const std::string& answer) {
    return fail(ErrorKind::kIo, "the database does not take " + name + " (it says " + answer + ")",
                path, "keep the ledger on the machine's own disk");
  };
  // Schema and pages can't be written around, whatever SQL a strange file brings along.
  sqlite3_db_config(connection.database().getHandle(), SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  for (const Setting& setting : kSettings) {
    connection.run(std::string("PRAGMA ") + setting.name + "=" + setting.value);
    const std::string answer = pragma(connection, setting.name);
    if (answer != setting.reads_back) return refuse(setting.name, answer);
  }
  if (!read_only) {
    const std::string mode = pragma(connection, "journal_mode=WAL");
    if (mode != "wal") return refuse("a write-ahead log", mode);
  }
  return {};
}

}  // namespace ligule::ledger
