// A ledger as full as a bench wants it: trials all alike, each of four blocks of 24 entries, with
// forty ratings and two cuttings. The newest is worked on: its last rating and second cutting are
// still empty.
#pragma once

#include <cstdint>
#include <string>

#include "storage/ledger/ledger.h"

namespace ligule::bench {

[[nodiscard]] Plan plan_of(int number);
[[nodiscard]] inline const PlanOccasion& open_rating(const Plan& plan) {
  return plan.occasions.at(plan.occasions.size() - 3);
}
[[nodiscard]] inline const PlanOccasion& open_cutting(const Plan& plan) {
  return plan.occasions.back();
}
// The weight of a plot in pounds: by entry and block, no two alike; in tenths, as a scale shows it
// and a keypad takes it.
[[nodiscard]] std::string pounds(const PlanPlot& plot);

class FilledLedger {
 public:
  // Makes the ledger, with a stream of its own and its key, and so many records or a few more.
  FilledLedger(const std::string& path, int records);

  ledger::Ledger& ledger() { return ledger_; }
  [[nodiscard]] int written() const { return written_; }
  [[nodiscard]] int trials() const { return trials_; }
  // The newest.
  [[nodiscard]] Plan plan() const { return plan_of(trials_); }
  // A value that nobody gave yet, under an id of its own.
  [[nodiscard]] Record reading(const Plan& plan, const std::string& digest,
                               const PlanOccasion& occasion, const PlanPlot& plot,
                               const std::string& measure, const std::string& entered);

 private:
  void fill(const Plan& plan, int records);

  ledger::Ledger ledger_;
  std::uint64_t next_ = 100;
  int written_ = 0;
  int trials_ = 0;
};

}  // namespace ligule::bench
