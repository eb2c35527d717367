#include "storage/ledger/examiner.h"

#include <optional>

#include "storage/ledger/opening.h"
#include "storage/ledger/projections.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {
namespace {

std::string place(const Span& span, std::int64_t seq) {
  const std::string stream = "stream " + span.stream.text();
  return stream + ", record " + std::to_string(seq);
}

}  // namespace

std::vector<std::string> page_faults(Connection& connection) {
  std::vector<std::string> faults;
  Query pages(connection, "PRAGMA integrity_check(20)");
  while (pages.step()) {
    if (pages.text(0) != "ok") faults.push_back(cleaned(pages.text(0)));
  }
  return faults;
}

std::vector<std::string> key_faults(Connection& connection) {
  std::vector<std::string> faults;
  Query keys(connection, "PRAGMA foreign_key_check");
  while (keys.step())
    faults.push_back("a row of " + std::string(keys.text(0)) + " belongs to no stream");
  return faults;
}

void Examiner::note(std::string what) {
  findings_.push_back({ErrorKind::kDamaged, std::move(what), path_,
                       "leave the file as it is; rebuild a ledger from its season files"});
}

void Examiner::note_all(std::vector<std::string> faults) {
  for (std::string& fault : faults) note(std::move(fault));
}

void Examiner::check_records() {
  std::optional<ProjectionCheck> projections;
  // Else they are made anew when the ledger is next written to.
  if (projection_version(connection_) == kProjectionVersion) projections.emplace(connection_);
  std::int64_t walked = 0;
  for (const Span& span : spans_of(connection_, std::nullopt))
    walked += walk(span, projections ? &*projections : nullptr);
  Query count(connection_, "SELECT count(*) FROM record");
  const std::int64_t records = count.step() ? count.integer(0) : walked;
  if (records != walked)
    note(std::to_string(records - walked) + " records stand outside every chain");
  Query empty(connection_,
              "SELECT device FROM stream s WHERE NOT EXISTS(SELECT 1 FROM record r WHERE "
              "r.stream=s.id)");
  while (empty.step()) note("a stream of " + cleaned(empty.text(0)) + " has no record");
  // Where records can't be read or reached the projections can't be told from the log.
  if (!projections || !readable_ || records != walked) return;
  for (const std::string& table : projections->differing())
    note("the projection " + table + " differs from a replay of the log");
}

// How many records were walked.
std::int64_t Examiner::walk(const Span& span, ProjectionCheck* projections) {
  const std::string of_item =
      projections == nullptr ? std::string() : std::string(",") + ProjectionCheck::kColumns;
  const std::string from = projections == nullptr
                               ? " FROM record r"
                               : " FROM record r LEFT JOIN main.item i ON i.row=r.row";
  Query query(connection_, "SELECT r.seq,r.body,r.digest,r.id,r.kind,r.format,r.row" + of_item +
                               from + " WHERE r.stream=? AND r.seq BETWEEN ? AND ? ORDER BY r.seq");
  query.bind(1, span.stream.uuid).bind(2, span.first).bind(3, span.last);
  Digest digest = span.before;
  std::int64_t expected = span.first, walked = 0;
  for (; query.step(); ++expected, ++walked) {
    const std::int64_t seq = query.integer(0);
    if (seq != expected) {
      note(place(span, seq) + ": records before it are missing");
      expected = seq;
    } else if (chained(digest, query.text(1)) != query.digest(2)) {
      note(place(span, seq) + ": its digest does not hold");
    }
    digest = query.digest(2);  // one finding for one break
    look(span, query, projections);
  }
  return walked;
}

// A record by itself: its columns, and what the projections say of it.
void Examiner::look(const Span& span, const Query& query, ProjectionCheck* projections) {
  const auto cells = LineCells::of(query.text(1));
  const auto envelope = cells ? parse_envelope(*cells) : std::unexpected(cells.error());
  if (!envelope && std::exchange(readable_, false))
    note("record in row " + std::to_string(query.integer(6)) + " can't be read");
  const bool same = envelope && envelope->stream == span.stream &&
                    envelope->seq == query.integer(0) && envelope->id.uuid == query.uuid(3) &&
                    envelope->kind == query.text(4) && envelope->format == query.integer(5);
  if (!same) note(place(span, query.integer(0)) + ": its columns differ from its text");
  if (projections == nullptr || !envelope) return;
  const auto record = parse_record(*cells);
  projections->look(query.integer(6), record ? &*record : nullptr, query, 7);
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

}  // namespace ligule::ledger
