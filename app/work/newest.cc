#include "app/work/newest.h"

namespace ligule::work {

Result<void> add_newest(const ledger::Ledger& ledger, flow::Today& today) {
  const auto id = ledger.newest_id();
  if (!id) return std::unexpected(id.error());
  if (!*id) return {};
  const auto record = ledger.find(**id);
  if (!record) return std::unexpected(record.error());
  if (*record) today.newest = (*record)->at;
  return {};
}

}  // namespace ligule::work
