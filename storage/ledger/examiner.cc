#include "storage/ledger/examiner.h"

#include "storage/ledger/opening.h"
#include "storage/ledger/projections.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {

void Examiner::note(std::string what) {
  findings_.push_back({ErrorKind::kDamaged, std::move(what), path_,
                       "leave the file as it is; rebuild a ledger from its season files"});
}

void Examiner::check_pages() {
  Query pages(connection_, "PRAGMA integrity_check(20)");
  while (pages.step()) {
    if (pages.text(0) != "ok") note(std::string(pages.text(0)));
  }
}

void Examiner::check_keys() {
  Query keys(connection_, "PRAGMA foreign_key_check");
  while (keys.step()) note("a row of " + std::string(keys.text(0)) + " belongs to no stream");
}

void Examiner::check_chains() {
  std::int64_t walked = 0;
  for (const Span& span : spans_of(connection_, std::nullopt)) walked += walk(span);
  Query count(connection_, "SELECT count(*) FROM record");
  if (count.step() && count.integer(0) != walked)
    note(std::to_string(count.integer(0) - walked) + " records stand outside every chain");
  Query empty(connection_,
              "SELECT device FROM stream s WHERE NOT EXISTS(SELECT 1 FROM record r WHERE "
              "r.stream=s.id)");
  while (empty.step()) note("a stream of " + std::string(empty.text(0)) + " has no record");
}

std::int64_t Examiner::walk(const Span& span) {
  Query query(connection_,
              "SELECT seq, body, digest, id, kind, format FROM record"
              " WHERE stream=? AND seq BETWEEN ? AND ? ORDER BY seq");
  query.bind(1, span.stream.uuid).bind(2, span.first).bind(3, span.last);
  Digest digest = span.before;
  std::int64_t expected = span.first;
  const std::string stream = "stream " + span.stream.text();
  for (; query.step(); ++expected) {
    const std::int64_t seq = query.integer(0);
    const std::string here = stream + ", record " + std::to_string(seq);
    if (seq != expected) {
      note(here + ": records before it are missing");
      expected = seq;
      digest = query.digest(2);
      continue;
    }
    digest = chained(digest, query.text(1));
    if (digest != query.digest(2)) {
      note(here + ": its digest does not hold");
      digest = query.digest(2);  // one finding for one break
    }
    const auto envelope = parse_envelope(query.text(1));
    const Envelope row{span.stream,
                       seq,
                       {query.uuid(3)},
                       std::string(query.text(4)),
                       static_cast<int>(query.integer(5))};
    if (!envelope || *envelope != row) note(here + ": its columns differ from its text");
  }
  return expected - span.first;
}

void Examiner::check_reach(const std::vector<HighWater>& told) {
  if (!is_of_this_ledger(connection_, told)) return;
  for (const Behind& each : behind(connection_, told)) {
    const std::string stream = each.told.stream.text();
    if (each.held + 1 == each.told.seq)
      note("stream " + stream + ": record " + std::to_string(each.told.seq) +
           " was kept here and is gone");
    else
      note("stream " + stream + ": records " + std::to_string(each.held + 1) + " to " +
           std::to_string(each.told.seq) + " were kept here and are gone");
  }
}

void Examiner::check_projections() {
  if (projection_version(connection_) != kProjectionVersion) return;
  const auto replayed = replay_projections(connection_, "temp", path_);
  if (!replayed) {
    note(replayed.error().what);
  } else {
    for (const char* table : {"item", "replaced", "plan", "definition", "shift"}) compare(table);
  }
  drop_projections(connection_, "temp");
}

void Examiner::compare(const std::string& table) {
  const std::string kept = "main." + table;
  const std::string fresh = "temp." + table;
  Query query(connection_, "SELECT (SELECT count(*) FROM (SELECT * FROM " + kept +
                               " EXCEPT SELECT * FROM " + fresh +
                               "))+(SELECT count(*) FROM (SELECT * FROM " + fresh +
                               " EXCEPT SELECT * FROM " + kept + "))");
  if (query.step() && query.integer(0) != 0)
    note("the projection " + table + " differs from a replay of the log");
}

}  // namespace ligule::ledger
