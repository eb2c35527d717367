// What is said about a sample bag besides its weights: the details and reasons its records carry.
// Written to disk: never change a text.
#pragma once

#include <algorithm>
#include <array>
#include <string_view>

#include "storage/trial/record.h"

namespace ligule::sample_bag {

// Details of a bag_number reading: id of the reading that first numbered the bag, where the bag
// holds plots besides the one it was numbered at.
inline constexpr std::string_view kSameBag = "same_bag";
// Details of a dried weight: how it was dried, as stated.
inline constexpr std::string_view kOvenCelsius = "oven_c";
inline constexpr std::string_view kOvenHours = "oven_hours";

// Why a bag has no dried weight: reasons of a sample_dry that is missing.
inline constexpr std::string_view kBurst = "bag_burst";
inline constexpr std::string_view kLost = "bag_lost";
inline constexpr std::string_view kUnreadable = "label_unreadable";
inline constexpr std::array kGone{kBurst, kLost, kUnreadable};
// Why a dried weight came in the place of such a reason, or of an earlier one.
inline constexpr std::string_view kFoundLater = "found_later";
inline constexpr std::string_view kRedried = "redried";

// The rule that keeps a dried weight on hold until two weighings agree, and its answer.
inline constexpr std::string_view kConstantWeight = "constant_weight";
inline constexpr std::string_view kWeighAgain = "weigh_again";

// Whether a dried weight was one of several, weighed until the sample lost no more.
[[nodiscard]] inline bool still_dries(const Record& dried) {
  return std::ranges::find(dried.answers, kConstantWeight, &Answer::rule) != dried.answers.end();
}

}  // namespace ligule::sample_bag
