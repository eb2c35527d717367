#include "sync/results/over_cuttings.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string_view>

#include "sync/results/in_parts.h"
#include "sync/results/labels.h"
#include "sync/results/numbered_labels.h"
#include "sync/statistics/split_in_time.h"

namespace ligule::results {
namespace {

// The cuttings (their analyses) that are one sub unit: one, or a year's.
struct TimePart {
  std::string label;
  std::vector<const Analysis*> cuttings;
};

std::vector<TimePart> parts_of(std::span<const Analysis> cuttings, Over over) {
  std::vector<TimePart> parts;
  const Analysis* before = nullptr;
  for (const Analysis& cutting : cuttings) {
    if (cutting.span != Span::kCutting) continue;
    if (over == Over::kCuttings) {
      parts.push_back({cutting.cutting, {&cutting}});
    } else {
      if (!before || before->year != cutting.year) parts.push_back({year_label(cutting), {}});
      parts.back().cuttings.push_back(&cutting);
    }
    before = &cutting;
  }
  return parts;
}

struct SeenValue {
  bool row = false;
  std::optional<double> value;
};

// All values of the cuttings looked at: entries x reps x cuttings.
struct PlotGrid {
  std::vector<std::string> entries, reps;
  std::size_t cuttings = 0;
  std::vector<SeenValue> cells;
  std::string repeated;  // an entry that has several plots in a rep; empty: none

