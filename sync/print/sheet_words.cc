#include "sync/print/sheet_words.h"

#include <algorithm>

#include "storage/trial/number.h"
#include "storage/trial/record.h"
#include "sync/results/labels.h"

namespace ligule::print {
namespace {

constexpr double kBox = 17;  // one value of a few figures
constexpr double kReading = 11.5, kShare = 12.5, kPlacement = 11;
constexpr double kCounts = 55, kNote = 45, kTick = 15;

std::string with_name(const ScaleStep& step) {
  return step.name.empty() ? step.code : step.code + " " + step.name;
}

std::string readings_of(const Scale& scale, const std::string& unit) {
  return scale.readings == 1 ? unit : std::to_string(scale.readings) + " readings, " + unit;
}

std::string how_filled_in(const SheetColumn& column, const std::string& unit) {
  const Scale& scale = *column.scales.front();
  if (column.scales.size() > 1) return "see the key";
  switch (scale.kind) {
    case ScaleKind::kScore:
      return with_name(scale.steps.front()) + " to " + with_name(scale.steps.back());
    case ScaleKind::kStages:
      return "a code of the key, " + scale.steps.front().code + " to " + scale.steps.back().code;
    case ScaleKind::kReached:
      return "x reached, o not yet";
    case ScaleKind::kShares: {
      std::string parts;
      for (const ScaleStep& step : scale.steps)
        parts.append(parts.empty() ? "" : " + ").append(step.name.empty() ? step.code : step.name);
      return parts + " = 100 %";
    }
    case ScaleKind::kCounts:
      return "each stage and how many of it";
    case ScaleKind::kCells:
      return "cells that hold a plant, of " + format_number(scale.maximum.value_or(0)) +
             " at each placement";
    case ScaleKind::kPercent:
      return format_number(scale.minimum.value_or(0)) + " to " +
             format_number(scale.maximum.value_or(100)) + " %";
    case ScaleKind::kLength:
      return readings_of(scale, unit);
    case ScaleKind::kMass:
      return unit;
    case ScaleKind::kLabel:
      return "as on the bag";
    case ScaleKind::kText:
      return "words";
  }
  return {};
}

int boxes_of(const Scale& scale) {
  if (scale.kind == ScaleKind::kShares) return static_cast<int>(scale.steps.size());
  const bool read = scale.kind == ScaleKind::kLength || scale.kind == ScaleKind::kCells;
  return read ? scale.readings : 1;
}

double width_of(const Scale& scale, int boxes) {
  switch (scale.kind) {
    case ScaleKind::kLength:
      return std::max(kBox, kReading * boxes);
    case ScaleKind::kShares:
      return kShare * boxes;
    case ScaleKind::kCells:
      return kPlacement * boxes;
    case ScaleKind::kCounts:
      return kCounts;
    case ScaleKind::kText:
      return kNote;
    case ScaleKind::kReached:
      return kTick;
    default:
      return kBox;
  }
}

std::string in_trade_words(const std::string& measure) {
  if (measure == measure::kGrossWeight) return "Gross weight";
  if (measure == measure::kSampleFresh) return "Sample, fresh";
  if (measure == measure::kSampleDry) return "Sample, dried";
  return results::headed(results::in_words(measure));
}

}  // namespace

std::string sheet_unit(const Scale& scale, const std::string& unit) {
  if (std::ranges::find(scale.units, unit) != scale.units.end()) return unit;
  return scale.units.empty() ? std::string() : scale.units.front();
}

SheetHeading sheet_heading(const SheetColumn& column, const std::string& unit) {
  const Scale& scale = *column.scales.front();
  SheetHeading heading;
  heading.name = scale.name.empty() ? in_trade_words(column.measure) : scale.name;
  heading.how = how_filled_in(column, sheet_unit(scale, unit));
  if (scale.direction != Direction::kNone) heading.better = name_of(scale.direction);
  heading.boxes = boxes_of(scale);
  heading.width = width_of(scale, heading.boxes);
  return heading;
}

std::string steps_in_words(const Scale& scale) {
  const bool listed = scale.kind == ScaleKind::kStages || scale.kind == ScaleKind::kCounts ||
                      scale.kind == ScaleKind::kScore;
  if (!listed) return {};
  std::string list;
  for (const ScaleStep& step : scale.steps) {
    if (scale.kind == ScaleKind::kScore && step.name.empty()) continue;
    list.append(list.empty() ? "" : ", ").append(with_name(step));
  }
  return list;
}

}  // namespace ligule::print
