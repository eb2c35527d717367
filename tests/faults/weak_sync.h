// A ledger that believes that it runs with synchronous=FULL while it runs with NORMAL.
#pragma once

namespace ligule::faults {

// While one stands, the statements that set and read back `synchronous` are answered so.
class WeakSync {
 public:
  WeakSync();
  WeakSync(const WeakSync&) = delete;
  WeakSync& operator=(const WeakSync&) = delete;
  WeakSync(WeakSync&&) = delete;
  WeakSync& operator=(WeakSync&&) = delete;
  ~WeakSync();
};

}  // namespace ligule::faults
