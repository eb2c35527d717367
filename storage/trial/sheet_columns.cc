#include "storage/trial/sheet_columns.h"

#include <algorithm>
#include <array>

#include "storage/trial/record.h"

namespace ligule {
namespace {

constexpr std::array kTakenIn{measure::kGrossWeight, measure::kTareWeight, measure::kBagNumber,
                              measure::kSampleFresh, measure::kSampleDry};
// Sides of a strip are of a whole block as often as of a plot.
constexpr std::array kOnTablet{measure::kSwathLength, measure::kSwathWidth};

TypedIn typed_in(std::string_view measure, const Scale& scale) {
  if (std::ranges::find(kTakenIn, measure) != kTakenIn.end()) return TypedIn::kTakeIn;
  const bool hangs = scale.kind == ScaleKind::kMass || scale.kind == ScaleKind::kLabel;
  if (hangs || std::ranges::find(kOnTablet, measure) != kOnTablet.end()) return TypedIn::kTablet;
  return TypedIn::kFromPaper;
}

const AsSown* statement(const Plan& plan, std::span<const AsSown> as_sown, const PlanPlot& plot) {
  const auto at = std::ranges::find(as_sown, plan.plot(plot), &AsSown::plot);
  return at == as_sown.end() ? nullptr : &*at;
}

}  // namespace

const Scale* sheet_scale(const Plan& plan, const Definitions& definitions, std::string_view measure,
                         std::string_view species) {
  if (const Scale* const own = plan.find_score(measure)) return own;
  return definitions.scale_for(measure, species);
}

std::vector<SheetColumn> sheet_columns(const Plan& plan, const PlanOccasion& occasion,
                                       const Definitions& definitions) {
  std::vector<SheetColumn> columns;
  for (const std::string& measure : occasion.measures) {
    SheetColumn column{measure, {}, TypedIn::kFromPaper};
    for (const PlanEntry& entry : plan.entries) {
      const Scale* const scale = sheet_scale(plan, definitions, measure, entry.species);
      if (scale != nullptr && std::ranges::find(column.scales, scale) == column.scales.end())
        column.scales.push_back(scale);
    }
    if (column.scales.empty()) continue;
    column.typed = typed_in(measure, *column.scales.front());
    columns.push_back(std::move(column));
  }
  std::ranges::stable_partition(columns, [](const SheetColumn& column) {
    return column.scales.front()->kind != ScaleKind::kText;
  });
  return columns;
}

const PlanEntry* entry_on(const Plan& plan, std::span<const AsSown> as_sown, const PlanPlot& plot) {
  const AsSown* const said = statement(plan, as_sown, plot);
  if (said == nullptr || said->status != AsSownStatus::kHolds) return plan.find_entry(plot.entry);
  const auto holds = std::ranges::find_if(
      plan.entries, [&](const PlanEntry& entry) { return said->holds == plan.entry(entry); });
  return holds == plan.entries.end() ? plan.find_entry(plot.entry) : &*holds;
}

bool is_on_sheet(const Plan& plan, const PlanOccasion& occasion, std::span<const AsSown> as_sown,
                 const PlanPlot& plot) {
  const AsSown* const said = statement(plan, as_sown, plot);
  if (said != nullptr && said->status == AsSownStatus::kAbandoned) return false;
  const PlanEntry* const entry = entry_on(plan, as_sown, plot);
  return entry != nullptr && occasion.is_for(entry->code);
}

}  // namespace ligule
