#include "sync/print/sheet_layout.h"

#include <algorithm>
#include <cmath>

namespace ligule::print {
namespace {

// Lines break between words, and so before the width is used up.
constexpr double kLeftAtTheEnd = 1.12;

double height_of(const SheetStep& step, bool first) {
  return kRowHeight + (first || step.lane || step.block ? kBandHeight : 0);
}

double height_of(std::span<const SheetStep> steps) {
  double height = 0;
  for (std::size_t n = 0; n < steps.size(); ++n) height += height_of(steps[n], n == 0);
  return height;
}

// On the sheet that comes after so many.
double room_after(std::size_t sheets, const SheetRoom& room) {
  return sheets == 0 ? room.first : room.others;
}

std::vector<SheetRun> filled(std::span<const SheetStep> steps, const SheetRoom& room) {
  std::vector<SheetRun> runs;
  double used = 0;
  for (std::size_t n = 0; n < steps.size(); ++n) {
    const double height = height_of(steps[n], false);
    if (runs.empty() || used + height > room_after(runs.size() - 1, room)) {
      runs.push_back({n, 0});
      used = height_of(steps[n], true);
    } else {
      used += height;
    }
    ++runs.back().count;
  }
  return runs;
}

// Whole lanes only; empty where one of them has no room.
std::vector<SheetRun> by_lanes(std::span<const SheetStep> steps, const SheetRoom& room) {
  std::vector<SheetRun> runs;
  for (std::size_t from = 0; from < steps.size();) {
    std::size_t to = from + 1;
    while (to < steps.size() && !steps[to].lane) ++to;
    const bool joins =
        !runs.empty() && height_of(steps.subspan(runs.back().first, to - runs.back().first)) <=
                             room_after(runs.size() - 1, room);
    if (!joins) {
      if (height_of(steps.subspan(from, to - from)) > room_after(runs.size(), room)) return {};
      runs.push_back({from, 0});
    }
    runs.back().count += to - from;
    from = to;
  }
  return runs;
}

}  // namespace

std::vector<SheetRun> split_into_sheets(std::span<const SheetStep> steps, const SheetRoom& room) {
  std::vector<SheetRun> full = filled(steps, room);
  std::vector<SheetRun> lanes = by_lanes(steps, room);
  return !lanes.empty() && lanes.size() <= full.size() ? lanes : full;
}

int lines_in(std::string_view text, double width, double per_character) {
  const double wanted = static_cast<double>(text.size()) * per_character * kLeftAtTheEnd;
  return std::max(1, static_cast<int>(std::ceil(wanted / width)));
}

}  // namespace ligule::print
