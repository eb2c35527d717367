// Somebody who taps, types, strokes and scans whatever comes, on a tablet whose commits take their
// time and fail now and then; and what must hold after every tap.
#pragma once

#include <condition_variable>
#include <deque>
#include <map>
#include <mutex>
#include <random>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "tests/app/program/live_tablet.h"
#include "tests/app/scale/fake_scale.h"

namespace ligule::faults {

// Commits that take up to kSlowestMs of the tablet's own time, which moves only by pass(), and fail
// now and then; quick and sound until they are told to be slow.
class SlowCommits {
 public:
  static constexpr std::int64_t kSlowestMs = 500;
  static constexpr int kOneFailsIn = 50;

  explicit SlowCommits(std::uint64_t seed) : random_(seed) {}
  [[nodiscard]] work::AppendCall call();
  void pass(std::int64_t ms);
  void be_slow(bool slow);
  // A commit waits for time to pass.
  [[nodiscard]] bool waits();
  [[nodiscard]] std::uint64_t kept();    // acts
  [[nodiscard]] std::uint64_t failed();  // tries

 private:
  std::mutex mutex_;
  std::condition_variable moved_;
  std::mt19937_64 random_;
  std::int64_t now_ms_ = 0;
  std::int64_t due_ms_ = 0;  // of the commit that waits
  bool slow_ = false, waiting_ = false;
  std::uint64_t kept_ = 0, failed_ = 0;
};

// How one start leads to a screen: lines of a drive.
struct Start {
  std::string_view name;
  std::string_view lines;
  bool scale = false;  // plugged in
};

class Monkey {
 public:
  Monkey(const Start& start, std::uint64_t seed);
  ~Monkey();
  Monkey(const Monkey&) = delete;
  Monkey& operator=(const Monkey&) = delete;
  Monkey(Monkey&&) = delete;
  Monkey& operator=(Monkey&&) = delete;

  // Until a fault or so many taps. What is at fault, with the seed and the last that was done;
  // empty: nothing.
  [[nodiscard]] std::string play(int taps);
  // Everything is written that is on its way, and the whole ledger looked at.
  [[nodiscard]] std::string end();

  struct Counts {
    std::uint64_t kept = 0, failed = 0, let_go = 0;
    std::size_t most_pending = 0;
    int seen_unsaved = 0;           // looks at a screen that said NOT SAVED
    std::set<std::size_t> screens;  // of flow::Screen
  };
  [[nodiscard]] Counts counts();

 private:
  // One thing done to the tablet, and whether it was a tap.
  bool act();
  bool tap();
  void tap_anywhere();
  void type();
  void scan();
  void stroke();
  void weigh();
  void did(std::string what);
  void pass(std::int64_t ms);
  void read();  // what lies on the glass, a moment long

  // Lets the tablet work until nothing moves without time.
  void settle();
  [[nodiscard]] std::string look();
  [[nodiscard]] std::string look_at_acts();
  [[nodiscard]] std::string look_at_book();
  [[nodiscard]] std::string look_at_screen();
  [[nodiscard]] bool in_ledger(RecordId id);
  [[nodiscard]] std::string told(const std::string& fault) const;

  std::uint64_t seed_;
  std::mt19937_64 random_;
  std::string name_;
  program_test::InventedSite site_;
  program_test::Variable media_;
  scale::FakeScale scale_;
  bool weighs_;
  std::string start_fault_;
  SlowCommits commits_;
  std::unique_ptr<program_test::LiveTablet> tablet_;
  std::optional<ledger::Ledger> ledger_;                        // to look in
  std::deque<std::string> done_;                                // the last few
  std::map<flow::ActNumber, std::vector<RecordId>> under_way_;  // not yet kept, as last seen
  std::map<flow::ActNumber, std::vector<RecordId>> unsaved_;    // of these: not saved
  bool let_go_ = false;                                         // the last tap was on "Let them go"
  std::set<RecordId> found_;
  Counts counts_;
};

}  // namespace ligule::faults
