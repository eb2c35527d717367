#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "storage/ledger/database.h"
#include "storage/ledger/rows.h"
#include "storage/trial/details.h"
#include "storage/trial/record_line.h"
#include "storage/trial/saying.h"
#include "storage/trial/sown_now.h"

namespace ligule::ledger {
namespace {

// Ids are made in order, so equal instants keep the order of the taps.
void sort_by_time(std::vector<Record>& records) {
  std::ranges::sort(records, {}, [](const Record& r) { return std::tie(r.at.utc, r.id); });
}

auto slot_of(const Record& r) {
  return std::tie(r.subject, r.measure, r.occasion, r.part, r.purpose);
}

// Sorted by where they stand: a record is large to move about.
std::vector<Record*> in_order_of_slots(std::vector<Record>& records) {
  std::vector<Record*> order;
  order.reserve(records.size());
  for (Record& record : records) order.push_back(&record);
  std::ranges::sort(order, [](const Record* a, const Record* b) {
    return std::tuple(slot_of(*a), a->at.utc, a->id) < std::tuple(slot_of(*b), b->at.utc, b->id);
  });
  return order;
}

// Runs a query whose first column is a body. Their times are put right.
Result<std::vector<Record>> records_of(Connection& connection, Query& query,
                                       const std::string& path) {
  const Shifts shifts = shifts_in(connection);
  std::vector<Record> records;
  while (query.step()) {
    auto record = record_from(query.text(0), path);
    if (!record) return std::unexpected(record.error());
    shifts.put_right(*record);
    records.push_back(*std::move(record));
  }
  return records;
}

constexpr std::int64_t kMostLookedAt = 2000;  // beyond it reading all anew costs little more

std::optional<TrialId> trial_of(Connection& connection, RecordId id) {
  Query query(connection,
              "SELECT i.trial FROM record r JOIN item i ON i.row=r.row WHERE r.id=?"
              " AND i.trial IS NOT NULL");
  query.bind(1, id.uuid);
  if (!query.step()) return std::nullopt;
  return TrialId{query.uuid(0)};
}

// Claims must be sorted by slot.
void count_others(std::vector<Claim>& claims) {
  for (auto first = claims.begin(); first != claims.end();) {
    const auto next = std::find_if(first, claims.end(), [&](const Claim& claim) {
      return slot_of(claim.record) != slot_of(first->record);
    });
    std::map<said::Saying, int> sayings;
    for (auto claim = first; claim != next; ++claim) ++sayings[said::saying_of(claim->record)];
    const auto all = static_cast<int>(next - first);
    for (auto claim = first; claim != next; ++claim)
      claim->others = all - sayings[said::saying_of(claim->record)];
    first = next;
  }
}

}  // namespace

Result<Record> record_from(std::string_view body, const std::string& path) {
  auto record = parse_record(body);
  if (record) return record;
  return fail(ErrorKind::kDamaged, "a record can't be read: " + record.error().what, path,
              "leave the ledger as it is; run ligule-desk ledger-check on it");
}

Result<Record> record_in_row(Connection& connection, std::int64_t row, const std::string& path) {
  Query query(connection, "SELECT body FROM record WHERE row=?");
  query.bind(1, row);
  if (!query.step())
    return fail(ErrorKind::kDamaged, "row " + std::to_string(row) + " of the log is missing", path,
                "leave the ledger as it is; run ligule-desk ledger-check on it");
  return record_from(query.text(0), path);
}

Result<std::vector<Claim>> Ledger::claims(TrialId trial, std::optional<OccasionId> occasion) const {
  return database_->read([&](Connection& connection) -> Result<std::vector<Claim>> {
    std::string sql =
        "SELECT r.body FROM item i JOIN record r ON r.row=i.row WHERE i.standing=1 AND i.trial=?";
    if (occasion) sql += " AND i.occasion=?";
    Query query(connection, sql);
    query.bind(1, trial.uuid);
    if (occasion) query.bind(2, occasion->uuid);
    auto records = records_of(connection, query, path());
    if (!records) return std::unexpected(records.error());
    std::vector<Claim> claims;
    claims.reserve(records->size());
    for (Record* record : in_order_of_slots(*records)) claims.push_back({std::move(*record), 0});
    count_others(claims);
    return claims;
  });
}

Result<Changed> Ledger::changed_since(std::int64_t row) const {
  return database_->read([&](Connection& connection) -> Result<Changed> {
    Changed changed;
    Query newest(connection, "SELECT coalesce(max(row),0) FROM record");
    if (newest.step()) changed.row = newest.integer(0);
    // One that ends sooner than it did is another file, which was put in its place.
    if (row == 0 || changed.row < row || changed.row - row > kMostLookedAt) return changed;
    std::set<TrialId> trials;
    Query query(connection, "SELECT body FROM record WHERE row>? AND row<=? AND format<=?");
    query.bind(1, row).bind(2, changed.row).bind(3, std::int64_t{kRecordFormat});
    while (query.step()) {
      const auto record = record_from(query.text(0), path());
      if (!record) return std::unexpected(record.error());
      const bool placeless = record->occasion || !record->targets.empty();
      if (record->kind == kind::kClockShift || (!record->trial && placeless)) return changed;
      if (record->trial) trials.insert(*record->trial);
      for (const RecordId& target : record->targets)
        if (const auto trial = trial_of(connection, target)) trials.insert(*trial);
    }
    changed.trials = std::move(trials);
    return changed;
  });
}

Result<std::vector<Record>> Ledger::history(const Uuid& subject) const {
  return database_->read([&](Connection& connection) -> Result<std::vector<Record>> {
    Query query(connection,
                "SELECT r.body FROM item i JOIN record r ON r.row=i.row WHERE i.subject=?");
    query.bind(1, subject);
    auto records = records_of(connection, query, path());
    if (records) sort_by_time(*records);
    return records;
  });
}

Result<std::optional<Record>> Ledger::find(RecordId id) const {
  return database_->read([&](Connection& connection) -> Result<std::optional<Record>> {
    Query query(connection, "SELECT body FROM record WHERE id=? AND format<=?");
    query.bind(1, id.uuid).bind(2, std::int64_t{kRecordFormat});
    if (!query.step()) return std::nullopt;
    auto record = record_from(query.text(0), path());
    if (!record) return std::unexpected(record.error());
    put_right(connection, *record);
    return *std::move(record);
  });
}

Result<std::vector<Record>> Ledger::of_kind(std::string_view kind,
                                            std::optional<TrialId> trial) const {
  return database_->read([&](Connection& connection) -> Result<std::vector<Record>> {
    // Claims are no part of the index by kind: asked for by kind they are walked through.
    const bool claim =
        kind == kind::kReading || kind == kind::kCorrection || kind == kind::kSettlement;
    std::string sql =
        "SELECT r.body FROM item i JOIN record r ON r.row=i.row WHERE i.kind=? AND i.standing IS ";
    sql += claim ? "NOT NULL" : "NULL";
    if (trial) sql += " AND i.trial=?";
    Query query(connection, sql);
    query.bind(1, kind);
    if (trial) query.bind(2, trial->uuid);
    auto records = records_of(connection, query, path());
    if (records) sort_by_time(*records);
    return records;
  });
}

Result<std::string> Ledger::limits_told() const {
  const auto mine = my_stream();
  if (!mine) return std::string();
  const auto records = of_kind(kind::kLimits);
  if (!records) return std::unexpected(records.error());
  const Record* newest = nullptr;
  for (const Record& record : *records) {
    if (record.stream == mine->id && (newest == nullptr || record.seq > newest->seq))
      newest = &record;
  }
  return newest == nullptr ? std::string() : newest->definition;
}

Result<std::string> Ledger::software_told() const {
  const auto mine = my_stream();
  if (!mine) return std::string();
  std::string told;
  std::int64_t told_at = 0;
  for (const std::string_view telling : {kind::kStream, kind::kSoftware}) {
    const auto records = of_kind(telling);
    if (!records) return std::unexpected(records.error());
    for (const Record& record : *records) {
      if (record.stream != mine->id || record.seq <= told_at) continue;
      told = detail(record.details, std::string(kSoftware));
      told_at = record.seq;
    }
  }
  return told;
}

Result<std::vector<TrialEvent>> Ledger::events(TrialId trial) const {
  return database_->read([&](Connection& connection) -> Result<std::vector<TrialEvent>> {
    Query query(connection,
                "SELECT r.body FROM item i JOIN record r ON r.row=i.row"
                " WHERE i.kind IN('event','withdrawal') AND i.standing IS NULL AND i.trial=?"
                " AND i.subject IS NULL");
    query.bind(1, trial.uuid);
    auto records = records_of(connection, query, path());
    if (!records) return std::unexpected(records.error());
    sort_by_time(*records);
    return trial_events(*records);
  });
}

Result<std::vector<AsSown>> Ledger::as_sown(TrialId trial) const {
  const auto records = of_kind(kind::kAsSown, trial);
  if (!records) return std::unexpected(records.error());
  std::vector<AsSown> statements;
  for (const Record& record : *records) {
    auto what = read_as_sown(record);
    if (!what) return std::unexpected(what.error());
    statements.push_back(*std::move(what));
  }
  return sown_now(statements);  // records come in the order of their time
}

Result<std::vector<Record>> Ledger::open_bags() const {
  return database_->read([&](Connection& connection) -> Result<std::vector<Record>> {
    // A bag is its slot: every claim ever made for it (b) may be the subject of its weights. Each
    // measure has an index of its own, which is found by its name only.
    std::vector<Record> bags;
    for (const std::string measure : {"'bag_number'", "'part_bag'"}) {
      Query query(
          connection,
          "SELECT r.body FROM item i JOIN record r ON r.row=i.row WHERE i.measure=" + measure +
              " AND i.standing=1 AND i.state='value'"
              " AND NOT EXISTS(SELECT 1 FROM item b JOIN record c ON c.row=b.row"
              "  JOIN item w ON w.subject=c.id AND w.measure='sample_dry' AND w.standing=1"
              "   AND w.purpose=i.purpose AND w.state NOT IN('later','on hold')"
              "  WHERE b.subject=i.subject AND b.measure=i.measure"
              "   AND b.occasion=i.occasion AND b.part=i.part AND b.purpose=i.purpose)");
      auto records = records_of(connection, query, path());
      if (!records) return std::unexpected(records.error());
      std::ranges::move(*records, std::back_inserter(bags));
    }
    sort_by_time(bags);
    return bags;
  });
}

}  // namespace ligule::ledger