  [[nodiscard]] std::size_t at(std::size_t entry, std::size_t rep, std::size_t cutting) const {
    return (entry * reps.size() + rep) * cuttings + cutting;
  }
  // As analyse() has it: an entry without a row in any rep was not to be cut.
  [[nodiscard]] bool is_scheduled(std::size_t entry, std::size_t cutting) const {
    for (std::size_t rep = 0; rep < reps.size(); ++rep) {
      if (cells[at(entry, rep, cutting)].row) return true;
    }
    return false;
  }
};

// The rows of the cuttings looked at, and which cutting each is of.
struct RowsOfParts {
  RowsOfTest rows;
  std::vector<std::size_t> cuttings;
};

RowsOfParts rows_of_parts(const RowsOfTest& rows, const std::vector<TimePart>& parts) {
  std::vector<const Analysis*> cuttings;
  for (const TimePart& part : parts) {
    cuttings.insert(cuttings.end(), part.cuttings.begin(), part.cuttings.end());
  }
  RowsOfParts out;
  for (const PlotValue* row : rows) {
    const auto cutting = std::ranges::find_if(cuttings, [row](const Analysis* one) {
      return one->year == row->year && one->cutting == row->cutting;
    });
    if (cutting == cuttings.end()) continue;
    out.rows.push_back(row);
    out.cuttings.push_back(static_cast<std::size_t>(cutting - cuttings.begin()));
  }
  return out;
}

PlotGrid grid_of(const RowsOfTest& all_rows, const std::vector<TimePart>& parts) {
  const auto [rows, cuttings] = rows_of_parts(all_rows, parts);
  NumberedLabels entries = number_labels(rows, &PlotValue::entry);
  NumberedLabels reps = number_labels(rows, &PlotValue::rep);
  PlotGrid grid;
  for (const TimePart& part : parts) grid.cuttings += part.cuttings.size();
  grid.entries = std::move(entries.labels);
  grid.reps = std::move(reps.labels);
  grid.cells.resize(grid.entries.size() * grid.reps.size() * grid.cuttings);
  // A plot keeps its label over the cuttings; a second label is a second plot.
  std::vector<const PlotValue*> plots(grid.entries.size() * grid.reps.size(), nullptr);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const PlotValue*& plot = plots[entries.of_row[i] * grid.reps.size() + reps.of_row[i]];
    if (!plot) plot = rows[i];
    SeenValue& cell = grid.cells[grid.at(entries.of_row[i], reps.of_row[i], cuttings[i])];
    if (plot->plot != rows[i]->plot || cell.row) grid.repeated = rows[i]->entry;
    cell = {true, rows[i]->value};
  }
  return grid;
}

struct SubUnit {
  bool scheduled = false;
  std::optional<double> value;
};

// Of one plot, over the cuttings first..last-1 it was to be cut at.
SubUnit sub_unit_of(const PlotGrid& grid, std::size_t entry, std::size_t rep, std::size_t first,
                    std::size_t last) {
  SubUnit unit;
  double sum = 0.0;
  bool whole = true;
  for (std::size_t cutting = first; cutting < last; ++cutting) {
    if (!grid.is_scheduled(entry, cutting)) continue;
    unit.scheduled = true;
    const std::optional<double>& value = grid.cells[grid.at(entry, rep, cutting)].value;
    whole = whole && value.has_value();
    sum += value.value_or(0.0);
  }
  if (unit.scheduled && whole && std::isfinite(sum)) unit.value = sum;
  return unit;
}

std::string part_word(Over over) {
  return over == Over::kCuttings ? "cutting" : "year";
}

// The sub units, or what keeps them from being all there.
struct SubUnits {
  std::vector<statistics::TimedObservation> observations;
  std::string why_not;
};

SubUnits sub_units_of(const PlotGrid& grid, const std::vector<TimePart>& parts, Over over) {
  SubUnits units;
  std::size_t missing = 0;
  std::size_t all = 0;
  for (std::size_t entry = 0; entry < grid.entries.size(); ++entry) {
    for (std::size_t rep = 0; rep < grid.reps.size(); ++rep) {
      std::size_t first = 0;
      for (std::size_t part = 0; part < parts.size(); ++part) {
        const std::size_t last = first + parts[part].cuttings.size();
        const SubUnit unit = sub_unit_of(grid, entry, rep, first, last);
        first = last;
        ++all;
        if (unit.value) {
          units.observations.push_back({entry, rep, part, *unit.value});
          continue;
        }
        ++missing;
        if (!unit.scheduled && units.why_not.empty()) {
          units.why_not =
              "an entry has no plot in " + std::string(part_word(over)) + " " + parts[part].label;
        }
      }
    }
  }
  if (units.why_not.empty() && missing > 0) {
    units.why_not =
        std::to_string(missing) + " of " + std::to_string(all) +
        (over == Over::kCuttings ? " values are missing" : " yearly totals are missing");
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
void analyse_parts(OverCuttings& out, const RowsOfTest& rows, const std::vector<TimePart>& parts) {
  const PlotGrid grid = grid_of(rows, parts);
  if (!grid.repeated.empty()) {
    out.why_not = "an entry has several plots in a block";
    return;
  }
  const SubUnits units = sub_units_of(grid, parts, out.over);
  out.why_not = units.why_not;
  if (!out.why_not.empty()) return;
  const auto times = statistics::split_in_time(units.observations, grid.entries.size(),
                                               grid.reps.size(), parts.size());
  if (times) {
    out.sources = sources_of(*times, out.over);
  } else {
    out.why_not = in_words(times.error());
  }
}

OverCuttings over_parts(const Analysis& sum, std::span<const Analysis> cuttings,
                        const RowsOfTest& rows, Design design) {
  OverCuttings out;
  out.test = sum.test;
  out.over = sum.span == Span::kAllYears ? Over::kYears : Over::kCuttings;
  if (out.over == Over::kCuttings) out.year = sum.year;
  const std::vector<TimePart> parts = parts_of(cuttings, out.over);
  for (const TimePart& part : parts) out.parts.push_back(part.label);
  if (sum.basis == Basis::kPublishedMeans) {
    out.why_not = "these are published means without single plots";
  } else if (design == Design::kCompletelyRandomised) {
    out.why_not = "the plots stand in no blocks";
  } else {
    analyse_parts(out, rows, parts);
  }
  return out;
}

}  // namespace

const OverSource* OverCuttings::interaction() const {
  return sources.size() > 5 ? &sources[5] : nullptr;
}

std::vector<OverCuttings> over_cuttings(std::span<const PlotValue> values,
                                        std::span<const Analysis> analyses, Design design) {
  struct Wanted {
    const Analysis* sum;
    std::span<const Analysis> cuttings;
  };
  std::vector<Wanted> wanted;
  std::size_t first_of_test = 0;
  std::size_t first_of_year = 0;
  for (std::size_t i = 0; i < analyses.size(); ++i) {
    const Analysis& analysis = analyses[i];
    if (analysis.test != analyses[first_of_test].test) first_of_test = first_of_year = i;
    if (analysis.span == Span::kAllYears) {
      wanted.push_back({&analysis, analyses.subspan(first_of_test, i - first_of_test)});
      continue;
    }
    if (analysis.year != analyses[first_of_year].year) first_of_year = i;
    if (analysis.span == Span::kYear) {
      wanted.push_back({&analysis, analyses.subspan(first_of_year, i - first_of_year)});
    }
  }
  if (wanted.empty()) return {};
  const auto tests = rows_by_test(values);
  return in_parts<OverCuttings>(
      wanted.size(), values.size(), [&](std::size_t first, std::size_t last) {
        std::vector<OverCuttings> out;
        for (std::size_t i = first; i < last; ++i) {
          const auto& [sum, cuttings] = wanted[i];
          const auto rows = tests.find(sum->test);
          out.push_back(over_parts(*sum, cuttings,
                                   rows == tests.end() ? RowsOfTest() : rows->second, design));
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
