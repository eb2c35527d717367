// What is gathered for one act before it is kept: heights, tapped cells, shares, counted stages.
// Inside this room only.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "app/flow/turn.h"

namespace ligule::flow {

// What is gathered of a measure on a plot; empty: nothing is begun.
[[nodiscard]] std::vector<Piece> begun_of(const Rating& rating, const std::string& plot,
                                          const std::string& measure);

// --- how pieces become numbers
// Shares that are stated, "" for the others; where one is left it holds the rest.
struct Share {
  int percent = 0;
  bool known = false;
  bool rest = false;  // filled up to 100, not stated
};
[[nodiscard]] std::vector<Share> shares_of(const Scale& scale, std::span<const Piece> pieces);
// Of shares that stand ("sown=60 weed=25 bare=15").
[[nodiscard]] std::vector<Share> shares_in(const Scale& scale, std::string_view entered);
// The most a part can be beside what else is stated.
[[nodiscard]] int most_of(const Scale& scale, std::span<const Piece> pieces, std::string_view part);
// Stems or tillers at each step.
[[nodiscard]] std::vector<double> counts_of(const Scale& scale, std::span<const Piece> pieces);
// Cells of a placement that hold a plant.
[[nodiscard]] int held(std::string_view placement);
[[nodiscard]] std::size_t cells_of(const Scale& scale);

// The part the tiles speak of: as chosen, else the first that is not stated.
[[nodiscard]] std::string part_shown(const Rating& rating, const Scale& scale,
                                     std::span<const Piece> pieces);

// The block whose dates are tapped.
[[nodiscard]] int block_shown(const Rating& rating);

// --- what a person does
// One more of several heights; the last one keeps them all.
void add_reading(Turn& turn, Rating& rating, const ChooseValue& intent, Source source);

// Forgets what an act has made of pieces.
void forget_begun(Rating& rating, const Act& act);

}  // namespace ligule::flow
