#include "sync/desk/lay_out_told.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "storage/trial/field_ground.h"
#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"
#include "sync/desk/ledgers.h"

namespace ligule::desk {
namespace {

// Width and depth of the ground with alleys and border, in the unit that plots are measured in.
std::string ground_size(const Plan& plan) {
  const FieldGround ground = ground_of(plan);
  const std::string& unit = plan.plot_length.unit;
  const double size = length_in(1, unit).value_or(Metres(1)).value();
  return format_fixed(ground.width.value() / size, 1) + " " + unit + " wide, " +
         format_fixed(ground.depth.value() / size, 1) + " " + unit + " deep";
}

void tell_parts(const design::LaidOut::Parts& parts, std::ostream& out) {
  out << parts.count << " incomplete blocks of " << parts.largest;
  if (parts.smallest != parts.largest) out << " or " << parts.smallest;
  out << " plots in each block; two entries stand in "
      << counted(static_cast<std::int64_t>(parts.most_meets), "incomplete block")
      << " together at most\naverage efficiency factor " << format_fixed(parts.efficiency, 4)
      << " (complete blocks: 1; no design of these sizes exceeds " << format_fixed(parts.bound, 4)
      << ")\n";
}

// Where an incomplete block begins in one row of the field and ends in another.
bool is_cut(const design::LaidOut& laid) {
  std::map<std::pair<int, int>, std::set<int>> rows, columns;
  for (const design::LaidPlot& plot : laid.plots) {
    if (plot.incomplete_block == 0) continue;
    rows[{plot.block, plot.incomplete_block}].insert(plot.row);
    columns[{plot.block, plot.incomplete_block}].insert(plot.column);
  }
  return std::ranges::any_of(rows, [&](const auto& part) {
    return part.second.size() > 1 && columns[part.first].size() > 1;
  });
}

}  // namespace

void tell_lay_out(const Plan& plan, const design::LaidOut& laid, std::ostream& out) {
  const auto size = [](std::size_t count) { return static_cast<std::int64_t>(count); };
  const std::size_t entries = static_cast<std::size_t>(std::ranges::count_if(
      plan.entries, [](const PlanEntry& entry) { return entry.role != EntryRole::kFiller; }));
  out << "trial " << plan.codes.station << '/' << plan.codes.site << '/' << plan.codes.trial << ": "
      << entries << " entries, design " << plan.design << ", "
      << counted(size(laid.ground.blocks), "block") << " of " << laid.ground.places() << " plots, "
      << counted(size(laid.plots.size()), "plot");
  if (laid.fillers > 0) out << " with " << counted(size(laid.fillers), "filler");
  out << "\nseed " << plan.random_seed
      << ", kept in the plan: with it the same list and sheet give "
      << "the same plots\n";
  if (laid.parts) tell_parts(*laid.parts, out);
  out << "ground: " << counted(size(laid.ground.rows()), "row") << " of "
      << counted(size(laid.ground.columns()), "plot") << ", " << ground_size(plan)
      << " with alleys and border\n";
}

std::vector<Error> odd_in_lay_out(const Plan& plan, const design::LaidOut& laid) {
  std::vector<Error> odd;
  const auto add = [&](std::string what, const char* mend) {
    odd.push_back({ErrorKind::kInvalid, std::move(what), "trial " + plan.codes.trial, mend});
  };
  const std::size_t touching = laid.clusters.side_by_side;
  if (touching > 0)
    add("plots of one entry touch in " + counted(static_cast<std::int64_t>(touching), "place") +
            ", as chance had it",
        "design row_column keeps them apart");
  if (plan.design == "row_column" && laid.clusters.in_one_column > 0)
    add("entries stand in one column more often than they must " +
            counted(static_cast<std::int64_t>(laid.clusters.in_one_column), "time"),
        "wider rows leave more room to spread them");
  if (is_cut(laid))
    add("the end of a row cuts incomplete blocks in two",
        "make plots_per_row a multiple of incomplete_block_size, or number in a serpentine");
  if (laid.fillers > 0 && std::ranges::any_of(plan.entries, [](const PlanEntry& entry) {
        return entry.role == EntryRole::kFiller && entry.variety == kNamelessFiller;
      }))
    add("nobody said what is sown in the fillers",
        "add an entry with the role filler to the list, or make plots_per_row part a block evenly");
  return odd;
}

std::string field_map(const Plan& plan) {
  std::map<std::pair<int, int>, std::string> cells;
  int rows = 0;
  int columns = 0;
  std::size_t width = 0;
  for (const PlanPlot& plot : plan.plots) {
    std::string& cell = cells[{plot.row, plot.column}];
    cell = plot.number;
    cell += ' ';
    cell += plot.entry;
    width = std::max(width, cell.size());
    rows = std::max(rows, plot.row);
    columns = std::max(columns, plot.column);
  }
  std::string map;
  for (int row = rows; row >= 1; --row) {
    std::string line = "  row " + std::to_string(row);
    line.resize(std::max<std::size_t>(line.size(), 9), ' ');
    for (int column = 1; column <= columns; ++column) {
      std::string cell = cells[{row, column}];
      cell.resize(width, ' ');
      line += "  ";
      line += cell;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    map += line;
    map += '\n';
  }
  return map;
}

}  // namespace ligule::desk
