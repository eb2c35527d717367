// The text of the code on a stake or a seed packet: which trial, and which of its plots.
//
// "TF24/107". The trial goes with the number because stakes of several trials stand in one field
// and all of them have a plot 107. No code of a trial or plot holds the stroke between them.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace ligule {

struct StakeCode {
  std::string trial;
  std::string plot;

  bool operator==(const StakeCode&) const = default;
};

[[nodiscard]] std::string stake_text(std::string_view trial, std::string_view plot);
// Empty where it is not a trial's code, one stroke and a plot's number.
[[nodiscard]] std::optional<StakeCode> parse_stake_text(std::string_view text);

// Of a text read by a scanner that types as a keyboard: what follows "TRIAL/", or "TRIAL-", which a
// keyboard set to Spanish, Portuguese or German makes of it, since the stroke of an American
// keyboard lies where theirs have the hyphen. Empty where it does not begin so.
[[nodiscard]] std::optional<std::string_view> plot_scanned_in(std::string_view trial,
                                                              std::string_view text);

}  // namespace ligule
