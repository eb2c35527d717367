// Clocks put right: what is added to the time of which records (sync/seal/FORMAT.md section 5).
#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <optional>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/trial/clock_shift.h"

namespace ligule::ledger {

// Any number of shifts as what they come to: of each record the one that was added last counts.
class Shifts {
 public:
  void add(const ClockShift& shift);
  [[nodiscard]] std::chrono::milliseconds of(StreamId stream, std::int64_t seq) const;
  // Puts the time of a record right that came out of the log.
  void put_right(Record& record) const;

 private:
  // By the record from which on it is added, until the next.
  using Line = std::map<std::int64_t, std::chrono::milliseconds>;
  std::map<StreamId, Line> lines_;
};

// What one record of kind clock_shift says.
struct HeldShift {
  ClockShift shift;
  Record record;  // as it was written: its own time is not put right
};
// All that are held, whether their stream is or not, by time, then id: of several about one record
// the last counts. kIo, kDamaged.
[[nodiscard]] Result<std::vector<HeldShift>> held_shifts(const Ledger& ledger);
[[nodiscard]] Shifts shifts_of(const std::vector<HeldShift>& held);

}  // namespace ligule::ledger
