#include "sync/results/over_cuttings.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <string_view>
#include <utility>

#include "sync/results/in_parts.h"
#include "sync/results/labels.h"
#include "sync/results/numbered_labels.h"
#include "sync/results/one_test.h"
#include "sync/results/test_table.h"
#include "sync/statistics/split_in_time.h"

namespace ligule::results {
namespace {

std::string part_word(Over over) {
  return over == Over::kCuttings ? "cutting" : "year";
}

// A sub unit of every plot: a cutting, or a year.
struct TimePart {
  std::string label;
  Range range;
};

// Of a sum over `whole`: the cuttings of a year, or the years of all.
std::vector<TimePart> parts_of(const TestTable& table, Range whole, Over over) {
  std::vector<TimePart> parts;
  for (std::size_t first = whole.first; first < whole.last;) {
    std::size_t last = first + 1;
    if (over == Over::kYears) {
      const auto& year = table.cuttings[first].year;
      while (last < whole.last && table.cuttings[last].year == year) ++last;
      parts.push_back({year_label(Span::kYear, year), {first, last, Span::kYear}});
    } else {
      parts.push_back({table.cuttings[first].label, {first, last, Span::kCutting}});
    }
    first = last;
  }
  return parts;
}

bool has_row(const TestTable& table, std::size_t plot, Range range) {
  bool row = false;
  for (std::size_t c = range.first; c < range.last; ++c) row = row || table.cell(plot, c).row;
  return row;
}

bool names_a_rep(const TestTable& table, Range range) {
  for (std::size_t plot = 0; plot < table.plots.size(); ++plot)
    if (!table.reps[table.plots[plot].rep].empty() && has_row(table, plot, range)) return true;
  return false;
}

// Entries and reps that have a row somewhere in a range, numbered anew from 0.
struct Present {
  std::vector<std::optional<std::size_t>> entries, reps;  // by their place in the table
  std::size_t entry_count = 0, rep_count = 0;
  bool repeated = false;  // an entry has several plots in a rep
};

Present present_in(const TestTable& table, Range whole) {
  Present out;
  out.entries.resize(table.entries.size());
  out.reps.resize(table.reps.size());
  std::vector<bool> taken(table.entries.size() * table.reps.size(), false);
  for (std::size_t plot = 0; plot < table.plots.size(); ++plot) {
    if (!has_row(table, plot, whole)) continue;
    const TablePlot& of = table.plots[plot];
    if (!out.entries[of.entry]) out.entries[of.entry] = out.entry_count++;
    if (!out.reps[of.rep]) out.reps[of.rep] = out.rep_count++;
    const std::size_t place = of.entry * table.reps.size() + of.rep;
    out.repeated = out.repeated || taken[place];
    taken[place] = true;
  }
  return out;
}

// The sub units, or what keeps them from being all there.
struct SubUnits {
  std::vector<statistics::TimedObservation> observations;
  std::string why_not;
};

SubUnits sub_units_of(const TestTable& table, const std::vector<TimePart>& parts,
                      const Present& present, Over over) {
  SubUnits units;
  units.observations.reserve(present.entry_count * present.rep_count * parts.size());
  for (std::size_t part = 0; part < parts.size(); ++part) {
    const Selected selected = select(table, parts[part].range);
    for (std::size_t entry = 0; entry < table.entries.size(); ++entry) {
      if (!present.entries[entry] || selected.listed[entry] || !units.why_not.empty()) continue;
      units.why_not = "an entry has no plot in " + part_word(over) + " " + parts[part].label;
    }
    for (std::size_t i = 0; i < selected.plots.size(); ++i) {
      const TablePlot& plot = table.plots[selected.plots[i]];
      units.observations.push_back({present.entries[plot.entry].value_or(0),
                                    present.reps[plot.rep].value_or(0), part, selected.values[i]});
    }
  }
  const std::size_t all = present.entry_count * present.rep_count * parts.size();
  const std::size_t missing = all - units.observations.size();
  if (units.why_not.empty() && missing > 0) {
    units.why_not = fmt::format("{} of {} {} {} missing", missing, all,
                                over == Over::kCuttings ? "values" : "yearly totals",
                                missing == 1 ? "is" : "are");
  }
  return units;
}

OverSource source_of(std::string name, const statistics::AnovaRow& row) {
  return {.source = std::move(name),
          .df = row.df,
          .sum_of_squares = row.sum_of_squares,
          .mean_square = row.mean_square,
          .f = row.f,
          .p = row.p,
          .p_greenhouse_geisser = {}};
}

std::vector<OverSource> sources_of(const statistics::TimesOfPlots& times, Over over) {
  const statistics::SplitPlotInTime& table = times.in_time;
  const std::string part = part_word(over);
  std::vector<OverSource> sources = {
      source_of("rep", table.block),
      source_of("entry", table.treatment),
      source_of("error a (rep x entry)", table.error_a),
      source_of(part, table.time),
      source_of("error b (rep x " + part + ")", table.error_b),
      source_of("entry x " + part, table.treatment_time),
      source_of("error c (rep x entry x " + part + ")", table.error_c),
      source_of("total", table.total),
  };
  sources.back().mean_square.reset();  // of all together: no use is made of it
  if (times.greenhouse_geisser) sources[5].p_greenhouse_geisser = times.greenhouse_geisser->p;
  return sources;
}

std::string in_words(statistics::WhyNoSplit why) {
  switch (why) {
    case statistics::WhyNoSplit::kTooFew:
      return "it needs two entries and two blocks";
    case statistics::WhyNoSplit::kMissing:
      return "values are missing";
    case statistics::WhyNoSplit::kRepeated:
      return "an entry has several plots in a block";
    case statistics::WhyNoSplit::kTooLarge:
      break;
  }
  return "the values are too large to be squared";
}

// Sets the table, or why there is none.
void analyse_parts(OverCuttings& out, const TestTable& table, const std::vector<TimePart>& parts,
                   Range whole) {
  const Present present = present_in(table, whole);
  if (present.repeated) {
    out.why_not = "an entry has several plots in a block";
    return;
  }
  const SubUnits units = sub_units_of(table, parts, present, out.over);
  out.why_not = units.why_not;
  if (!out.why_not.empty()) return;
  const auto times = statistics::split_in_time(units.observations, present.entry_count,
                                               present.rep_count, parts.size());
  if (times) {
    out.sources = sources_of(*times, out.over);
  } else {
    out.why_not = in_words(times.error());
  }
}

OverCuttings over_parts(const TestTable& table, Range whole, Design design) {
  OverCuttings out;
  out.test = table.test;
  out.over = whole.span == Span::kAllYears ? Over::kYears : Over::kCuttings;
  if (out.over == Over::kCuttings) out.year = table.cuttings[whole.first].year;
  const std::vector<TimePart> parts = parts_of(table, whole, out.over);
  for (const TimePart& part : parts) out.parts.push_back(part.label);
  if (!names_a_rep(table, whole)) {
    out.why_not = "these are published means without single plots";
  } else if (design == Design::kCompletelyRandomised) {
    out.why_not = "the plots stand in no blocks";
  } else if (design == Design::kIncompleteBlocks) {
    out.why_not = "it is made of complete blocks, and entries are compared within parts of them";
  } else if (design == Design::kLatinSquare) {
    out.why_not = "it is made of blocks, and the plots stand in rows and columns";
  } else {
    analyse_parts(out, table, parts, whole);
  }
  return out;
}

}  // namespace

const OverSource* OverCuttings::interaction() const {
  return sources.size() > 5 ? &sources[5] : nullptr;
}

std::vector<OverCuttings> over_cuttings_of(const TestTable& table, const AnalysisOptions& options) {
  std::vector<OverCuttings> out;
  for (const Range range : ranges_of(table, options.totals)) {
    if (range.span != Span::kCutting) out.push_back(over_parts(table, range, options.design));
  }
  return out;
}

std::vector<OverCuttings> over_cuttings(std::span<const PlotValue> values,
                                        const AnalysisOptions& options) {
  const auto by_test = rows_by_test(values);
  const std::vector<std::pair<std::string_view, RowsOfTest>> tests(by_test.begin(), by_test.end());
  return in_parts<OverCuttings>(
      tests.size(), values.size(), [&](std::size_t first, std::size_t last) {
        std::vector<OverCuttings> out;
        for (std::size_t i = first; i < last; ++i) {
          const TestTable table = test_table(std::string(tests[i].first), tests[i].second);
          std::ranges::move(over_cuttings_of(table, options), std::back_inserter(out));
        }
        return out;
      });
}

std::string interaction_words(const OverCuttings& over, double alpha) {
  const std::string part = part_word(over.over);
  const OverSource* interaction = over.interaction();
  if (!interaction) return "No analysis over " + part + "s: " + over.why_not + ".";
  const auto& p =
      interaction->p_greenhouse_geisser ? interaction->p_greenhouse_geisser : interaction->p;
  if (!p) {
    return "Whether entries differ alike in every " + part +
           " can't be told: the plots agree without any chance variation.";
  }
  const std::string figure = *p < 0.0001 ? "p < 0.0001" : "p = " + rounded(*p, 4);
  const std::string by = " (entry x " + part + ", " + figure + ", Greenhouse-Geisser).";
  if (*p <= alpha) {
    return "Differences between entries change from " + part + " to " + part + by +
           " Which is best may change too: compare them in each as well as in the total.";
  }
  return "No sign that entries change places from " + part + " to " + part + by;
}

bool has_table(std::span<const OverCuttings> tables) {
  return std::ranges::any_of(tables, [](const OverCuttings& of) { return !of.sources.empty(); });
}

std::string over_cuttings_csv(std::span<const OverCuttings> tables) {
  CsvText text("test,year,over,source,df,ss,ms,f,p,p_greenhouse_geisser");
  for (const OverCuttings& table : tables) {
    const bool years = table.over == Over::kYears;
    const std::string year = years ? "all" : table.year ? std::to_string(*table.year) : "";
    for (const OverSource& row : table.sources) {
      text.add(table.test).add(year).add(years ? "years" : "cuttings").add(row.source);
      text.add(row.df).add(row.sum_of_squares).add(row.mean_square).add(row.f).add(row.p);
      text.add(row.p_greenhouse_geisser).end_line();
    }
  }
  return std::move(text).take();
}

}  // namespace ligule::results
