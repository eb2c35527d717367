// Words for ids: what people call plots, bags, each other and their tablets. For this room only.
#pragma once

#include <map>
#include <string>

#include "storage/ledger/ledger.h"
#include "sync/gather/gather.h"

namespace ligule::gather {

class Names {
 public:
  static Result<Names> read(const ledger::Ledger& ledger);

  // What a record says, who gave it and on which tablet.
  [[nodiscard]] Contender contender(const Record& record) const;
  // "plot 204", or "bag 12" by the bag_number reading that a bag's weights are about.
  [[nodiscard]] Result<std::string> about(const Plan& plan, const Uuid& subject) const;

 private:
  explicit Names(const ledger::Ledger& ledger) : ledger_(&ledger) {}

  const ledger::Ledger* ledger_;
  std::map<StreamId, std::string> devices_;
  std::map<PersonId, std::string> initials_;
};

}  // namespace ligule::gather
