#include <algorithm>

#include "storage/ledger/arriving.h"
#include "storage/ledger/database.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"
#include "storage/ledger/projections.h"

namespace ligule::ledger {
namespace {

std::unexpected<Error> bad_record(const StreamInfo& stream, std::int64_t seq, std::string what) {
  return fail(ErrorKind::kInvalid, std::move(what),
              name_of_stream(stream) + ", record " + std::to_string(seq),
              "ask for the season file again");
}

}  // namespace

std::string name_of_stream(const StreamInfo& stream) {
  return "stream " + stream.id.text() + " of " + stream.device;
}

std::unexpected<Error> forked(const StreamInfo& stream, std::int64_t seq, Parted parted) {
  return fail(ErrorKind::kConflict,
              name_of_stream(stream) + " forks at record " + std::to_string(seq) +
                  (parted == Parted::kThere ? ": another record is held in that place"
                                            : " or before: other records are held there"),
              {},
              "one ledger was copied and both went on; begin a new ledger, gather the branch to be "
              "kept with --branch, then the rest");
}

std::unexpected<Error> described_otherwise(const StreamInfo& stream) {
  return fail(ErrorKind::kConflict,
              name_of_stream(stream) + " is held with another device, key or origin", {},
              "the two can't be of one tablet; settle by hand which to keep");
}

std::unexpected<Error> id_taken(const StreamInfo& stream, std::int64_t seq) {
  return fail(ErrorKind::kConflict,
              "the id of record " + std::to_string(seq) + " is held by another record",
              name_of_stream(stream), "settle by hand which of the two to keep");
}

Result<void> is_one_run(const StreamInfo& stream, std::span<const Span> runs) {
  if (runs.size() == 1 && runs.front().first == 1) return {};
  std::int64_t held = 0;  // without a gap, from the first record on
  if (runs.front().first == 1) held = runs.front().last;
  const std::int64_t next = held == 0 ? runs.front().first : runs[1].first;
  return fail(ErrorKind::kConflict,
              name_of_stream(stream) + " forked, and without records " + std::to_string(held + 1) +
                  " to " + std::to_string(next - 1) + " nobody can tell of which branch these are",
              {},
              "gather the branch to be kept from its first record on, in a new ledger where "
              "this one holds others already");
}

namespace {

constexpr std::int64_t kMany = 1000;

// While many records come in at once, the trigger that keeps every program from replacing one is
// put aside: it looks for each of a record's keys before SQLite does so itself, and takes longer
// than all else of an insertion. Only our own INSERT runs meanwhile, which replaces nothing, and
// nobody sees the ledger without it: it is there again before the transaction ends, or that is
// rolled back.
class GuardPutAside {
 public:
  // records: that are not held yet, as far as the end of the stream tells.
  GuardPutAside(Connection& connection, std::int64_t records) : connection_(connection) {
    if (records < kMany) return;
    Query query(connection_,
                "SELECT sql FROM sqlite_schema WHERE type='trigger' AND name='record_no_replace'");
    if (query.step()) sql_ = query.text(0);
  }
  void put_aside() {
    if (!sql_.empty()) connection_.run("DROP TRIGGER record_no_replace");
  }
  void put_back() {
    if (!sql_.empty()) connection_.run(sql_);
  }

 private:
  Connection& connection_;
  std::string sql_;  // as it stands there: a schema is known by its letters; empty: it stays
};

// Holds the stream, or adds it; one that is held must be described the same way.
Result<void> know_stream(Connection& connection, const StreamInfo& stream) {
  const auto held = stream_info(connection, stream.id);
  StreamInfo foreign = stream;
  foreign.mine = held && held->mine;
  if (!held) {
    insert_stream(connection, foreign);
    return {};
  }
  if (*held == foreign) return {};
  return described_otherwise(stream);
}

}  // namespace

Result<Arrived> check_body(const StreamInfo& stream, std::int64_t seq, const std::string& body) {
  if (body.size() > kLongestBody) return bad_record(stream, seq, "the record is longer than 1 MiB");
  const auto cells = LineCells::of(body);
  const auto envelope = cells ? parse_envelope(*cells) : std::unexpected(cells.error());
  if (!envelope) return bad_record(stream, seq, envelope.error().what);
  if (envelope->stream != stream.id)
    return bad_record(stream, seq, "the record is of another stream");
  if (envelope->seq != seq)
    return bad_record(stream, seq, "the records are not numbered one after another");
  if ((envelope->kind == kind::kStream) != (seq == 1))
    return bad_record(stream, seq, "a stream begins with a record of kind stream, and once only");
  if (envelope->format > kRecordFormat) return Arrived{*envelope, std::nullopt};
  auto record = parse_record(*cells);
  if (!record) return bad_record(stream, seq, record.error().what);
  if (seq == 1) {
    auto said = read_stream_record(*record);
    if (said) said->mine = stream.mine;
    if (!said || *said != stream)
      return bad_record(stream, seq, "the stream's first record describes another stream");
  }
  return Arrived{*envelope, *std::move(record)};
}

namespace {

class Absorber {
 public:
  Absorber(Connection& connection, const StreamInfo& stream, std::int64_t first,
           const Digest& before, bool may_add)
      : connection_(connection),
        projector_(connection, "main"),
        stream_(stream),
        meets_(first == 1 || digest_of(connection, stream.id, first - 1) == before),
        may_add_(may_add),
        held_to_(head_of(connection, stream.id).seq) {}

