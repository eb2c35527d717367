// How far each occasion of every trial is, worked out again only for trials that something came in
// of: a ledger of many seasons takes seconds to be read whole, and Today is returned to after every
// round of plots.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/flow/known.h"
#include "storage/ledger/ledger.h"

namespace ligule::work {

class TrialsProgress {
 public:
  // In the order of trials and of their occasions. Always of the same ledger and definitions.
  [[nodiscard]] Result<std::vector<flow::OccasionProgress>> of(
      const ledger::Ledger& ledger, std::span<const flow::KnownTrial> trials,
      const Definitions& definitions, CalendarDate today);
  // Trials that the last call read.
  [[nodiscard]] int read() const { return read_; }

 private:
  struct Known {
    std::string plan;  // digest of the one in force
    std::vector<AsSown> as_sown;
    std::vector<flow::OccasionProgress> progress;
  };
  void forget_changed(const ledger::Changed& changed, CalendarDate today);

  std::optional<CalendarDate> day_;
  std::int64_t row_ = 0;  // of the log, up to which what is known holds
  std::map<TrialId, Known> known_;
  int read_ = 0;
};

}  // namespace ligule::work
