// Labels of stakes and seed packets: sheets to print at their size and cut, one label a plot with a
// code that the tablet reads.
#pragma once

#include <cstddef>
#include <string>

#include "storage/trial/plan.h"
#include "sync/print/page.h"
#include "sync/print/planting_list.h"
#include "sync/print/sowing.h"

namespace ligule::print {

enum class LabelFor { kStakes, kPackets };
// Along the plot path as stakes are set, or entry by entry as packets are filled.
enum class LabelOrder { kPath, kEntry };

struct LabelSheets {
  LabelFor what = LabelFor::kStakes;
  LabelOrder order = LabelOrder::kPath;
  Names names = Names::kBlind;
  Paper paper = Paper::kLetter;
  std::size_t columns = 3;
  std::size_t rows = 8;
};

struct PrintedLabels {
  std::string page;  // the document
  std::size_t labels = 0;
  std::size_t sheets = 0;
  double width = 0, height = 0;  // of a label, millimetres
};

// Each label holds trial, plot, block, entry and a code (stake_text()); a packet's also seed lot
// and weight, an open one's variety and endophyte. Blind stakes hold nothing that tells a variety.
// kInvalid where labels of that size have no room for their words, or for a code whose squares a
// scanner can tell apart.
[[nodiscard]] Result<PrintedLabels> label_sheets(const Plan& plan, const Sowing& sowing,
                                                 const LabelSheets& wanted);

}  // namespace ligule::print
