// Sees to it that a value never stands in the ledger without the scale it was given on and the
// limits that asked of it.
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
class DefinitionsUsed {
 public:
  // Finds out which of the scales the ledger holds, and which limits its stream was last told of.
  [[nodiscard]] static Result<DefinitionsUsed> of(const ledger::Ledger& ledger,
                                                  const Definitions& definitions);

  // Puts a definition record in front of the act's records for each scale that is neither held nor
  // under way with an act before this one; and, with the first value, the limits, where they are
  // others than the stream's last.
  void add_to(flow::Append& append, const flow::IdSource& ids);
  void kept(flow::ActNumber act);
  // epoch: of the append that failed. Says nothing of an act that was sent again since.
  void not_kept(flow::ActNumber act, int epoch);

 private:
  // What comes with an act, and with which sending of it.
  struct UnderWay {
    int epoch = 0;
    std::set<std::string> digests;
  };

  [[nodiscard]] bool under_way(const std::string& digest) const;

  std::map<std::string, Scale> scales_;  // by digest
  std::string limits_;                   // canonical text; empty: there are none
  std::string limits_digest_;            // in the two below like the scales'
  std::set<std::string> held_;
  std::map<flow::ActNumber, UnderWay> under_way_;
};

}  // namespace ligule::work
