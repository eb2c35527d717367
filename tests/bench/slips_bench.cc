// How often weights with nothing wrong are asked about, and how often planted slips are, in
// harvesting order: each plot is judged from those before it only.
//
// Every rule is held to the same 2 false alarms in 100 weights that it tells something of, so that
// rules can be compared; what the tablet's own range does without that is printed first. Two lines
// a rule: percent caught of the weights that it tells something of, and of all. What the tablet has
// is marked with a star. Random but the same in every run.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <functional>
#include <string>
#include <vector>

#include "storage/checks/expected_weight.h"
#include "storage/checks/lane_shift.h"
#include "tests/bench/season.h"
#include "tests/bench/weight_rules.h"
#include "tests/storage/checks/planted_shift.h"

namespace {

using namespace ligule;
using bench::Knows;
using bench::Season;
using bench::Tells;

constexpr double kFalseAlarms = 0.02;
constexpr double kPounds = 0.45359237;  // kg, exact

// What was written instead of the plot's weight; empty where the slip would change nothing.
using Slip = std::function<std::optional<double>(const std::vector<double>&, std::size_t)>;

std::optional<double> digits_swapped(double weight) {
  std::string text = std::to_string(std::lround(weight * 10));
  if (text.size() < 2) return std::nullopt;
  const std::size_t at = text[0] != text[1] ? 0 : 1;
  if (at + 1 >= text.size() || text[at] == text[at + 1]) return std::nullopt;
  std::swap(text[at], text[at + 1]);
  return std::stod(text) / 10;
}

const std::vector<std::pair<const char*, Slip>>& slips() {
  const auto times = [](double factor) {
    return [factor](const std::vector<double>& weights, std::size_t n) {
      return std::optional(weights[n] * factor);
    };
  };
  static const std::vector<std::pair<const char*, Slip>> all{
      {"+40%", times(1.4)},
      {"-40%", times(0.6)},
      {"digits", [](const auto& weights, std::size_t n) { return digits_swapped(weights[n]); }},
      {"kg as lb", times(kPounds)},
      {"lb as kg", times(1 / kPounds)},
      {"neighbour",
       [](const auto& weights, std::size_t n) {
         return n + 1 < weights.size() ? std::optional(weights[n + 1]) : std::nullopt;
       }},
      {"x 10", times(10)},
      {"/ 10", times(0.1)}};
  return all;
}

// Scores of one rule over many cuttings: how many deviations off, with and without slips.
struct Scores {
  std::vector<double> honest;
  std::vector<std::vector<double>> planted = std::vector<std::vector<double>>(slips().size());
  // Of weights that nothing was told of too.
  std::vector<std::size_t> possible = std::vector<std::size_t>(slips().size());
  std::size_t weights = 0;

