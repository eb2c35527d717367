#include "storage/trial/sown_now.h"

#include <algorithm>
#include <cstddef>
#include <map>

namespace ligule {
namespace {

struct Statement {
  AsSown said;
  std::size_t place = 0;  // in the order of recording
};

bool says_the_same(const AsSown& a, const AsSown& b) {
  return a.status == b.status && a.holds == b.holds;
}

// statements: of one plot, at least one.
AsSown now_of(std::vector<Statement> statements) {
  std::ranges::stable_sort(statements, {}, [](const Statement& one) { return one.said.since; });
  const Statement& newest = statements.back();
  AsSown now = newest.said;
  for (auto at = statements.rbegin(); at != statements.rend(); ++at) {
    if (!says_the_same(at->said, newest.said)) break;
    if (at->place > newest.place) now = at->said;
  }
  return now;
}

}  // namespace

std::vector<AsSown> sown_now(const std::vector<AsSown>& recorded) {
  std::map<PlotId, std::vector<Statement>> of_plots;
  for (std::size_t place = 0; place < recorded.size(); ++place)
    of_plots[recorded[place].plot].push_back({recorded[place], place});
  std::vector<AsSown> now;
  now.reserve(of_plots.size());
  for (const auto& [plot, statements] : of_plots) now.push_back(now_of(statements));
  return now;
}

}  // namespace ligule
