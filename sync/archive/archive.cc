#include "sync/archive/archive.h"

#include <algorithm>

#include "storage/ledger/arriving.h"
#include "sync/archive/row.h"
#include "sync/archive/schema.h"

namespace ligule::archive {
namespace {

using ledger::Absorbed;
using ledger::Span;
using ledger::StreamInfo;

// A run of records is poured in pieces, so that a long season does not stand in memory whole.
constexpr std::int64_t kPoured = 2000;

std::unexpected<Error> not_read(const std::string& name) {
  return fail(ErrorKind::kDamaged, "what the archive holds can't be read", name,
              "ask whoever keeps the archive");
}

// "\x" and 64 hex digits.
Digest digest_in(std::string_view cell) {
  return parse_digest(cell.substr(std::min<std::size_t>(2, cell.size()))).value_or(Digest{});
}

Uuid uuid_in(std::string_view cell) {
  return parse_uuid(cell).value_or(Uuid{});
}

StreamInfo stream_in(const Rows& rows, int row) {
  StreamInfo stream;
  stream.id = {uuid_in(rows.text(row, 0))};
  stream.device = rows.text(row, 1);
  stream.public_key = digest_in(rows.text(row, 2)).bytes;
  if (!rows.is_null(row, 3)) stream.continues = StreamId{uuid_in(rows.text(row, 3))};
  stream.demo = rows.truth(row, 4);
  return stream;
}

std::vector<Span> spans_in(const Rows& rows) {
  std::vector<Span> spans;
  spans.reserve(static_cast<std::size_t>(rows.count()));
  for (int row = 0; row < rows.count(); ++row) {
    spans.push_back({{uuid_in(rows.text(row, 0))},
                     rows.integer(row, 1),
                     rows.integer(row, 2),
                     digest_in(rows.text(row, 3)),
                     digest_in(rows.text(row, 4))});
  }
  return spans;
}

// What a season file brings, ready to be sent.
struct Load {
  CopyText rows;
  CopyText targets;
  Digest head;
};

Result<Load> load_of(const seal::SeasonFile& season) {
  Load load;
  load.head = season.span.before;
  std::int64_t seq = season.span.first;
  for (const std::string& body : season.bodies) {
    const auto arrived = ledger::check_body(season.stream, seq, body);
    if (!arrived) return std::unexpected(arrived.error());
    const Digest before = load.head;
    load.head = chained(before, body);
    add_row(load.rows, load.targets, *arrived, body, before, load.head);
    ++seq;
  }
  return load;
}

// One season file on its way into the archive, within a transaction.
class Taking {
 public:
  Taking(Connection& connection, const seal::SeasonFile& season, const Load& load,
         ledger::Branch branch)
      : connection_(connection),
        season_(season),
        load_(load),
        branch_(branch),
        stream_(season.stream.id.text()),
        last_(season.span.first + static_cast<std::int64_t>(season.bodies.size()) - 1) {}

  Result<Absorbed> run() {
    using Step = Result<void> (Taking::*)();
    for (const Step step : {&Taking::take_turns, &Taking::same_purpose, &Taking::know_stream,
                            &Taking::send, &Taking::find_forks, &Taking::find_other_ids,
                            &Taking::keep, &Taking::join, &Taking::note_file}) {
      if (auto done = (this->*step)(); !done) return std::unexpected(done.error());
    }
    auto spans = runs();
    if (!spans) return std::unexpected(spans.error());
    if (auto one = is_one_branch(*spans); !one) return std::unexpected(one.error());
    const auto brought = static_cast<std::int64_t>(season_.bodies.size());
    return Absorbed{added_, brought - added_, *std::move(spans)};
  }

 private:
  Result<void> done(const Result<Rows>& rows) {
    if (!rows) return std::unexpected(rows.error());
    return {};
  }

  // Until this transaction ends nobody else adds to the stream.
  Result<void> take_turns() {
    return done(connection_.run("SELECT pg_advisory_xact_lock(hashtextextended($1,0))", {stream_}));
  }

  // The first stream fixes what the archive is for; the tables hold others to it too.
  Result<void> same_purpose() {
    const auto fixed = connection_.run(
        "INSERT INTO ligule.purpose(demo) VALUES($1) ON CONFLICT DO NOTHING", {demo()});
    if (!fixed) return std::unexpected(fixed.error());
    const auto rows = connection_.run("SELECT demo FROM ligule.purpose");
    if (!rows) return std::unexpected(rows.error());
    if (rows->count() != 1) return not_read(connection_.name());
    if (rows->truth(0, 0) == season_.stream.demo) return {};
    return fail(ErrorKind::kRefused,
                season_.stream.demo
                    ? "these records were made for demonstration, the archive is real"
                    : "these records are real, the archive is for demonstration",
                {}, "gather into another archive");
  }

