#include "tests/bench/season.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <numeric>
#include <sstream>
#include <stdexcept>

namespace ligule::bench {
namespace {

constexpr double kMean = 40;
constexpr double kEntries = 0.15;
constexpr double kEntriesOfCutting = 0.05;
constexpr double kBlocks = 0.05;
constexpr double kTrend = 0.9;
constexpr double kLostOfMissing = 0.8;
constexpr char kDate = '|';  // between variety and date

double shown(double weight) {
  return std::round(std::max(0.1, weight) * 10) / 10;
}

std::vector<std::string> fields(const std::string& line) {
  std::vector<std::string> out;
  std::istringstream in(line);
  for (std::string field; std::getline(in, field, ',');) out.push_back(field);
  return out;
}

}  // namespace

Season draw_season(const Chance& chance, std::mt19937& random) {
  std::normal_distribution<double> normal;
  std::uniform_real_distribution<double> uniform;
  std::vector<double> entries(static_cast<std::size_t>(chance.entries));
  for (double& entry : entries) entry = kEntries * normal(random);
  std::vector<std::size_t> order(entries.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  Season season;
  std::vector<std::size_t> entry_of;
  std::vector<double> lasting;
  const double part = chance.cv * std::sqrt(chance.persistent / 2);
  double trend = part * normal(random);
  for (int block = 1; block <= chance.blocks; ++block) {
    std::ranges::shuffle(order, random);
    for (const std::size_t entry : order) {
      const bool thin = uniform(random) < chance.thin;
      season.plots.push_back(
          {block, "E" + std::to_string(entry), thin ? 50 + 45 * uniform(random) : 100});
      entry_of.push_back(entry);
      trend = kTrend * trend + std::sqrt(1 - kTrend * kTrend) * part * normal(random);
      lasting.push_back(trend + part * normal(random));
    }
  }
  const double fresh = chance.cv * std::sqrt(1 - chance.persistent);
  for (int cutting = 0; cutting < chance.cuttings; ++cutting) {
    std::vector<double> of_entry(entries.size());
    for (double& each : of_entry) each = kEntriesOfCutting * normal(random);
    std::vector<double> of_block(static_cast<std::size_t>(chance.blocks) + 1);
    for (double& each : of_block) each = kBlocks * normal(random);
    std::vector<double>& weights = season.cuttings.emplace_back();
    season.truth.clear();
    season.fresh.clear();
    for (std::size_t n = 0; n < season.plots.size(); ++n) {
      const Plot& plot = season.plots[n];
      const double full = kMean * (1 - kLostOfMissing * (1 - plot.stand / 100));
      const double grown = 1 + entries[entry_of[n]] + of_entry[entry_of[n]] +
                           of_block[static_cast<std::size_t>(plot.block)] + lasting[n];
      season.truth.push_back(full * grown);
      season.fresh.push_back(full * fresh);
      weights.push_back(shown(full * (grown + fresh * normal(random))));
    }
  }
  return season;
}

std::map<std::string, Season> read_tables(const std::filesystem::path& file) {
  std::ifstream in(file);
  if (!in) throw std::runtime_error("can't read " + file.string());
  std::map<std::string, Season> tables;
  std::string line;
  std::getline(in, line);
  while (std::getline(in, line)) {
    const std::vector<std::string> row = fields(line);
    if (row.size() < 7 || row[4].empty() || row[6].empty()) continue;
    std::string name = row[0];
    if (!row[2].empty() && name.find(row[2]) == std::string::npos) name += " " + row[2];
    // Dates of the last cutting were drawn to plots: what stands in each is a treatment.
    const bool treatments = row[0] == "ALFALFA";
    Season& table = tables[name];
    if (table.cuttings.empty()) table.cuttings.emplace_back();
    table.plots.push_back({std::stoi(row[4]), treatments ? row[5] + kDate + row[3] : row[5]});
    table.cuttings.front().push_back(std::stod(row[6]));
  }
  for (auto& [name, table] : tables) {
    std::vector<double>& values = table.cuttings.front();
    const double mean =
        std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
    for (double& value : values) value = shown(value * kMean / mean);
  }
  return tables;
}

std::vector<Season> alfalfa_seasons(const std::filesystem::path& file) {
  // By block and variety, then by date.
  std::map<std::pair<int, std::string>, std::map<std::string, double>> plots;
  for (const auto& [name, table] : read_tables(file))
    for (std::size_t n = 0; n < table.plots.size(); ++n) {
      const std::string& entry = table.plots[n].entry;
      const std::size_t at = entry.find(kDate);
      plots[{table.plots[n].block, entry.substr(0, at)}][entry.substr(at + 1)] =
          table.cuttings.front()[n];
    }
  Season season;
  for (const auto& [plot, dates] : plots) {
    season.plots.push_back({plot.first, plot.second});
    season.cuttings.resize(dates.size());
    std::size_t cutting = 0;
    for (const auto& [date, weight] : dates) season.cuttings[cutting++].push_back(weight);
  }
  std::vector<Season> seasons;
  for (std::size_t last = 0; last < season.cuttings.size(); ++last) {
    seasons.push_back(season);
    std::swap(seasons.back().cuttings[last], seasons.back().cuttings.back());
  }
  return seasons;
}

void walk(Season& season, std::mt19937& random) {
  std::vector<std::size_t> order(season.plots.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::shuffle(order, random);
  std::ranges::stable_sort(order, {}, [&](std::size_t n) { return season.plots[n].block; });
  const Season before = season;
  for (std::size_t n = 0; n < order.size(); ++n) {
    season.plots[n] = before.plots[order[n]];
    for (std::size_t cutting = 0; cutting < before.cuttings.size(); ++cutting)
      season.cuttings[cutting][n] = before.cuttings[cutting][order[n]];
  }
}

}  // namespace ligule::bench
