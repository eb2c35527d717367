// What the pads of several numbers and of dates show, by value: part of views.h.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace ligule::flow {

// What a measure is tapped on.
enum class PadKind {
  kTiles,    // choices (percent, score)
  kLadder,   // choices, first at the bottom (stages)
  kAmount,   // choices, or typed and stepped; of several readings one after the other
  kShares,   // parts of a whole, one after the other on the choices
  kCounts,   // a tap counts one at its stage
  kCells,    // a frame, placement by placement
  kReached,  // the plots of a block
};
// A share, or a stage with how many were counted at it.
struct PartView {
  std::string code;
  std::string word;     // key of its name; empty: the code says it
  std::string number;   // empty: nothing stated yet
  bool rest = false;    // filled up by the program
  bool active = false;  // what the choices speak of
  double value = 0;     // its place on the scale

  bool operator==(const PartView&) const = default;
};
// What is gathered before it is kept as one act.
struct GatherView {
  std::size_t wanted = 0;             // readings or placements of one act
  std::vector<std::string> readings;  // heights taken; cells counted in each placement
  std::vector<PartView> parts;
  std::vector<bool> cells;  // of the placement being counted; empty: none is
  std::size_t columns = 0;  // of the frame
  std::string step;         // of shares, what the step keys move by
  std::size_t counted = 0;  // stems or tillers; cells of this placement that hold a plant
  std::string mean;         // of kept heights, of counted stages; percent of kept cells
  std::string plants;       // a square metre, of kept cells
  std::string factor;       // that gave it
  bool last = false;        // the placement being counted is the last one
  bool can_keep = false;
  bool can_drop = false;

  bool operator==(const GatherView&) const = default;
};
// A plot of the block whose dates are tapped.
struct VisitView {
  std::string plot;
  bool reached = false;  // today or before
  bool today = false;    // said today, either way

  bool operator==(const VisitView&) const = default;
};
struct VisitsView {
  std::vector<int> blocks;
  int block = 0;
  std::vector<VisitView> plots;
  std::size_t unsaid = 0;  // plots of the block without a word of today

  bool operator==(const VisitsView&) const = default;
};
}  // namespace ligule::flow
