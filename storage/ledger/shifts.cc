#include "storage/ledger/shifts.h"

#include <algorithm>
#include <iterator>
#include <string>
#include <tuple>

#include "storage/ledger/rows.h"
#include "storage/trial/record_line.h"

namespace ligule::ledger {

void Shifts::add(const ClockShift& shift) {
  Line& line = lines_[shift.stream];
  const std::int64_t behind = shift.last + 1;
  const auto after = line.upper_bound(behind);
  const auto goes_on =
      after == line.begin() ? std::chrono::milliseconds{0} : std::prev(after)->second;
  line.erase(line.lower_bound(shift.first), after);
  line[shift.first] = shift.shift;
  line[behind] = goes_on;
}

std::chrono::milliseconds Shifts::of(StreamId stream, std::int64_t seq) const {
  const auto line = lines_.find(stream);
  if (line == lines_.end()) return std::chrono::milliseconds{0};
  const auto after = line->second.upper_bound(seq);
  return after == line->second.begin() ? std::chrono::milliseconds{0} : std::prev(after)->second;
}

void Shifts::put_right(Record& record) const {
  record.at = shifted(record.at, of(record.stream, record.seq));
}

Shifts shifts_in(Connection& connection) {
  Shifts shifts;
  Query query(connection, "SELECT stream, first, last, shift_ms FROM shift ORDER BY utc_ms, id");
  while (query.step()) {
    shifts.add({StreamId{query.uuid(0)}, query.integer(1), query.integer(2),
                std::chrono::milliseconds(query.integer(3))});
  }
  return shifts;
}

void put_right(Connection& connection, Record& record) {
  Query query(connection,
              "SELECT shift_ms FROM shift WHERE stream=?1 AND first<=?2 AND last>=?2"
              " ORDER BY utc_ms DESC, id DESC LIMIT 1");
  query.bind(1, record.stream.uuid).bind(2, record.seq);
  if (query.step()) record.at = shifted(record.at, std::chrono::milliseconds(query.integer(0)));
}

Result<std::vector<HeldShift>> held_shifts(const Ledger& ledger) {
  const auto records = ledger.of_kind(kind::kClockShift);
  if (!records) return std::unexpected(records.error());
  std::vector<HeldShift> held;
  for (const Record& record : *records) {
    const auto shift = read_clock_shift(record);
    if (!shift) return std::unexpected(shift.error());
    Result<Record> written = record;
    const auto read = ledger.each_record(record.stream, record.seq, record.seq,
                                         [&](std::int64_t, std::string_view body, const Digest&) {
                                           written = record_from(body, ledger.path());
                                           return true;
                                         });
    if (!read) return std::unexpected(read.error());
    if (!written) return std::unexpected(written.error());
    held.push_back({*shift, *std::move(written)});
  }
  std::ranges::sort(
      held, {}, [](const HeldShift& each) { return std::tie(each.record.at.utc, each.record.id); });
  return held;
}

Shifts shifts_of(const std::vector<HeldShift>& held) {
  Shifts shifts;
  for (const HeldShift& each : held) shifts.add(each.shift);
  return shifts;
}

}  // namespace ligule::ledger
