// Whether a person stands where the program thinks: at every turn of the plot path the number on
// the stake is asked for, because a plot missed or rated twice shows only there.
//
// That the way from one lane to the next is where people and forms part is common practice, no
// source.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "app/flow/book.h"

namespace ligule::flow {

// Places (from 0) where the path turns, of plots along the path: the first plot, the first of every
// lane (field row or column) and block, and the last plot, after which nothing would tell any more.
[[nodiscard]] std::vector<std::size_t> stake_places(std::span<const PlanPlot> along_path,
                                                    PathAlong along);

// The occasion in which a value could be given now: a card or a form is open. Null: elsewhere.
[[nodiscard]] Book* entry_book(Screen& screen);
[[nodiscard]] const Book* entry_book(const Screen& screen);

// Whether the stake is to be named before anything is entered: the present plot is a turn of the
// path, something is open on it, and this person was not asked about it today; or the way led there
// from elsewhere (Looks::stake).
[[nodiscard]] bool stake_asked(const Model& model, const Book& book);

// Whether the question, or what came of it, stands in the place of the pad.
[[nodiscard]] bool stake_in_the_way(const Model& model);

// How far apart two stakes may be for values between them to count as slipped: further on somebody
// began in another place.
inline constexpr int kMostSlipped = 3;

// What may sit off when a person stands at place `named` while `model` is at the present one: the
// plots that got a value from them since they last agreed. Empty: nothing was given since, or it is
// further than kMostSlipped.
[[nodiscard]] std::optional<Slipped> slipped(const Model& model, const Book& book,
                                             std::size_t named);

}  // namespace ligule::flow
