#include "sync/archive/row.h"

#include <algorithm>
#include <optional>
#include <set>

#include "storage/ledger/sense.h"
#include "storage/trial/number.h"
#include "storage/trial/trial_event.h"

namespace ligule::archive {
namespace {

constexpr int kReadColumns = 20;  // utc_ms to source

void add_text(CopyText& row, const std::string& text) {
  text.empty() ? row.add_nothing() : row.add(text);
}

void add_flag(CopyText& row, bool flag) {
  row.add(flag ? "t" : "f");
}

template <class AnyId>
void add_id(CopyText& row, const std::optional<AnyId>& id) {
  id ? row.add(id->text()) : row.add_nothing();
}

template <class Name>
void add_name(CopyText& row, const std::optional<Name>& name) {
  name ? row.add(name_of(*name)) : row.add_nothing();
}

void add_number(CopyText& row, const std::optional<double>& number) {
  number ? row.add(format_number(*number)) : row.add_nothing();
}

// The server has no year 0 and none before it.
void add_date(CopyText& row, CalendarDate date) {
  static_cast<int>(date.year()) > 0 ? row.add(format_date(date)) : row.add_nothing();
}

void add_read(CopyText& row, const Record& record) {
  row.add(std::to_string(record.at.utc.time_since_epoch().count()));
  row.add(std::to_string(record.at.offset.count()));
  add_date(row, record.at.local_date);
  add_id(row, record.person);
  add_id(row, record.trial);
  add_text(row, record.plan);
  add_id(row, record.subject);
  add_text(row, record.measure);
  add_id(row, record.occasion);
  row.add(std::to_string(record.part));
  add_id(row, record.run);
  add_name(row, record.purpose);
  add_name(row, record.state);
  add_text(row, record.entered);
  add_text(row, record.unit);
  add_number(row, record.value);
  add_text(row, record.definition);
  add_text(row, record.reason);
  record.blind ? add_flag(row, *record.blind) : row.add_nothing();
  add_name(row, record.source);
}

}  // namespace

void add_row(CopyText& rows, CopyText& targets, const ledger::Arrived& arrived,
             const std::string& body, const Digest& before, const Digest& digest) {
  const auto& [envelope, record] = arrived;
  // As the ledger's projections have it: nothing is concluded from what lacks its sense.
  const bool counts = record && ledger::check_sense(*record);
  rows.add(envelope.stream.text());
  rows.add(std::to_string(envelope.seq));
  rows.add(envelope.id.text());
  rows.add(envelope.kind);
  rows.add(std::to_string(envelope.format));
  rows.add(body);
  rows.add(bytea(before.hex()));
  rows.add(bytea(digest.hex()));
  add_flag(rows, counts);
  if (record) {
    add_read(rows, *record);
  } else {
    for (int column = 0; column < kReadColumns; ++column) rows.add_nothing();
  }
  rows.end_row();
  // What takes an event back acts on no claim.
  if (!counts || !record->replaces() || takes_event_back(*record)) return;
  for (const RecordId& target : std::set(record->targets.begin(), record->targets.end())) {
    targets.add(record->id.text());
    targets.add(target.text());
    targets.end_row();
  }
}

std::string bytea(const std::string& hex) {
  return "\\x" + hex;
}

}  // namespace ligule::archive