  void add(const Season& season, const Tells& tells) {
    const std::vector<double>& net = season.cuttings.back();
    weights += net.size();
    for (std::size_t n = 0; n < net.size(); ++n) {
      for (std::size_t slip = 0; slip < slips().size(); ++slip)
        possible[slip] += slips()[slip].second(net, n) ? 1U : 0U;
      if (!tells[n]) continue;
      const auto off = [&](double weight) {
        return std::fabs(weight - tells[n]->middle) / tells[n]->deviation;
      };
      honest.push_back(off(net[n]));
      for (std::size_t slip = 0; slip < slips().size(); ++slip)
        if (const auto written = slips()[slip].second(net, n))
          planted[slip].push_back(off(*written));
    }
  }
};

double percent_above(const std::vector<double>& scores, double limit) {
  const auto above = std::ranges::count_if(scores, [&](double score) { return score > limit; });
  return scores.empty() ? 0
                        : 100.0 * static_cast<double>(above) / static_cast<double>(scores.size());
}

double limit_of(std::vector<double> honest) {
  if (honest.empty()) return 0;
  std::ranges::sort(honest);
  return honest[static_cast<std::size_t>((1 - kFalseAlarms) *
                                         static_cast<double>(honest.size() - 1))];
}

void head(const char* first) {
  std::printf("%-36s %5s %6s", first, "told", "false");
  for (const auto& [name, slip] : slips()) std::printf(" %9s", name);
  std::printf("\n");
}

void line(const std::string& name, const Scores& scores, double limit) {
  std::printf(
      "%-36s %4.0f%% %5.1f%%", name.c_str(),
      100.0 * static_cast<double>(scores.honest.size()) / static_cast<double>(scores.weights),
      percent_above(scores.honest, limit));
  for (const std::vector<double>& planted : scores.planted)
    std::printf(" %8.0f%%", percent_above(planted, limit));
  std::printf("\n%-36s %5s %6s", "    of all weights", "", "");
  for (std::size_t slip = 0; slip < slips().size(); ++slip) {
    const std::vector<double>& planted = scores.planted[slip];
    const auto caught = percent_above(planted, limit) * static_cast<double>(planted.size());
    std::printf(" %8.0f%%",
                caught / static_cast<double>(std::max<std::size_t>(1, scores.possible[slip])));
  }
  std::printf("\n");
}

struct Rule {
  const char* name;
  std::function<Tells(const Season&)> tells;
};

const std::vector<Rule>& rules() {
  const auto level = [](Knows knows) {
    return [knows](const Season& season) { return bench::by_level(season, knows); };
  };
  static const std::vector<Rule> all{
      {"* the tablet", [](const Season& season) { return bench::as_tablet(season); }},
      {"as now, no stand", [](const Season& season) { return bench::as_now(season, false); }},
      {"as now, stand", [](const Season& season) { return bench::as_now(season, true); }},
      {"level of block, stand", level({true, false, false})},
      {"level of last nine, stand", level({true, true, false})},
      {"last nine, stand, earlier", level({true, true, true})},
      {"season_weight, no stand",
       [](const Season& season) { return bench::by_season(season, false); }},
      {"season_weight, stand", [](const Season& season) { return bench::by_season(season, true); }},
      {"who knew all but chance", bench::by_truth}};
  return all;
}

void drawn(const bench::Chance& chance, int seasons) {
  std::mt19937 random(2026);
  std::vector<Scores> scores(rules().size());
  for (int n = 0; n < seasons; ++n) {
    const Season season = bench::draw_season(chance, random);
    for (std::size_t rule = 0; rule < rules().size(); ++rule)
      scores[rule].add(season, rules()[rule].tells(season));
  }
  std::printf(
      "\nerror CV %.0f %%, %.0f %% of it lasting, %d entries in %d blocks, cutting %d, %d times\n",
      100 * chance.cv, 100 * chance.persistent, chance.entries, chance.blocks, chance.cuttings,
      seasons);
  head("rule");
  line("* the tablet, its own range", scores.front(), checks::kSpreads);
  for (std::size_t rule = 0; rule < rules().size(); ++rule)
    line(rules()[rule].name, scores[rule], limit_of(scores[rule].honest));
}

void published(const char* folder) {
  std::printf("\npublished tables, orders drawn 40 times, the tablet's rule at its own range\n");
  head("table");
  std::mt19937 random(7);
  Scores all;
  for (const char* file :
       {"s1_wheat.csv", "s2_seedrate.csv", "s3_nitrogen.csv", "s5_s6_s7_missing.csv",
        "s8_thirty_five.csv", "s9_seven_years.csv", "alfalfa.csv"})
    for (auto& [name, table] : bench::read_tables(std::filesystem::path(folder) / file)) {
      Scores scores;
      for (int n = 0; n < 40; ++n) {
        bench::walk(table, random);
        const Tells tells = bench::as_now(table, false);
        scores.add(table, tells);
        all.add(table, tells);
      }
      line(name, scores, checks::kSpreads);
    }
  line("all together", all, checks::kSpreads);
  line("all together, at 2 % false alarms", all, limit_of(all.honest));
}

void published_season(const char* folder) {
  std::printf("\nthe published alfalfa table as a season of 4 cuttings, orders drawn 100 times\n");
  head("rule");
  std::mt19937 random(7);
  Scores now;
  Scores season_weight;
  Scores tablet;
  for (Season& season : bench::alfalfa_seasons(std::filesystem::path(folder) / "alfalfa.csv"))
    for (int n = 0; n < 100; ++n) {
      bench::walk(season, random);
      now.add(season, bench::as_now(season, false));
      season_weight.add(season, bench::by_season(season, false));
      tablet.add(season, bench::as_tablet(season));
    }
  line("* the tablet, its own range", tablet, checks::kSpreads);
  line("* the tablet", tablet, limit_of(tablet.honest));
  line("as now, its own range", now, checks::kSpreads);
  line("season_weight, its own range", season_weight, checks::kSpreads);
  line("as now", now, limit_of(now.honest));
  line("season_weight", season_weight, limit_of(season_weight.honest));
}

void lane_shifts() {
  std::printf("\nwhole cuttings of 24 entries in 4 blocks with a run one plot off, 300 times\n");
  std::printf("%-36s %6s %9s %9s %9s %9s\n", "entries apart, error CV", "false", "6 plots",
              "10 plots", "15 plots", "24 plots");
  for (const double apart : {0.15, 0.08})
    for (const double cv : {0.06, 0.08, 0.1, 0.15, 0.2}) {
      std::mt19937 random(2026);
      constexpr int kTimes = 300;
      int wrong = 0;
      std::vector<int> found(4);
      const std::vector<std::size_t> lengths{6, 10, 15, 24};
      for (int n = 0; n < kTimes; ++n) {
        const auto lane =
            checks::tests::lane_of(checks::tests::weighed_cutting({24, 4, cv, apart}, random));
        wrong += checks::lane_shift(lane) ? 1 : 0;
        for (std::size_t at = 0; at < lengths.size(); ++at) {
          auto shifted = lane;
          const auto entered = n % 2 == 0 ? checks::Entered::kTooEarly : checks::Entered::kTooLate;
          std::uniform_int_distribution<std::size_t> where(1, lane.size() - lengths[at] - 1);
          const std::size_t first = where(random);
          checks::tests::shift(shifted, first, lengths[at], entered);
          found[at] +=
              checks::tests::names(checks::lane_shift(shifted), first, lengths[at], entered) ? 1
                                                                                             : 0;
        }
      }
      std::printf("%3.0f %%, %3.0f %%%24s %5.1f%%", 100 * apart, 100 * cv, "",
                  100.0 * wrong / kTimes);
      for (const int each : found) std::printf(" %8.0f%%", 100.0 * each / kTimes);
      std::printf("\n");
    }
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) {
    std::fprintf(stderr, "usage: slips_bench FOLDER (tests/published/data)\n");
    return 2;
  }
  try {
    for (const double cv : {0.06, 0.08, 0.1, 0.15, 0.2}) drawn({24, 4, 3, cv}, 60);
    for (const double cv : {0.06, 0.08, 0.1, 0.15, 0.2}) drawn({24, 4, 1, cv}, 60);
    drawn({24, 4, 3, 0.1, 0}, 60);
    published(words[1]);
    published_season(words[1]);
    lane_shifts();
  } catch (const std::exception& error) {
    std::fprintf(stderr, "slips_bench: %s\n", error.what());
    return 1;
  }
}
