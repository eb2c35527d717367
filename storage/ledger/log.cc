#include "storage/ledger/log.h"

#include <limits>

#include "storage/ledger/database.h"
#include "storage/trial/details.h"

namespace ligule::ledger {
namespace {

StreamInfo stream_of(const Query& query) {
  StreamInfo info;
  info.id = {query.uuid(0)};
  info.device = query.text(1);
  info.public_key = query.key(2);
  if (!query.is_null(3)) info.continues = StreamId{query.uuid(3)};
  info.demo = query.integer(4) != 0;
  info.mine = query.integer(5) != 0;
  return info;
}

std::string key_hex(const PublicKey& key) {
  return Digest{key}.hex();
}

}  // namespace

std::optional<StreamInfo> stream_info(Connection& connection, StreamId stream) {
  Query query(connection,
              "SELECT id, device, public_key, continues, demo, mine FROM stream WHERE id=?");
  query.bind(1, stream.uuid);
  if (!query.step()) return std::nullopt;
  return stream_of(query);
}

void insert_stream(Connection& connection, const StreamInfo& stream) {
  Query query(connection,
              "INSERT INTO stream(id,device,public_key,continues,demo,mine) VALUES(?,?,?,?,?,?)");
  query.bind(1, stream.id.uuid).bind(2, stream.device).bind(3, stream.public_key);
  if (stream.continues) query.bind(4, stream.continues->uuid);
  query.bind(5, std::int64_t{stream.demo}).bind(6, std::int64_t{stream.mine});
  query.run();
}

Head head_of(Connection& connection, StreamId stream) {
  Query query(connection,
              "SELECT seq, digest FROM record WHERE stream=? ORDER BY seq DESC LIMIT 1");
  query.bind(1, stream.uuid);
  if (!query.step()) return {};
  return {query.integer(0), query.digest(1)};
}

std::optional<Digest> digest_of(Connection& connection, StreamId stream, std::int64_t seq) {
  Query query(connection, "SELECT digest FROM record WHERE stream=? AND seq=?");
  query.bind(1, stream.uuid).bind(2, seq);
  if (!query.step()) return std::nullopt;
  return query.digest(0);
}

std::int64_t insert_record(Connection& connection, const Envelope& envelope, std::string_view body,
                           const Digest& digest) {
  Query query(connection,
              "INSERT INTO record(stream,seq,id,kind,format,body,digest) VALUES(?,?,?,?,?,?,?)");
  query.bind(1, envelope.stream.uuid).bind(2, envelope.seq).bind(3, envelope.id.uuid);
  query.bind(4, envelope.kind).bind(5, std::int64_t{envelope.format}).bind(6, body);
  query.bind(7, digest);
  query.run();
  return connection.database().getLastInsertRowid();
}

void insert_span_start(Connection& connection, StreamId stream, std::int64_t first,
                       const Digest& before) {
  Query query(connection,
              "INSERT OR IGNORE INTO span_start(stream,first,digest_before) VALUES(?,?,?)");
  query.bind(1, stream.uuid).bind(2, first).bind(3, before);
  query.run();
}

std::vector<Span> spans_of(Connection& connection, const std::optional<StreamId>& stream) {
  // A run ends at the last record before the next run of its stream.
  Query query(connection,
              "SELECT s.stream, s.first, s.digest_before, r.seq, r.digest FROM span_start s"
              " JOIN record r ON r.stream=s.stream AND r.seq=("
              "  SELECT max(seq) FROM record e WHERE e.stream=s.stream AND e.seq<coalesce("
              "   (SELECT min(first) FROM span_start n WHERE n.stream=s.stream AND "
              "n.first>s.first),"
              "   9223372036854775807))"
              " WHERE ?1 IS NULL OR s.stream=?1 ORDER BY s.stream, s.first");
  if (stream) query.bind(1, stream->uuid);
  std::vector<Span> spans;
  while (query.step()) {
    spans.push_back(
        {{query.uuid(0)}, query.integer(1), query.integer(3), query.digest(2), query.digest(4)});
  }
  return spans;
}

Record stream_record(const StreamStart& start, const std::optional<StreamId>& continues) {
  Record record;
  record.stream = start.id;
  record.seq = 1;
  record.id = start.record;
  record.kind = kind::kStream;
  record.at = start.at;
  Details details{{"device", start.device},
                  {"public_key", key_hex(start.public_key)},
                  {std::string(kSoftware), start.software}};
  if (continues) details["continues"] = continues->text();
  if (start.demo) details["demo"] = "1";
  if (start.instead) details[std::string(kInstead)] = "lost_key";
  record.details = details_text(details);
  return record;
}

Result<StreamInfo> read_stream_record(const Record& record) {
  const auto details = parse_details(record.details);
  if (!details) return std::unexpected(details.error());
  const auto text = [&](const char* key) {
    const auto at = details->find(key);
    return at == details->end() ? std::string() : at->second;
  };
  StreamInfo info;
  info.id = record.stream;
  info.device = text("device");
  const auto key = parse_digest(text("public_key"));
  if (!key) return fail(ErrorKind::kInvalid, "a stream's first record has no public key");
  info.public_key = key->bytes;
  if (details->contains("continues")) {
    const auto continues = parse_uuid(text("continues"));
    if (!continues) return std::unexpected(continues.error());
    info.continues = StreamId{*continues};
  }
  info.demo = text("demo") == "1";
  return info;
}

Result<std::vector<StreamInfo>> Ledger::streams() const {
  return database_->read([](Connection& connection) -> Result<std::vector<StreamInfo>> {
    Query query(connection,
                "SELECT id, device, public_key, continues, demo, mine FROM stream ORDER BY id");
    std::vector<StreamInfo> streams;
    while (query.step()) streams.push_back(stream_of(query));
    return streams;
  });
}

Result<std::vector<Span>> Ledger::spans() const {
  return database_->read([](Connection& connection) -> Result<std::vector<Span>> {
    return spans_of(connection, std::nullopt);
  });
}

Digest digest_of_spans(std::span<const Span> spans) {
  std::string lines;
  for (const Span& span : spans) {
    lines += span.stream.text() + "," + std::to_string(span.first) + "," +
             std::to_string(span.last) + "," + span.before.hex() + "," + span.head.hex() + "\n";
  }
  return sha256(lines);
}

Result<Digest> Ledger::digest() const {
  const auto all = spans();
  if (!all) return std::unexpected(all.error());
  return digest_of_spans(*all);
}

Result<void> Ledger::each_record(
    StreamId stream, std::int64_t first, std::int64_t last,
    const std::function<bool(std::int64_t, std::string_view, const Digest&)>& visit) const {
  return database_->read([&](Connection& connection) -> Result<void> {
    Query query(connection,
                "SELECT seq, body, digest FROM record"
                " WHERE stream=? AND seq BETWEEN ? AND ? ORDER BY seq");
    query.bind(1, stream.uuid).bind(2, first).bind(3, last);
    while (query.step()) {
      if (!visit(query.integer(0), query.text(1), query.digest(2))) break;
    }
    return {};
  });
}

Result<Digest> Ledger::digest_at(StreamId stream, std::int64_t seq) const {
  if (seq == 0) return Digest{};
  return database_->read([&](Connection& connection) -> Result<Digest> {
    if (const auto digest = digest_of(connection, stream, seq)) return *digest;
    return fail(ErrorKind::kNotFound, "record " + std::to_string(seq) + " is not held",
                database_->path());
  });
}

Result<std::optional<RecordId>> Ledger::newest_id() const {
  return database_->read([](Connection& connection) -> Result<std::optional<RecordId>> {
    // Ids are handed out in ascending order, so the newest is among each stream's last records:
    // those of one transaction may stand in another order.
    Query query(connection,
                "SELECT max(r.id) FROM stream s JOIN record r ON r.stream=s.id AND"
                " r.seq>(SELECT max(seq) FROM record e WHERE e.stream=s.id)-256 WHERE s.mine=1");
    if (!query.step() || query.is_null(0)) return std::nullopt;
    return RecordId{query.uuid(0)};
  });
}

}  // namespace ligule::ledger
