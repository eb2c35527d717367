// Weights of the present plot on their way to records: typed ones and those from a scale alike.
// Shared by the parts of update; not for other rooms.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/flow/turn.h"
#include "storage/trial/details.h"

namespace ligule::flow {

struct FormLine {
  Field field;
  std::string_view measure;
};
// In the order in which they are asked for; the bag before its sample, whose subject it is.
inline constexpr std::array kForm{FormLine{Field::kGross, measure::kGrossWeight},
                                  FormLine{Field::kTare, measure::kTareWeight},
                                  FormLine{Field::kBag, measure::kBagNumber},
                                  FormLine{Field::kSampleFresh, measure::kSampleFresh}};
[[nodiscard]] const PlanPlot& present_plot(const Harvest& harvest);
// The bag's id where the plot has one already.
[[nodiscard]] std::optional<RecordId> bag_of(const Model& model, const Book& book,
                                             const PlanPlot& plot);
// Gross and tare are weighed bag by bag; everything else is of the plot's one sample.
[[nodiscard]] int part_of(const FormLine& line, int bag);
// What stands for a line of the form while that bag of the plot hangs on the scale.
[[nodiscard]] Cell line_cell(const Model& model, const Book& book, const PlanPlot& plot,
                             const FormLine& line, int on_scale);

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
                                         const WeightForm& form);
// What is said together with a weight of the form: the kind of bag, that there are weeds only.
[[nodiscard]] Details said_with(const WeightForm& form, Field field);
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
// more: another bag of the plot follows.
void take_weight(Turn& turn, bool more = false);
void type_weight(Turn& turn, bool by_hand);
void answer_moving(Turn& turn, bool average);
// Whether the load stands in the place of the pad: a scale is chosen, the plot's weight is asked
// for and nobody types it.
[[nodiscard]] bool weighs(const Model& model, const Harvest& harvest, const Weighing& weighing);

}  // namespace ligule::flow
