#include "storage/ledger/projections.h"

#include <algorithm>

#include "storage/ledger/digest.h"
#include "storage/ledger/schema.h"
#include "storage/ledger/sense.h"
#include "storage/trial/clock_shift.h"
#include "storage/trial/plan.h"
#include "storage/trial/record_line.h"
#include "storage/trial/scale.h"
#include "storage/trial/trial_event.h"

namespace ligule::ledger {

Projector::Projector(Connection& connection, const std::string& schema)
    : connection_(connection),
      insert_item_("INSERT INTO " + schema +
                   ".item(row,kind,trial,subject,measure,occasion,part,purpose,state,standing)"
                   " VALUES(?,?,?,?,?,?,?,?,?,?)"),
      insert_replaced_("INSERT OR IGNORE INTO " + schema + ".replaced(target,row) VALUES(?,?)"),
      strike_("UPDATE " + schema +
              ".item SET standing=0 WHERE standing=1 AND row=(SELECT row FROM main.record WHERE "
              "id=?)"),
      find_replaced_("SELECT 1 FROM " + schema + ".replaced WHERE target=? LIMIT 1"),
      insert_plan_("INSERT INTO " + schema +
                   ".plan(digest,row,trial,parent,utc_ms) VALUES(?,?,?,?,?)"),
      insert_definition_("INSERT INTO " + schema + ".definition(digest,row) VALUES(?,?)"),
      insert_shift_("INSERT INTO " + schema +
                    ".shift(row,stream,first,last,shift_ms,utc_ms,id) VALUES(?,?,?,?,?,?,?)") {}

void Projector::project(std::int64_t row, const Record& record) {
  if (!check_sense(record)) return;
  add_item(row, record);
  project_beside(row, record);
}

void Projector::project_beside(std::int64_t row, const Record& record) {
  // What takes an event back acts on no claim; trial_events() reads it.
  if (record.replaces() && !takes_event_back(record)) add_targets(row, record);
  if (record.kind == kind::kPlan) add_plan(row, record);
  if (record.kind == kind::kDefinition) add_definition(row, record);
  if (record.kind == kind::kClockShift) add_shift(row, record);
}

bool Projector::is_replaced(RecordId id) {
  Query query(connection_, find_replaced_);
  query.bind(1, id.uuid);
  return query.step();
}

void Projector::add_item(std::int64_t row, const Record& record) {
  Query query(connection_, insert_item_);
  query.bind(1, row).bind(2, record.kind);
  if (record.trial) query.bind(3, record.trial->uuid);
  if (record.subject) query.bind(4, *record.subject);
  query.bind(5, record.measure);
  if (record.occasion) query.bind(6, record.occasion->uuid);
  query.bind(7, std::int64_t{record.part});
  if (record.purpose) query.bind(8, name_of(*record.purpose));
  if (record.state) query.bind(9, name_of(*record.state));
  if (record.is_claim()) query.bind(10, std::int64_t{!is_replaced(record.id)});
  query.run();
}

void Projector::add_targets(std::int64_t row, const Record& record) {
  for (const RecordId& target : record.targets) {
    Query insert(connection_, insert_replaced_);
    insert.bind(1, target.uuid).bind(2, row);
    insert.run();
    Query strike(connection_, strike_);
    strike.bind(1, target.uuid);
    strike.run();
  }
}

void Projector::add_plan(std::int64_t row, const Record& record) {
  const auto plan = parse_plan_text(record.details);  // sound: check_sense() read it
  if (!plan) return;
  const TrialId trial = plan->id();
  Query query(connection_, insert_plan_);
  query.bind(1, record.plan).bind(2, row).bind(3, trial.uuid).bind(4, plan->parent);
  query.bind(5, std::int64_t{record.at.utc.time_since_epoch().count()});
  query.run();
}

void Projector::add_definition(std::int64_t row, const Record& record) {
  Query query(connection_, insert_definition_);
  query.bind(1, record.definition).bind(2, row);
  query.run();
}

void Projector::add_shift(std::int64_t row, const Record& record) {
  const auto shift = read_clock_shift(record);  // sound: check_sense() read it
  if (!shift) return;
  Query query(connection_, insert_shift_);
  query.bind(1, row).bind(2, shift->stream.uuid).bind(3, shift->first).bind(4, shift->last);
  query.bind(5, std::int64_t{shift->shift.count()});
  query.bind(6, std::int64_t{record.at.utc.time_since_epoch().count()}).bind(7, record.id.uuid);
  query.run();
}

Result<void> replay_projections(Connection& connection, const std::string& schema,
                                const std::string& path) {
  drop_projections(connection, schema);
  make_projections(connection, schema);
  Projector projector(connection, schema);
  Query query(connection, "SELECT row, body FROM main.record ORDER BY row");
  while (query.step()) {
    const auto cells = LineCells::of(query.text(1));
    if (!cells || !parse_envelope(*cells)) {
      return fail(ErrorKind::kDamaged,
                  "record in row " + std::to_string(query.integer(0)) + " can't be read", path,
                  "leave it as it is; run ligule-desk ledger-check on it");
    }
    if (const auto record = parse_record(*cells)) projector.project(query.integer(0), *record);
  }
  if (schema == "main") {
    Query noted(connection, "UPDATE this_file SET projections=?");
    noted.bind(1, kProjectionVersion);
    noted.run();
  }
  return {};
}

}  // namespace ligule::ledger
