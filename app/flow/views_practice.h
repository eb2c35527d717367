// What Practice shows, by value: part of views.h.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/look_views.h"

namespace ligule::flow {

// A drawn stand. Its percent is told to nobody before it is answered.
struct DrawnStand {
  int percent = 0;
  std::uint32_t lie = 0;  // how its gaps lie
  std::string given;      // the answer; empty: none yet

  bool operator==(const DrawnStand&) const = default;
};
struct PercentChoice {
  std::string entered;  // send it back in ChooseValue of percent_stand
  double value = 0;

  bool operator==(const PercentChoice&) const = default;
};
enum class RatesHow { kNear, kHigh, kLow };  // near: less than a point off
struct PracticeResult {
  RatesHow how = RatesHow::kNear;
  int points = 0;        // off, whole points
  int give_or_take = 0;  // their spread
  std::vector<DrawnStand> stands;

  bool operator==(const PracticeResult&) const = default;
};
struct PracticeView {
  HeadView head;
  TrialId trial;  // ShowPractice of these draws other stands
  OccasionId occasion;
  std::string trial_code;
  bool drilled = true;  // rows, or ground covered in patches
  std::size_t place = 1;
  std::size_t stands = 0;
  DrawnStand stand;
  std::vector<PercentChoice> choices;
  bool can_enter = true;
  bool can_take_back = false;
  std::optional<PracticeResult> result;  // all are answered

  bool operator==(const PracticeView&) const = default;
};

}  // namespace ligule::flow
