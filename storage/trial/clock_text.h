// An hour of the clock as people write it: "14:30", "1430", "2:30 pm", "2 pm", "2:30 p. m.".
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace ligule {

// Minutes since midnight; nothing where the text is no hour of a clock. A bare number of one or two
// digits is none: it may be meant either way.
[[nodiscard]] std::optional<std::chrono::minutes> parse_clock(std::string_view text);
// "14:30".
[[nodiscard]] std::string clock_text(std::chrono::minutes since_midnight);

}  // namespace ligule
