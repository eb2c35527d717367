// What the scale's indicator says, and how a weight is taken from it.
//
// The load on the scale is no data until somebody takes it: it is told by work as it changes,
// shown, and forgotten. Never shown as kept.
#pragma once

#include <chrono>
#include <cstddef>
#include <map>
#include <optional>
#include <string>

#include "storage/trial/error.h"

namespace ligule::flow {

// How long a load that never settles is averaged: common practice, no source.
inline constexpr std::chrono::milliseconds kAverageFor{5000};

enum class LoadState {
  kNoScale,  // none was chosen
  kSilent,   // unplugged, switched off, or at another speed
  kGarbled,  // its lines are no weights
  kOverload,
  kUnderload,
  kNegative,   // something was taken off that was there when it was set to zero
  kMoving,     // taken only after a question
  kEmpty,      // nothing on it, or too little to be a load
  kNotLifted,  // still, but taken already
  kStill,      // one tap takes it
};

struct LoadSeen {
  LoadState state = LoadState::kNoScale;
  std::string entered;  // the number as it was sent; empty: none
  std::string unit;
  bool net = false;            // the indicator has a tare on
  std::string raw;             // the last line, whatever it was
  std::optional<Error> fault;  // why nothing comes

  bool operator==(const LoadSeen&) const = default;
};

// The mean of what came while a load moved.
struct AveragedLoad {
  std::string entered;
  std::string unit;
  std::string lowest;
  std::string highest;
  std::size_t readings = 0;
  bool net = false;
  std::string raw;  // the last line

  bool operator==(const AveragedLoad&) const = default;
};
struct AverageEnded {
  std::optional<AveragedLoad> mean;  // none: no reading came, or it was below zero
  bool operator==(const AverageEnded&) const = default;
};

// A load that moves was to be taken: wait, or average? And where its readings lay far apart: keep
// their mean, or weigh again?
struct MovingLoad {
  bool averaging = false;
  std::optional<AveragedLoad> wide = {};
  bool operator==(const MovingLoad&) const = default;
};

// A form of line that an indicator may send.
struct LineFormName {
  std::string code;
  std::map<std::string, std::string, std::less<>> names;  // by language; English is among them

  bool operator==(const LineFormName&) const = default;
};

}  // namespace ligule::flow
