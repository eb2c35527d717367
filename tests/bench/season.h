// Cuttings to plant slips in: a season drawn at random, and published tables of plots.
#pragma once

#include <filesystem>
#include <map>
#include <random>
#include <string>
#include <vector>

namespace ligule::bench {

struct Plot {
  int block = 0;
  std::string entry;
  double stand = 100;  // percent
};

// Plots in harvesting order and what each weighed, in the same order, cutting by cutting; the last
// cutting is the one being weighed. Weights are net, about 40.0 in steps of 0.1.
struct Season {
  std::vector<Plot> plots;
  std::vector<std::vector<double>> cuttings;
  // Of a drawn season: what each plot of the last cutting would weigh but for that cutting's own
  // error, and the standard deviation of that error.
  std::vector<double> truth;
  std::vector<double> fresh;
};

// What a season is drawn from, as shares of the mean. Entries 15 percent apart, 5 more in each
// cutting, blocks 5. Of the error variance a quarter is a trend along the path (each plot 0.9 of
// the one before) and a quarter the plot's own, both the same in every cutting: in the published
// alfalfa table half of the error variance is common to the cuttings' plots of one main plot (from
// its printed mean squares: (0.136 - 0.028) / 4 against 0.028). One plot in eight has a stand of 50
// to 95 percent and loses eight tenths of what is missing. All but the half: common practice, no
// source.
struct Chance {
  int entries = 24;
  int blocks = 4;
  int cuttings = 3;
  double cv = 0.1;          // of a plot about its block and entry, all of the above together
  double persistent = 0.5;  // share of the error variance
  double thin = 0.125;      // share of plots
};
[[nodiscard]] Season draw_season(const Chance& chance, std::mt19937& random);

// The trials of a published file (test,site,year,cutting,rep,entry,value), scaled to a mean of 40;
// a key is the test with year and cutting. Rows without a value or rep are left out. Throws
// std::runtime_error where the file can't be read.
[[nodiscard]] std::map<std::string, Season> read_tables(const std::filesystem::path& file);

// The published alfalfa table read as a season: main plots of 3 varieties in 6 blocks, and the
// plots of each date of last cutting in place of cuttings, with each date in turn as the last. No
// real season, but real plots whose errors have a real part in common.
[[nodiscard]] std::vector<Season> alfalfa_seasons(const std::filesystem::path& file);

// The files tell no harvesting order: blocks one after another, in each its plots as they fall.
void walk(Season& season, std::mt19937& random);

}  // namespace ligule::bench
