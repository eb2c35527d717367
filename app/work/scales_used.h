// Sees to it that a value never stands in the ledger without the scale it was given on.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "app/flow/effects.h"
#include "app/flow/update.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/scale.h"

namespace ligule::work {

// Used by the thread that updates the model, so that ids come in the same order in every run.
class ScalesUsed {
 public:
  // Finds out which of the scales the ledger holds.
  [[nodiscard]] static Result<ScalesUsed> of(const ledger::Ledger& ledger,
                                             const Definitions& definitions);

  // Puts a definition record in front of the act's records for each scale that is neither held nor
  // under way with an act before this one.
  void add_to(flow::Append& append, const flow::IdSource& ids);
  void kept(flow::ActNumber act);
  void not_kept(flow::ActNumber act);

 private:
  [[nodiscard]] bool under_way(const std::string& digest) const;

  std::map<std::string, Scale> scales_;  // by digest
  std::set<std::string> held_;
  std::map<flow::ActNumber, std::set<std::string>> under_way_;
};

}  // namespace ligule::work
