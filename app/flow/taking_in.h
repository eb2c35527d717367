// Taking in another tablet's season file in the field. For this room only.
#pragma once

#include "app/flow/turn.h"

namespace ligule::flow {

void check_file(Turn& turn, Trials& trials, const std::string& path);
void take_file(Turn& turn, Trials& trials);
void season_file_read(Turn& turn, SeasonFileRead outcome);
void season_file_faulty(Turn& turn, SeasonFileFaulty outcome);
void gathered_here(Turn& turn, GatheredHere outcome);
void not_gathered_here(Turn& turn, const NotGatheredHere& outcome);

}  // namespace ligule::flow
