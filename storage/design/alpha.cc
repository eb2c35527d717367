#include "storage/design/alpha.h"

#include <algorithm>
#include <cassert>
#include <numeric>

#include "storage/design/efficiency.h"

namespace ligule::design {
namespace {

// What the search may take, in steps of its innermost loops: well under a second.
constexpr std::size_t kMostSteps = 200'000'000;
constexpr std::size_t kLeastTrials = 8;
constexpr std::size_t kMostTrials = 2000;
// Efficiencies nearer than this are one; the rest is rounding.
constexpr double kBetter = 1e-9;

constexpr std::size_t kNobody = static_cast<std::size_t>(-1);

// How often the entries of group i would meet others again in that block, were its cell so.
std::size_t meetings_again(const AlphaArray& array, std::size_t i, std::size_t block,
                           std::size_t cell) {
  std::size_t again = 0;
  const std::size_t s = array.parts;
  for (std::size_t j = 0; j < array.rows.size(); ++j) {
    if (j == i) continue;
    const std::size_t apart = (cell + s - array.rows[j][block]) % s;
    for (std::size_t b = 0; b < array.rows[i].size(); ++b)
      if (b != block && (array.rows[i][b] + s - array.rows[j][b]) % s == apart) ++again;
  }
  return again;
}

// Group and block of any cell but those of the first group and block, which may as well be 0: an
// array is the same design however its groups and blocks are counted from.
void improve(AlphaArray& array) {
  for (bool better = true; better;) {
    better = false;
    for (std::size_t i = 1; i < array.rows.size(); ++i) {
      for (std::size_t block = 1; block < array.rows[i].size(); ++block) {
        std::size_t least = meetings_again(array, i, block, array.rows[i][block]);
        for (std::size_t cell = 0; cell < array.parts; ++cell) {
          const std::size_t meetings = meetings_again(array, i, block, cell);
          if (meetings >= least) continue;
          least = meetings;
          array.rows[i][block] = cell;
          better = true;
        }
      }
    }
  }
}

AlphaArray drawn_array(std::size_t parts, std::size_t plots, std::size_t blocks, Draw& draw) {
  AlphaArray array{parts, {plots, std::vector<std::size_t>(blocks, 0)}};
  for (std::size_t i = 1; i < plots; ++i)
    for (std::size_t block = 1; block < blocks; ++block) array.rows[i][block] = draw.below(parts);
  return array;
}

// Which entry each entry of an array is. Repeats of one take one group, since entries of a group
// never share an incomplete block; those that find no such room take what is left. What is left
// over at the end of the last group is nobody.
std::vector<std::size_t> names_of(std::span<const int> repeats, std::size_t plots,
                                  std::size_t parts, Draw& draw) {
  const std::size_t groups = (plots + parts - 1) / parts;
  std::vector<std::vector<std::size_t>> room(groups);
  for (std::size_t at = 0; at < plots; ++at) room[at / parts].push_back(at);
  for (auto& places : room) draw.shuffle(places);
  std::vector<std::size_t> names(groups * parts, kNobody);
  Block others;
  for (const std::size_t entry : draw.order_of(repeats.size())) {
    const auto wanted = static_cast<std::size_t>(repeats[entry]);
    std::vector<std::size_t> fitting;
    for (std::size_t group = 0; wanted > 1 && group < groups; ++group)
      if (room[group].size() >= wanted) fitting.push_back(group);
    if (fitting.empty()) {
      others.insert(others.end(), wanted, entry);
      continue;
    }
    auto& places = room[fitting[draw.below(fitting.size())]];
    for (std::size_t i = 0; i < wanted; ++i) {
      names[places.back()] = entry;
      places.pop_back();
    }
  }
  draw.shuffle(others);
  for (const auto& places : room) {
    for (const std::size_t place : places) {
      names[place] = others.back();
      others.pop_back();
    }
  }
  return names;
}

}  // namespace

std::vector<std::vector<Block>> AlphaArray::blocks() const {
  const std::size_t count = rows.front().size();
  std::vector<std::vector<Block>> all(count, std::vector<Block>(parts));
  for (std::size_t block = 0; block < count; ++block)
    for (std::size_t group = 0; group < rows.size(); ++group)
      for (std::size_t n = 0; n < parts; ++n)
        all[block][(rows[group][block] + n) % parts].push_back(group * parts + n);
  return all;
}

std::size_t AlphaArray::repeated_meetings() const {
  std::size_t twice = 0;
  for (std::size_t i = 0; i < rows.size(); ++i)
    for (std::size_t block = 0; block < rows[i].size(); ++block)
      twice += meetings_again(*this, i, block, rows[i][block]);
  return twice / 4;  // each from both groups and from both blocks
}

// Entries and incomplete blocks share the eigenvalues of N N' and N' N but for zeros, and there are
// fewer blocks: v - rs factors are 1, the others those of the blocks' matrix, among them r of which
// one is the 0 that is left out and r - 1 are 1 (blocks are complete).
double AlphaArray::efficiency() const {
  const std::size_t r = rows.front().size();
  const std::size_t all = r * parts;
  const auto plots = static_cast<double>(rows.size());
  Matrix shared(all);
  for (std::size_t a = 0; a < r; ++a) {
    for (std::size_t b = 0; b < r; ++b) {
      for (const auto& row : rows) {
        const std::size_t apart = (row[b] + parts - row[a]) % parts;
        for (std::size_t u = 0; u < parts; ++u)
          shared.at(a * parts + u, b * parts + (u + apart) % parts) += 1;
      }
    }
  }
  const auto blocks = static_cast<double>(r);
  Matrix information(all);
  for (std::size_t a = 0; a < all; ++a)
    for (std::size_t b = 0; b < all; ++b)
      information.at(a, b) =
          (a == b ? 1.0 : 0.0) - shared.at(a, b) / (blocks * plots) + 1 / static_cast<double>(all);
  const double trace = trace_of_inverse(std::move(information));
  if (trace <= 0) return 0;
  const double entries = plots * static_cast<double>(parts);
  const double inverses = entries - static_cast<double>(all) + trace - 1;
  return (entries - 1) / inverses;
}

AlphaArray search_array(std::size_t parts, std::size_t plots, std::size_t blocks, Draw& draw) {
  const std::size_t cells = plots * blocks;
  const std::size_t all = blocks * parts;
  const std::size_t steps = 4 * cells * cells * parts + all * all * all;
  const std::size_t trials = std::clamp(kMostSteps / steps, kLeastTrials, kMostTrials);
  AlphaArray best;
  std::size_t fewest = 0;
  double highest = -1;
  const double bound = efficiency_bound(parts * plots, blocks, parts) - kBetter;
  for (std::size_t trial = 0; trial < trials && highest < bound; ++trial) {
    AlphaArray array = drawn_array(parts, plots, blocks, draw);
    improve(array);
    const std::size_t meetings = array.repeated_meetings();
    if (highest >= 0 && meetings > fewest) continue;
    const double efficiency = array.efficiency();
    if (highest >= 0 && meetings == fewest && efficiency < highest + kBetter) continue;
    fewest = meetings;
    highest = efficiency;
    best = std::move(array);
  }
  return best;
}

std::size_t parts_of(std::size_t plots, std::size_t size) {
  return (plots + size - 1) / size;
}

std::vector<std::vector<Block>> alpha_design(std::span<const int> repeats, std::size_t blocks,
                                             std::size_t parts, Draw& draw) {
  const auto plots = static_cast<std::size_t>(std::accumulate(repeats.begin(), repeats.end(), 0));
  const std::size_t largest = (plots + parts - 1) / parts;
  assert(parts >= 2 && largest >= 2 && blocks >= 2);
  const auto plain = search_array(parts, largest, blocks, draw).blocks();
  const auto names = names_of(repeats, plots, parts, draw);
  std::vector<std::vector<Block>> design;
  design.reserve(blocks);
  for (const std::size_t block : draw.order_of(blocks)) {
    std::vector<Block> drawn;
    drawn.reserve(parts);
    for (const std::size_t part : draw.order_of(parts)) {
      Block named;
      for (const std::size_t entry : plain[block][part])
        if (names[entry] != kNobody) named.push_back(names[entry]);
      draw.shuffle(named);
      drawn.push_back(std::move(named));
    }
    design.push_back(std::move(drawn));
  }
  return design;
}

}  // namespace ligule::design
