// What a site sheet says of the lay-out, beside what it says of the trial.
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "storage/design/lay_out.h"
#include "storage/files/faults.h"
#include "storage/files/site_sheet.h"

namespace ligule::desk {

// The lines of a site sheet that are no columns of the trial. species: of entries whose list states
// none. blocks: of design latin it may stay out, of design crd it is in how many plots an entry
// stands. plots_per_row: how wide a block is (without: all its plots in one row). field_width and
// field_depth: the ground there is, as 200 ft.
inline constexpr std::array<std::string_view, 10> kLayOutLines{
    "species",      "blocks",    "plots_per_row", "blocks_side_by_side", "incomplete_block_size",
    "start_corner", "direction", "numbering",     "field_width",         "field_depth"};

// file: the sheet's name, for what is missing; repeats: how often each entry stands in a block.
// Every fault at its line.
[[nodiscard]] files::Checked<design::LayOutWish> lay_out_wish(const files::SiteSheet& sheet,
                                                              const std::string& file,
                                                              std::vector<int> repeats);

// Where the trial, with alleys and border, is larger than the field that the sheet states; and
// sizes of the field that can't be read.
[[nodiscard]] files::Faults beyond_field(const files::SiteSheet& sheet, const Plan& plan);

}  // namespace ligule::desk