  Result<void> know_stream() {
    const auto rows = connection_.run(
        "SELECT id,device,public_key,continues,demo FROM ligule.stream WHERE id=$1", {stream_});
    if (!rows) return std::unexpected(rows.error());
    StreamInfo stream = season_.stream;
    stream.mine = false;
    if (rows->count() == 1)
      return stream_in(*rows, 0) == stream ? Result<void>{} : ledger::described_otherwise(stream);
    return done(
        connection_.run("INSERT INTO ligule.stream(id,device,public_key,continues,demo)"
                        " VALUES($1,$2,$3,nullif($4,'')::uuid,$5)",
                        {stream_, stream.device, bytea(Digest{stream.public_key}.hex()),
                         stream.continues ? stream.continues->text() : "", demo()}));
  }

  Result<void> send() {
    const auto made = connection_.run_all(
        "CREATE TEMP TABLE incoming(LIKE ligule.record) ON COMMIT DROP;"
        "CREATE TEMP TABLE incoming_target(LIKE ligule.target) ON COMMIT DROP");
    if (!made) return made;
    const std::string into = "COPY pg_temp.incoming(" + std::string(kRowColumns) + ") FROM STDIN";
    if (auto sent = connection_.copy(into.c_str(), load_.rows.text()); !sent) return sent;
    if (auto sent = connection_.copy("COPY pg_temp.incoming_target(record,target) FROM STDIN",
                                     load_.targets.text());
        !sent)
      return sent;
    return connection_.run_all("ANALYZE pg_temp.incoming");
  }

  Result<void> find_forks() {
    const auto rows = connection_.run(
        "SELECT min(i.seq) FROM pg_temp.incoming i JOIN ligule.record r USING(stream,seq)"
        " WHERE r.digest<>i.digest");
    if (!rows) return std::unexpected(rows.error());
    if (rows->is_null(0, 0)) return {};
    const std::int64_t seq = rows->integer(0, 0);
    const auto before = held(seq - 1);
    if (!before) return std::unexpected(before.error());
    // Records of the file before the first that differs are held and the same.
    const bool meets = seq == 1 || (seq > season_.span.first ? before->has_value()
                                                             : *before == season_.span.before);
    return ledger::forked(season_.stream, seq,
                          meets ? ledger::Parted::kThere : ledger::Parted::kThereOrBefore);
  }

  Result<void> find_other_ids() {
    const auto rows = connection_.run(
        "SELECT min(i.seq) FROM pg_temp.incoming i JOIN ligule.record r USING(id)"
        " WHERE r.stream<>i.stream OR r.seq<>i.seq");
    if (!rows) return std::unexpected(rows.error());
    if (rows->is_null(0, 0)) return {};
    return ledger::id_taken(season_.stream, rows->integer(0, 0));
  }

  Result<void> keep() {
    const auto kept = connection_.run(
        "INSERT INTO ligule.record SELECT * FROM pg_temp.incoming ORDER BY seq"
        " ON CONFLICT(stream,seq) DO NOTHING");
    if (!kept) return std::unexpected(kept.error());
    added_ = kept->affected();
    return done(connection_.run(
        "INSERT INTO ligule.target SELECT * FROM pg_temp.incoming_target ON CONFLICT DO NOTHING"));
  }

  // The digests must meet those of the runs on either side.
  Result<void> join() {
    const auto next =
        connection_.run("SELECT digest_before FROM ligule.record WHERE stream=$1 AND seq=$2",
                        {stream_, std::to_string(last_ + 1)});
    if (!next) return std::unexpected(next.error());
    if (next->count() == 1 && digest_in(next->text(0, 0)) != load_.head)
      return ledger::forked(season_.stream, last_);
    const std::int64_t first = season_.span.first;
    const auto before = held(first - 1);
    if (!before) return std::unexpected(before.error());
    if (before->has_value() && *before != season_.span.before)
      return ledger::forked(season_.stream, first - 1);
    return {};
  }

  Result<void> note_file() {
    return done(connection_.run(
        "INSERT INTO ligule.season_file(sha256,name,stream,first,last) VALUES($1,$2,$3,$4,$5)"
        " ON CONFLICT DO NOTHING",
        {bytea(season_.sha256.hex()), season_.name, stream_, std::to_string(season_.span.first),
         std::to_string(last_)}));
  }

  // What is taken in now is of the branch to be kept, or meets the one that was chosen before.
  Result<void> is_one_branch(const std::vector<Span>& spans) {
    if (branch_ == ledger::Branch::kChosen) {
      const auto chosen = connection_.run(
          "INSERT INTO ligule.branch(stream) VALUES($1) ON CONFLICT DO NOTHING", {stream_});
      if (!chosen) return std::unexpected(chosen.error());
    }
    const auto rows = connection_.run("SELECT 1 FROM ligule.branch WHERE stream=$1", {stream_});
    if (!rows) return std::unexpected(rows.error());
    return rows->count() == 0 ? Result<void>{} : ledger::is_one_run(season_.stream, spans);
  }

