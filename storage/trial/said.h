// What claims say: what is said together with a weight (keys of its details, written to disk: never
// change a text), and whether two of them say the same.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "storage/trial/quantity.h"
#include "storage/trial/record.h"

namespace ligule::said {

// Of a gross weight: nothing that was sown is in it.
inline constexpr std::string_view kWeeds = "weeds";
inline constexpr std::string_view kOnly = "only";
// Of a gross weight that counts as zero: somebody looked again, and nothing grew there.
inline constexpr std::string_view kZero = "zero";
inline constexpr std::string_view kConfirmed = "confirmed";
// Of a gross weight without a tare that the plan asks for: rule and answer that there is none to
// take off.
inline constexpr std::string_view kTareMissing = "tare_missing";
inline constexpr std::string_view kBinReadsZero = "bin_reads_zero";
// Of a tare: the kind of bag or bin that it is of.
inline constexpr std::string_view kBagKind = "bag_kind";

// Of an occasion that somebody declares done (kind closed): only what they rate as second person.
inline constexpr std::string_view kClosedAs = "as";
inline constexpr std::string_view kSecond = "second";
// The answer to each odd thing that was told when it was closed all the same; the details tell
// under its code of what measure and plots.
inline constexpr std::string_view kClosedSo = "closed_so";
// Whether such a record closes a second rating alone, not the occasion.
[[nodiscard]] bool closes_second(const Record& closed);

// The details that stay true when only the number is put right: these and how a sample was dried,
// not how a scale was read.
[[nodiscard]] std::string still_said(std::string_view details);
// Whether a gross weight says that it is weeds only.
[[nodiscard]] bool weeds_only(std::string_view details);

// Whether a gross weight says that its zero was confirmed.
[[nodiscard]] bool zero_confirmed(std::string_view details);

// The mass that a record states; nothing where it states no number, or one in a unit of no mass.
[[nodiscard]] std::optional<Kilograms> mass_of(const Record& record);

// Whether two claims of one slot say the same, by FORMAT.md section 5: state, value and its unit;
// what has no value (words, labels) and what is several numbers as it was entered; of a gross
// weight also whether it is weeds only.
[[nodiscard]] bool the_same(const Record& a, const Record& b);

}  // namespace ligule::said
