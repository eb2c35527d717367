#include "storage/design/spread.h"

#include <limits>
#include <map>
#include <optional>
#include <utility>

namespace ligule::design {
namespace {

constexpr std::size_t kBeginnings = 20;
constexpr std::size_t kExchangesPerPlot = 400;

std::size_t pairs_among(std::size_t count) {
  return count < 2 ? 0 : count * (count - 1) / 2;
}

// The fewest pairs on one line when so many plots lie on so many lines.
std::size_t fewest_pairs(std::size_t plots, std::size_t lines) {
  const std::size_t each = plots / lines;
  const std::size_t more = plots % lines;
  return more * pairs_among(each + 1) + (lines - more) * pairs_among(each);
}

// The plots of a field and what stands on them.
class Field {
 public:
  Field(std::span<const Block> blocks, const Ground& ground, std::span<const GroundPlace> places)
      : rows_(ground.rows()), columns_(ground.columns()), grid_((rows_ + 2) * (columns_ + 2)) {
    of_block_.resize(blocks.size());
    for (const GroundPlace& place : places) {
      if (place.place >= blocks[place.block].size()) continue;
      const std::size_t entry = blocks[place.block][place.place];
      const Plot plot{static_cast<std::size_t>(place.row), static_cast<std::size_t>(place.column)};
      of_block_[place.block].push_back(plot);
      at(plot) = entry;
      ++in_column_[{entry, plot.column}];
      ++in_row_[{entry, plot.row}];
      ++stands_[entry];
    }
  }

  [[nodiscard]] Clusters clusters() {
    Clusters found;
    for (const auto& plots : of_block_) {
      for (const Plot& plot : plots) {
        found.side_by_side += beside(plot);
        found.across_corner += across(plot);
      }
    }
    found.side_by_side /= 2;  // each was seen from both ends
    found.across_corner /= 2;
    for (const auto& [line, count] : in_column_) found.in_one_column += pairs_among(count);
    for (const auto& [line, count] : in_row_) found.in_one_row += pairs_among(count);
    for (const auto& [entry, count] : stands_) {
      found.in_one_column -= fewest_pairs(count, columns_);
      found.in_one_row -= fewest_pairs(count, rows_);
    }
    return found;
  }

  // Exchanges two drawn plots of a drawn block unless that makes clusters worse; how much lighter
  // they are then.
  std::size_t exchange(Draw& draw) {
    const auto& plots = of_block_[draw.below(of_block_.size())];
    const Plot a = plots[draw.below(plots.size())];
    const Plot b = plots[draw.below(plots.size())];
    if (at(a) == at(b)) return 0;
    const std::size_t before = around(a) + around(b);
    swap(a, b);
    const std::size_t after = around(a) + around(b);
    if (after <= before) return before - after;
    swap(a, b);
    return 0;
  }

  [[nodiscard]] std::vector<Block> blocks() {
    std::vector<Block> blocks;
    blocks.reserve(of_block_.size());
    for (const auto& plots : of_block_) {
      Block block;
      block.reserve(plots.size());
      for (const Plot& plot : plots) block.push_back(at(plot).value_or(0));
      blocks.push_back(std::move(block));
    }
    return blocks;
  }

 private:
  struct Plot {
    std::size_t row, column;  // from 1: a margin of nothing lies around the field
  };

  std::optional<std::size_t>& at(const Plot& plot) {
    return grid_[plot.row * (columns_ + 2) + plot.column];
  }
  // How many of four neighbours hold the same.
  std::size_t beside(const Plot& plot) {
    const auto [row, column] = plot;
    return same(plot, {row - 1, column}) + same(plot, {row + 1, column}) +
           same(plot, {row, column - 1}) + same(plot, {row, column + 1});
  }
  std::size_t across(const Plot& plot) {
    const auto [row, column] = plot;
    return same(plot, {row - 1, column - 1}) + same(plot, {row - 1, column + 1}) +
           same(plot, {row + 1, column - 1}) + same(plot, {row + 1, column + 1});
  }
  std::size_t same(const Plot& plot, const Plot& other) {
    return at(other).has_value() && at(plot) == at(other) ? 1 : 0;
  }
  // The weight of all pairs that this plot is one of.
  std::size_t around(const Plot& plot) {
    const std::size_t entry = at(plot).value_or(0);
    return Clusters{beside(plot), across(plot), in_column_[{entry, plot.column}] - 1,
                    in_row_[{entry, plot.row}] - 1}
        .weight();
  }
  void swap(const Plot& a, const Plot& b) {
    for (const auto& [from, to] : {std::pair(a, b), std::pair(b, a)}) {
      const std::size_t entry = at(from).value_or(0);
      --in_column_[{entry, from.column}];
      --in_row_[{entry, from.row}];
      ++in_column_[{entry, to.column}];
      ++in_row_[{entry, to.row}];
    }
    std::swap(at(a), at(b));
  }

  std::size_t rows_, columns_;
  std::vector<std::optional<std::size_t>> grid_;
  std::vector<std::vector<Plot>> of_block_;
  // How often an entry stands in a line.
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> in_column_, in_row_;
  std::map<std::size_t, std::size_t> stands_;
};

}  // namespace

Clusters clusters_of(std::span<const Block> blocks, const Ground& ground,
                     std::span<const GroundPlace> places) {
  return Field(blocks, ground, places).clusters();
}

std::vector<Block> spread_blocks(std::span<const int> repeats, const Ground& ground, Draw& draw) {
  const auto places = places_of(ground);
  std::vector<Block> best;
  std::size_t lightest = std::numeric_limits<std::size_t>::max();
  for (std::size_t beginning = 0; beginning < kBeginnings && lightest > 0; ++beginning) {
    Field field(complete_blocks(repeats, ground.blocks, draw), ground, places);
    std::size_t weight = field.clusters().weight();
    const std::size_t exchanges = kExchangesPerPlot * ground.blocks * ground.plots;
    for (std::size_t i = 0; i < exchanges && weight > 0; ++i) weight -= field.exchange(draw);
    if (weight >= lightest) continue;
    lightest = weight;
    best = field.blocks();
  }
  return best;
}

}  // namespace ligule::design
