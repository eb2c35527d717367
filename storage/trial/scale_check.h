// Check weights: whether a scale told the truth, and which of its weights that puts in doubt.
//
// The codes are written to disk: never change a text.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/record.h"

namespace ligule::scale_check {

// Details of a check_weight record, and `port` of a weight that came from a scale.
inline constexpr std::string_view kMass = "mass";
inline constexpr std::string_view kAllowance = "allowance";
inline constexpr std::string_view kPort = "port";
// Of a correction that answers for a weight: the id of the check that asked. The clock may have
// been set back since.
inline constexpr std::string_view kAsked = "check";
// Reason of a correction that answers for a weight, and the question it answers.
inline constexpr std::string_view kReason = "check_weight_off";
inline constexpr std::string_view kRule = "check_weight";
inline constexpr std::string_view kHold = "hold_them";
inline constexpr std::string_view kStand = "stand_by_them";

// A check that is off reaches back to the last good one, but no further than this: what was weighed
// a year ago nobody weighs again. Common practice, no source.
inline constexpr int kReachDays = 366;

// The reading is no further from the mass than was allowed, digit by digit.
[[nodiscard]] bool is_good(const Record& check);
// The reading less the mass, with its unit: "-0.10 lb".
[[nodiscard]] std::string off_by(const Record& check);
// The run a weight belongs to; null: it is not among them.
[[nodiscard]] const Record* run_of(std::span<const Record> runs, const Record& weight);
// The scale that gave a weight: its own `port`, else that of its run (null: not known). Empty:
// nobody wrote it down.
[[nodiscard]] std::string port_of(const Record& weight, const Record* run);

// A check, and what tells its scale from others.
struct Check {
  const Record* record = nullptr;  // never null
  std::string scale;
};
// A weight that stands as a value and came from a scale.
struct Weight {
  const Record* claim = nullptr;  // never null
  std::string scale;              // empty: not known, so it may be of any
  UtcInstant weighed{};           // when it hung there: what only restates it is later
};
// A stretch between two good checks of a scale within which another was off.
struct Doubt {
  const Record* check = nullptr;     // the newest that was off
  bool over = false;                 // a good one came after it
  std::vector<std::size_t> weights;  // places in the weights given, in their order
};
// Every stretch with weights nobody answered for since the newest check in it that was off, in
// order of those checks. Weights after that check wait for the next one. Any order of checks and
// weights.
[[nodiscard]] std::vector<Doubt> doubts(std::span<const Check> checks,
                                        std::span<const Weight> weights);

}  // namespace ligule::scale_check
