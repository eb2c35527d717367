// Practice: somebody rates drawn stands of known percent before the real ones, and is told how far
// off they rate. Answers are records of purpose practice (FORMAT.md section 5): no value of a plot.
// Shared by update and views; not for other rooms.
#pragma once

#include <string_view>
#include <vector>

#include "app/flow/turn.h"
#include "app/flow/views.h"

namespace ligule::flow {

inline constexpr std::size_t kPracticeStands = 10;

// Percents of a set, the same for the same seed: two from each fifth of the scale, in no order, at
// most two of them multiples of five.
[[nodiscard]] std::vector<int> drawn_stands(std::string_view seed);
// How the gaps of one of its stands lie, from 1.
[[nodiscard]] std::uint32_t lie_of(std::string_view seed, std::size_t place);

// Goes on with the set that was begun today for the rating, or begins one with other stands.
void show_practice(Turn& turn, const ShowPractice& intent);
void give_practice(Turn& turn, const ChooseValue& intent);
void take_back_practice(Turn& turn);
// Somebody else has the tablet: they rate a set of their own.
void hand_over_practice(Turn& turn);
// Back to the set whose answer is NOT SAVED, while whoever gave it has the tablet.
void return_to_practice(Turn& turn, const Act& act);
// Answers that were let go, and answers whose taking back was.
void forget_practice(Model& model, const std::vector<Act>& dropped);

// Ratings that can be practised for: of each sowing the one nearest to today.
[[nodiscard]] std::vector<PracticeOffer> practice_offers(const Model& model);
[[nodiscard]] PracticeView practice_view(const Model& model, const OnPractice& screen);

}  // namespace ligule::flow
