// What a plan says of the seed of its entries: the endophyte and its test, how old a lot is, how
// much of it is alive and pure, and names that are easily taken for one another.
#pragma once

#include <array>
#include <string_view>

#include "storage/files/plan_check.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule::files {

// What limits.json may limit of seed, in percent. Only the end that is named is read.
namespace seed {
inline constexpr std::string_view kGermination = "germination";  // with hard seed; ask_below
inline constexpr std::string_view kPurity = "purity";            // ask_below
// In how many of a hundred a test found the endophyte: of novel and toxic entries (ask_below), and
// of those called free (ask_above).
inline constexpr std::string_view kEndophyteCarried = "endophyte_carried";
inline constexpr std::string_view kEndophyteFree = "endophyte_free";
inline constexpr std::array kLimited{kGermination, kPurity, kEndophyteCarried, kEndophyteFree};
}  // namespace seed

// Faults: percents that are none, germination and hard seed that come to more than 100, an
// endophyte or a test of one for a species without, a strain of nothing, seed harvested after it
// was sown. Notices, which fillers never draw:
// - what leaves it open which endophyte was sown: no status, a novel one without its strain, a
//   strain in the variety's name, since seed of the variety alone may be endophyte-free;
// - a test that does not fit the status, or lacks its date or percent, or is older than the seed;
// - a novel entry whose seed was harvested more than a year before sowing, or nobody knows when,
//   unless a test of the year before sowing or later found the endophyte. It dies before the seed
//   does, most of it within a year in a barn: C. Roberts, "5 things to know about the fescue
//   endophyte", Progressive Forage, 12 July 2017;
// - germination and purity below the species' limits;
// - two names that are alike (alike_names.h), two entries of one seed lot.
[[nodiscard]] PlanFindings check_seed(const Plan& plan, const Definitions& definitions,
                                      const PlanPlaces& places);

}  // namespace ligule::files