  Result<std::vector<Span>> runs() {
    const auto rows = connection_.run(
        "SELECT stream,first,last,digest_before,head FROM ligule.span WHERE stream=$1"
        " ORDER BY first",
        {stream_});
    if (!rows) return std::unexpected(rows.error());
    return spans_in(*rows);
  }

  Result<std::optional<Digest>> held(std::int64_t seq) {
    const auto rows = connection_.run("SELECT digest FROM ligule.record WHERE stream=$1 AND seq=$2",
                                      {stream_, std::to_string(seq)});
    if (!rows) return std::unexpected(rows.error());
    if (rows->count() == 0) return std::nullopt;
    return digest_in(rows->text(0, 0));
  }

  [[nodiscard]] std::string demo() const { return season_.stream.demo ? "t" : "f"; }

  Connection& connection_;
  const seal::SeasonFile& season_;
  const Load& load_;
  ledger::Branch branch_;
  std::string stream_;
  std::int64_t last_;
  std::int64_t added_ = 0;
};

// What a ledger can't take of an archive was not so when it was put in.
Error as_damage(Error error, const std::string& name) {
  if (error.kind != ErrorKind::kIo) error.kind = ErrorKind::kDamaged;
  error.where = error.where.empty() ? name : name + ", " + error.where;
  return error;
}

}  // namespace

Result<Archive> Archive::open(const std::string& url, ledger::Access access) {
  const auto address = parse_address(url);
  if (!address) return std::unexpected(address.error());
  auto connection = Connection::open(*address);
  if (!connection) return std::unexpected(connection.error());
  if (auto there = ensure_schema(*connection, access); !there)
    return std::unexpected(there.error());
  return Archive(*std::move(connection));
}

Result<Absorbed> Archive::take(const seal::SeasonFile& season, ledger::Branch branch) {
  if (season.bodies.empty())
    return fail(ErrorKind::kInvalid, "there are no records to take in",
                ledger::name_of_stream(season.stream));
  const auto load = load_of(season);
  if (!load) return std::unexpected(load.error());
  return connection_.transaction("BEGIN ISOLATION LEVEL READ COMMITTED",
                                 [&] { return Taking(connection_, season, *load, branch).run(); });
}

Result<std::vector<StreamInfo>> Archive::streams() {
  const auto rows =
      connection_.run("SELECT id,device,public_key,continues,demo FROM ligule.stream ORDER BY id");
  if (!rows) return std::unexpected(rows.error());
  std::vector<StreamInfo> streams;
  streams.reserve(static_cast<std::size_t>(rows->count()));
  for (int row = 0; row < rows->count(); ++row) streams.push_back(stream_in(*rows, row));
  return streams;
}

Result<std::vector<Span>> Archive::spans() {
  const auto rows = connection_.run(
      "SELECT stream,first,last,digest_before,head FROM ligule.span ORDER BY stream,first");
  if (!rows) return std::unexpected(rows.error());
  return spans_in(*rows);
}

Result<Digest> Archive::digest() {
  const auto all = spans();
  if (!all) return std::unexpected(all.error());
  return ledger::digest_of_spans(*all);
}

Result<void> Archive::pour_into(ledger::Ledger& ledger) {
  const auto begun_with = ledger.spans();
  if (!begun_with) return std::unexpected(begun_with.error());
  return connection_.transaction(
      "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY", [&]() -> Result<void> {
        const auto held = streams();
        if (!held) return std::unexpected(held.error());
        const auto runs = spans();
        if (!runs) return std::unexpected(runs.error());
        for (const Span& run : *runs) {
          const auto stream = std::ranges::find(*held, run.stream, &StreamInfo::id);
          if (stream == held->end()) return not_read(name());
          if (auto poured = pour_span(ledger, *stream, run); !poured) return poured;
        }
        if (!begun_with->empty()) return {};
        const auto came = ledger.digest();
        if (!came) return std::unexpected(came.error());
        return *came == ledger::digest_of_spans(*runs) ? Result<void>{} : not_read(name());
      });
}

Result<void> Archive::pour_span(ledger::Ledger& ledger, const StreamInfo& stream,
                                const Span& span) {
  Digest before = span.before;
  for (std::int64_t first = span.first; first <= span.last; first += kPoured) {
    const std::int64_t last = std::min(span.last, first + kPoured - 1);
    const auto rows = connection_.run(
        "SELECT body FROM ligule.record WHERE stream=$1 AND seq BETWEEN $2 AND $3 ORDER BY seq",
        {stream.id.text(), std::to_string(first), std::to_string(last)});
    if (!rows) return std::unexpected(rows.error());
    std::vector<std::string> bodies;
    bodies.reserve(static_cast<std::size_t>(rows->count()));
    for (int row = 0; row < rows->count(); ++row) bodies.emplace_back(rows->text(row, 0));
    const auto absorbed = ledger.absorb(stream, first, before, bodies);
    if (!absorbed) return std::unexpected(as_damage(absorbed.error(), name()));
    for (const std::string& body : bodies) before = chained(before, body);
  }
  return {};
}

}  // namespace ligule::archive
