// Weights of the present plot on their way to records: typed ones and those from a scale alike.
// Shared by the parts of update; not for other rooms.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/flow/turn.h"
#include "storage/trial/details.h"

namespace ligule::flow {

// One line of the form about to be kept.
struct LineEntry {
  Field field;
  std::string_view measure;
  std::string text;
  std::string unit = {};  // empty: that of the value standing there, else the person's
  Source source = Source::kTyped;
  std::string raw = {};
  Details details = {};
};

// What the rules may look at for the form as it stands.
[[nodiscard]] checks::History history_of(const Turn& turn, const Harvest& harvest,
                                         const Keypad& form);
// The entries as drafts for the present plot, without what stands already; false: one was refused,
// and that was told.
[[nodiscard]] bool draft_lines(Turn& turn, Harvest& harvest, Weighing& weighing,
                               std::span<const LineEntry> entries, checks::History history,
                               std::vector<Draft>& drafts);
// Tells why a weight is not taken, and opens its field.
void refuse(Turn& turn, Weighing& weighing, Field field, const std::string& key,
            const std::vector<std::string>& arguments = {});

// take_weight.cc
void load_told(Turn& turn, LoadTold outcome);
void take_weight(Turn& turn);
void type_weight(Turn& turn, bool by_hand);
void answer_moving(Turn& turn, bool average);
// Whether the load stands in the place of the pad: a scale is chosen, the plot's weight is asked
// for and nobody types it.
[[nodiscard]] bool weighs(const Model& model, const Harvest& harvest, const Weighing& weighing);

}  // namespace ligule::flow
