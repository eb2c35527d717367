// Colours for amounts on a map.
#pragma once

#include <cstdint>

namespace ligule::touch {

// The colour of a share from 0 (low) to 1 (high); others are held to the ends. Even to the eye,
// rising in lightness all the way, so that it reads without colour vision and in grey: the viridis
// ramp (S. van der Walt and N. Smith, released under CC0), straight between five of its colours.
[[nodiscard]] std::uint32_t amount_rgb(double share);

// The colour of a change: 0 and 1 are as far below and above the middle, 0.5. Pale in the middle
// and evenly darker to both ends, blue below and brown above: nearly every eye tells those two
// apart, whatever it sees of red and green. Colours of our own.
[[nodiscard]] std::uint32_t change_rgb(double share);

}  // namespace ligule::touch
