#include "sync/archive/schema.h"

#include <string>

namespace ligule::archive {
namespace {

// purpose: what the archive is for, fixed by its first stream; streams refer to it, so that records
// made for demonstration and real ones can't share an archive. record: body is the exact line that
// is hashed and exported; the chain's step to it is declared, so that no client can put in a record
// that does not follow from what it names as the one before. The columns behind digest are read
// from the body and never the other way; counts says whether anything is concluded from them.
// branch: streams that forked and of which one branch is kept: all that is held is of it.
// continues and target may name what is not held yet: the order of arrival never matters.
constexpr const char* kTables = R"sql(
CREATE SCHEMA ligule;
CREATE TABLE ligule.meta(
  one smallint PRIMARY KEY DEFAULT 1 CHECK(one=1),
  version integer NOT NULL CHECK(version>0)
);
CREATE TABLE ligule.purpose(
  one smallint PRIMARY KEY DEFAULT 1 CHECK(one=1),
  demo boolean NOT NULL UNIQUE
);
CREATE TABLE ligule.stream(
  id uuid PRIMARY KEY,
  device text NOT NULL,
  public_key bytea NOT NULL CHECK(length(public_key)=32),
  continues uuid,
  demo boolean NOT NULL REFERENCES ligule.purpose(demo)
);
CREATE TABLE ligule.record(
  stream uuid NOT NULL REFERENCES ligule.stream,
  seq bigint NOT NULL CHECK(seq>0),
  id uuid NOT NULL UNIQUE,
  kind text NOT NULL,
  format integer NOT NULL CHECK(format>0),
  body text NOT NULL CHECK(octet_length(body)<=1048576),
  digest_before bytea NOT NULL CHECK(length(digest_before)=32),
  digest bytea NOT NULL CHECK(length(digest)=32),
  counts boolean NOT NULL,
  utc_ms bigint,
  offset_min integer,
  local_date date,
  person uuid,
  trial uuid,
  plan text,
  subject uuid,
  measure text,
  occasion uuid,
  part integer CHECK(part>0),
  run uuid,
  purpose text CHECK(purpose IN('survey','repeat','second','practice')),
  state text CHECK(state IN('value','zero','missing','on hold','later')),
  entered text,
  unit text,
  value double precision,
  definition text,
  reason text,
  blind boolean,
  source text CHECK(source IN('tapped','typed','scale','imported','paper')),
  PRIMARY KEY(stream,seq),
  CONSTRAINT stream_begins CHECK((kind='stream')=(seq=1)),
  CONSTRAINT chain_begins CHECK(seq>1 OR digest_before=decode(repeat('00',32),'hex')),
  CONSTRAINT chain_leads CHECK(digest=sha256(digest_before||convert_to(body,'UTF8')))
);
CREATE INDEX record_subject ON ligule.record(subject) WHERE subject IS NOT NULL;
CREATE INDEX record_trial ON ligule.record(trial,occasion) WHERE trial IS NOT NULL;
CREATE TABLE ligule.target(
  record uuid NOT NULL REFERENCES ligule.record(id),
  target uuid NOT NULL,
  PRIMARY KEY(record,target)
);
CREATE INDEX target_target ON ligule.target(target);
CREATE TABLE ligule.branch(
  stream uuid PRIMARY KEY REFERENCES ligule.stream
);
CREATE TABLE ligule.season_file(
  sha256 bytea PRIMARY KEY CHECK(length(sha256)=32),
  name text NOT NULL,
  stream uuid NOT NULL REFERENCES ligule.stream,
  first bigint NOT NULL CHECK(first>0),
  last bigint NOT NULL CHECK(last>=first),
  taken_at timestamptz NOT NULL DEFAULT now(),
  taken_by text NOT NULL DEFAULT current_user
);

CREATE FUNCTION ligule.never_changed() RETURNS trigger LANGUAGE plpgsql AS
$$BEGIN RAISE EXCEPTION 'what an archive holds is never changed or deleted'; END$$;
CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE OR TRUNCATE ON ligule.purpose
FOR EACH STATEMENT EXECUTE FUNCTION ligule.never_changed();
CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE OR TRUNCATE ON ligule.stream
FOR EACH STATEMENT EXECUTE FUNCTION ligule.never_changed();
CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE OR TRUNCATE ON ligule.record
FOR EACH STATEMENT EXECUTE FUNCTION ligule.never_changed();
CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE OR TRUNCATE ON ligule.target
FOR EACH STATEMENT EXECUTE FUNCTION ligule.never_changed();

CREATE VIEW ligule.span AS
SELECT run.stream, run.first, run.last, a.digest_before, b.digest AS head
FROM (SELECT stream, min(seq) AS first, max(seq) AS last
      FROM (SELECT stream, seq, seq-row_number() OVER (PARTITION BY stream ORDER BY seq) AS island
            FROM ligule.record) AS numbered
      GROUP BY stream, island) AS run
JOIN ligule.record a ON a.stream=run.stream AND a.seq=run.first
JOIN ligule.record b ON b.stream=run.stream AND b.seq=run.last;
COMMENT ON VIEW ligule.span IS 'Runs of records without a gap, with the digests at their ends';

CREATE VIEW ligule.standing_claim AS
SELECT r.* FROM ligule.record r
WHERE r.counts AND r.kind IN('reading','correction','settlement')
  AND NOT EXISTS(SELECT 1 FROM ligule.target t WHERE t.target=r.id);
COMMENT ON VIEW ligule.standing_claim IS
'Values that nothing replaced; several of one subject, measure, occasion, part and purpose agree or contradict each other';

INSERT INTO ligule.meta(version) VALUES(1);
)sql";
static_assert(kSchemaVersion == 1, "the version stands in kTables too");

constexpr const char* kWhatIsThere =
    "SELECT EXISTS(SELECT 1 FROM pg_catalog.pg_namespace WHERE nspname='ligule'),"
    " to_regclass('ligule.meta') IS NOT NULL";

Result<void> check_archive_version(Connection& connection) {
  const auto rows = connection.run("SELECT version FROM ligule.meta");
  if (!rows) return std::unexpected(rows.error());
  const std::int64_t version = rows->count() == 1 ? rows->integer(0, 0) : 0;
  if (version == kSchemaVersion) return {};
  if (version > kSchemaVersion)
    return fail(ErrorKind::kNewerVersion,
                "the archive is of version " + std::to_string(version) + ", this program reads " +
                    std::to_string(kSchemaVersion),
                connection.name(), "use a newer version of the program");
  return fail(ErrorKind::kDamaged, "the archive does not say which version it is of",
              connection.name(), "ask whoever keeps the archive");
}

}  // namespace

Result<void> ensure_schema(Connection& connection, ledger::Access access) {
  const bool may_make = access == ledger::Access::kReadWrite;
  return connection.transaction("BEGIN", [&]() -> Result<void> {
    // Two desks that begin one archive at once wait for each other here.
    if (may_make) {
      const auto locked =
          connection.run("SELECT pg_advisory_xact_lock(hashtextextended('ligule schema',0))");
      if (!locked) return std::unexpected(locked.error());
    }
    const auto there = connection.run(kWhatIsThere);
    if (!there) return std::unexpected(there.error());
    if (there->truth(0, 1)) return check_archive_version(connection);
    if (there->truth(0, 0))
      return fail(ErrorKind::kInvalid, "its schema ligule is no archive of this program",
                  connection.name(), "name another database");
    if (!may_make)
      return fail(ErrorKind::kNotFound, "there is no archive in that database", connection.name(),
                  "look at the address; ligule-desk gather --archive begins one");
    return connection.run_all(kTables);
  });
}

}  // namespace ligule::archive
