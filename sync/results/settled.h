// Which value of a plot or bag stands, by the rules of the log: settled, on hold, in conflict.
//
// Only survey values count in results; repeats, second raters and practice never do.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/trial/record.h"

namespace ligule::results {

enum class Standing {
  kValue,
  kZero,      // nothing there, and that counts as zero
  kMissing,   // no value, and none should be guessed
  kLater,     // put off
  kOnHold,    // can't be right as it stands, until corrected or settled
  kConflict,  // several claims that differ, until settled
};

struct Settled {
  Standing standing = Standing::kMissing;
  double value = 0.0;  // kValue: in `unit`; 0 otherwise
  int part = 1;
  std::string entered;
  std::string unit;
  std::string definition;         // hex digest of the scale
  std::string reason;             // kZero, kMissing: why, a code or somebody's words
  bool weeds_only = false;        // of a gross weight: nothing that was sown is in it
  bool confirmed = false;         // of a zero: somebody looked again
  bool bin_reads_zero = false;    // of a gross weight: nothing is to be taken off, as stated
  CalendarDate date{};            // on the wall when it was recorded
  std::optional<RecordId> run;    // the harvest run it belongs to
  std::vector<RecordId> records;  // every standing claim it rests on, by id
};

// The settled values of one trial.
class SettledValues {
 public:
  explicit SettledValues(std::span<const ledger::Claim> claims);

  // The parts of one act, in order of their number; empty where nothing was recorded (or all of it
  // was withdrawn). Without an occasion: of all occasions, as for the weights of a bag.
  [[nodiscard]] std::vector<Settled> parts(const Uuid& subject, std::string_view measure,
                                           std::optional<OccasionId> occasion = {}) const;
  // Every (measure, occasion) that has a claim, each once.
  [[nodiscard]] std::vector<std::pair<std::string, OccasionId>> acts() const;

 private:
  using Key = std::tuple<Uuid, std::string, std::optional<OccasionId>, int>;
  std::map<Key, Settled> slots_;
};

// Whether a plot gave nothing of what was sown: each of its gross weights that is a weight says so.
[[nodiscard]] bool weeds_only(std::span<const Settled> gross);

// "is on hold", "stands in conflict": why something that is no value can't be used; empty for
// values, zeros, and what is missing or put off.
[[nodiscard]] std::string_view why_open(Standing standing);

}  // namespace ligule::results
