// Which standing values somebody should still look at: kept on hold, or kept although a rule asked.
// A settlement (which restates the value) closes the question. Tablet and desk go by this one rule.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "storage/trial/record.h"

namespace ligule::checks {

// What a standing value was asked about and is still to be looked at for; empty: nothing, though it
// may be on hold. Answers that the weather gave (weather.h) are none: the one value at which it was
// said is. Those that hold for a day are.
[[nodiscard]] std::vector<Answer> open_answers(const Record& standing);

// Indices of the values to be looked at, in the order given: standing claims of one trial. An
// answer that holds for a day makes a question of the earliest value of an occasion only, and of
// none where it was settled at one. A sample that is still losing water is none.
[[nodiscard]] std::vector<std::size_t> open_questions(std::span<const Record> standing);

}  // namespace ligule::checks
