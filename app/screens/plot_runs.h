// Many plot numbers, short enough to be read. Inside this room only.
#pragma once

#include <span>
#include <string>
#include <vector>

namespace ligule::screens {

// Numbers in their order, each by itself, but three and more that follow each other up or down by
// one as a run: "204–201, 301–312, 405". Numbers that are no whole numbers stand by themselves.
[[nodiscard]] std::vector<std::string> plot_runs(std::span<const std::string> numbers);

}  // namespace ligule::screens
