// What is known of sowing each species, and whether a plan sows as is usual. Of the desk: once a
// tablet holds a plan, the seed is in the ground.
#pragma once

#include <span>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "storage/trial/plan.h"
#include "storage/trial/seed.h"

namespace ligule::files {

// The members `seed` of species.json below the assets folder, in the file's order; a species
// without one is left out. Lists every fault: the file missing or unreadable, no range of rates or
// one with its ends out of order or not above zero, seeds_per_lb that is not above zero, another
// unit than lb/acre or kg/ha, no source, a key that nothing reads.
[[nodiscard]] Checked<std::vector<SpeciesSeed>> load_species_seed(FileSystem& files,
                                                                  const Path& assets);

// Null: nothing is known of it.
[[nodiscard]] const SpeciesSeed* find_seed(std::span<const SpeciesSeed> all,
                                           std::string_view species);

// What may be meant and is to be looked at: a sowing rate without its unit or of zero; one below
// half of the species' usual range or above twice of it (how far is too far: common practice, no
// source), with who says what is usual.
[[nodiscard]] Faults sowing_notices(const Plan& plan, std::span<const SpeciesSeed> all);

}  // namespace ligule::files