  Result<void> add(std::int64_t seq, const Digest& digest, const std::string& body) {
    const auto arrived = check_body(stream_, seq, body);
    if (!arrived) return std::unexpected(arrived.error());
    const auto held = seq <= held_to_ ? digest_of(connection_, stream_.id, seq) : std::nullopt;
    if (held) {
      if (*held != digest)
        return forked(stream_, seq, meets_ ? Parted::kThere : Parted::kThereOrBefore);
      ++known_;
      meets_ = true;
      return {};
    }
    meets_ = false;
    if (!may_add_) {
      return fail(ErrorKind::kConflict,
                  name_of_stream(stream_) + " is written by this ledger, but record " +
                      std::to_string(seq) + " is not in it",
                  {}, "this file was put back from a copy; rebuild it from its season files");
    }
    if (id_is_held(arrived->envelope.id)) return id_taken(stream_, seq);
    const std::int64_t row = insert_record(connection_, arrived->envelope, body, digest);
    if (const auto& record = arrived->record) projector_.project(row, *record);
    ++added_;
    return {};
  }

  // After first..last were added: the digests must meet those of the runs on either side.
  Result<void> join(std::int64_t first, std::int64_t last, const Digest& before,
                    const Digest& head) {
    Query next(connection_, "SELECT digest_before FROM span_start WHERE stream=? AND first=?");
    next.bind(1, stream_.id.uuid).bind(2, last + 1);
    if (next.step() && next.digest(0) != head) return forked(stream_, last);
    Query drop(connection_, "DELETE FROM span_start WHERE stream=? AND first>? AND first<=?");
    drop.bind(1, stream_.id.uuid).bind(2, first).bind(3, last + 1);
    drop.run();
    const auto held_before = digest_of(connection_, stream_.id, first - 1);
    if (!held_before) {
      Query own(connection_, "SELECT digest_before FROM span_start WHERE stream=? AND first=?");
      own.bind(1, stream_.id.uuid).bind(2, first);
      if (own.step() && own.digest(0) != before) return forked(stream_, first - 1);
      insert_span_start(connection_, stream_.id, first, before);
      return {};
    }
    if (*held_before != before) return forked(stream_, first - 1);
    Query joined(connection_, "DELETE FROM span_start WHERE stream=? AND first=?");
    joined.bind(1, stream_.id.uuid).bind(2, first);
    joined.run();
    return {};
  }

  // What is taken in now is of the branch to be kept.
  void choose() {
    Query query(connection_, "INSERT OR IGNORE INTO branch(stream) VALUES(?)");
    query.bind(1, stream_.id.uuid);
    query.run();
  }

  Result<void> is_one_branch() {
    Query chosen(connection_, "SELECT 1 FROM branch WHERE stream=?");
    chosen.bind(1, stream_.id.uuid);
    if (!chosen.step()) return {};
    return is_one_run(stream_, spans_of(connection_, stream_.id));
  }

  [[nodiscard]] Absorbed done() const {
    return {added_, known_, spans_of(connection_, stream_.id)};
  }

 private:
  bool id_is_held(RecordId id) {
    Query query(connection_, "SELECT 1 FROM record WHERE id=?");
    query.bind(1, id.uuid);
    return query.step();
  }

  Connection& connection_;
  Projector projector_;
  const StreamInfo& stream_;
  bool meets_;  // the record before is held and the same
  bool may_add_;
  std::int64_t held_to_;  // newest record of the stream that was held before; 0: none
  std::int64_t added_ = 0;
  std::int64_t known_ = 0;
};

}  // namespace

Result<Absorbed> Ledger::absorb(const StreamInfo& stream, std::int64_t first, const Digest& before,
                                std::span<const std::string> bodies, Branch branch) {
  if (bodies.empty() || first < 1)
    return fail(ErrorKind::kInvalid, "there are no records to take in", name_of_stream(stream));
  if (first == 1 && before != Digest{})
    return fail(ErrorKind::kInvalid, "a stream's first record stands on 32 zero bytes",
                name_of_stream(stream), "ask for the season file again");
  auto absorbed = database_->write([&](Connection& connection) -> Result<Absorbed> {
    if (auto known = know_stream(connection, stream); !known) return std::unexpected(known.error());
    const bool own = database_->mine() && database_->mine()->id == stream.id;
    const auto all = static_cast<std::int64_t>(bodies.size());
    const std::int64_t news = first + all - 1 - head_of(connection, stream.id).seq;
    GuardPutAside guard(connection, std::min(all, news));
    guard.put_aside();
    Absorber absorber(connection, stream, first, before, !own);
    Digest digest = before;
    std::int64_t seq = first;
    for (const std::string& body : bodies) {
      digest = chained(digest, body);
      if (auto added = absorber.add(seq, digest, body); !added)
        return std::unexpected(added.error());
      ++seq;
    }
    guard.put_back();
    if (auto joined = absorber.join(first, seq - 1, before, digest); !joined)
      return std::unexpected(joined.error());
    if (branch == Branch::kChosen) absorber.choose();
    if (auto one = absorber.is_one_branch(); !one) return std::unexpected(one.error());
    return absorber.done();
  });
  if (absorbed) note_high_water(path(), stream.id, absorbed->spans.back().last);
  return absorbed;
}

}  // namespace ligule::ledger
