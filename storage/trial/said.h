// What is said together with a weight: keys of its details. Written to disk: never change a text.
#pragma once

#include <string>
#include <string_view>

namespace ligule::said {

// Of a gross weight: nothing that was sown is in it.
inline constexpr std::string_view kWeeds = "weeds";
inline constexpr std::string_view kOnly = "only";
// Of a tare: the kind of bag or bin that it is of.
inline constexpr std::string_view kBagKind = "bag_kind";

// The details that stay true when only the number is put right: these and how a sample was dried,
// not how a scale was read.
[[nodiscard]] std::string still_said(std::string_view details);
// Whether a gross weight says that it is weeds only.
[[nodiscard]] bool weeds_only(std::string_view details);

}  // namespace ligule::said
