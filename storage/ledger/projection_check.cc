#include "storage/ledger/projection_check.h"

#include <algorithm>
#include <optional>
#include <string_view>

#include "storage/ledger/schema.h"
#include "storage/ledger/sense.h"

namespace ligule::ledger {
namespace {

bool says(const Query& query, int column, std::string_view text) {
  return !query.is_null(column) && query.text(column) == text;
}

bool says(const Query& query, int column, const std::optional<Uuid>& id) {
  if (!id) return query.is_null(column);
  return query.size(column) == id->bytes.size() && query.uuid(column) == *id;
}

template <class Id>
std::optional<Uuid> uuid_of(const std::optional<Id>& id) {
  return id ? std::optional(id->uuid) : std::nullopt;
}

template <class Named>
bool says_name(const Query& query, int column, const std::optional<Named>& value) {
  return value ? says(query, column, name_of(*value)) : query.is_null(column);
}

}  // namespace

ProjectionCheck::ProjectionCheck(Connection& connection)
    : connection_(connection), beside_(connection, "temp") {
  drop_projections(connection, "temp");
  make_projections(connection, "temp");
  Query query(connection, "SELECT DISTINCT target FROM main.replaced ORDER BY target");
  while (query.step()) replaced_.push_back(query.uuid(0));
}

ProjectionCheck::~ProjectionCheck() {
  for (const char* table : {"item", "replaced", "plan", "definition", "shift"})
    connection_.database().tryExec("DROP TABLE IF EXISTS temp." + std::string(table));
}

void ProjectionCheck::look(std::int64_t row, const Record* record, const Query& item, int at) {
  const bool there = !item.is_null(at);
  if (record == nullptr || !check_sense(*record)) {
    items_hold_ = items_hold_ && !there;
    return;
  }
  ++items_;
  items_hold_ = items_hold_ && there && is_item_of(*record, item, at);
  beside_.project_beside(row, *record);
}

// Whether a claim stands is asked of the ledger's own `replaced`, which is held against the log by
// itself.
bool ProjectionCheck::is_item_of(const Record& record, const Query& item, int at) const {
  const bool stands = !std::ranges::binary_search(replaced_, record.id.uuid);
  return says(item, at + 1, record.kind) && says(item, at + 2, uuid_of(record.trial)) &&
         says(item, at + 3, record.subject) && says(item, at + 4, record.measure) &&
         says(item, at + 5, uuid_of(record.occasion)) && item.integer(at + 6) == record.part &&
         says_name(item, at + 7, record.purpose) && says_name(item, at + 8, record.state) &&
         (record.is_claim() ? !item.is_null(at + 9) && item.integer(at + 9) == std::int64_t{stands}
                            : item.is_null(at + 9));
}

std::vector<std::string> ProjectionCheck::differing() {
  std::vector<std::string> tables;
  Query count(connection_, "SELECT count(*) FROM main.item");
  if (!items_hold_ || !count.step() || count.integer(0) != items_) tables.emplace_back("item");
  for (const char* table : {"replaced", "plan", "definition", "shift"})
    if (differs(table)) tables.emplace_back(table);
  return tables;
}

bool ProjectionCheck::differs(const std::string& table) {
  const std::string kept = "main." + table;
  const std::string fresh = "temp." + table;
  Query query(connection_, "SELECT (SELECT count(*) FROM (SELECT * FROM " + kept +
                               " EXCEPT SELECT * FROM " + fresh +
                               "))+(SELECT count(*) FROM (SELECT * FROM " + fresh +
                               " EXCEPT SELECT * FROM " + kept + "))");
  return query.step() && query.integer(0) != 0;
}

}  // namespace ligule::ledger
