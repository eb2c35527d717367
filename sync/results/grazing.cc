#include "sync/results/grazing.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <set>
#include <tuple>
#include <utility>

#include "storage/trial/details.h"
#include "storage/trial/number.h"
#include "storage/trial/rated_before.h"
#include "sync/results/labels.h"
#include "sync/results/rated_passes.h"
#include "sync/results/ratings.h"
#include "sync/results/stand_kept.h"

namespace ligule::results {
namespace {

using FigureName = std::pair<GrazingFigure, std::string_view>;
constexpr std::array<FigureName, 5> kFigureNames{
    {{GrazingFigure::kStandBeforeFirst, "stand_before_first"},
     {GrazingFigure::kStandAfterLast, "stand_after_last"},
     {GrazingFigure::kStandKept, "stand_kept"},
     {GrazingFigure::kPreference, "preference"},
     {GrazingFigure::kPercentRemoved, "percent_removed"}}};

// The measured stand only where nobody rated it: the two are never held against each other.
constexpr std::array<std::string_view, 2> kStandsOfGrazing = {kPercentStand, "frequency_grid"};

struct AnimalsMoved {
  CalendarDate on{};
  std::string block;  // empty: the whole trial
  bool in = false;
};

// By day, those of one day as they were noted.
std::vector<AnimalsMoved> animals_moved(const TrialFacts& trial) {
  std::vector<AnimalsMoved> moved;
  for (const TrialEvent& event : trial.events) {
    const Record& record = event.record;
    const bool in = record.entered == "grazing_in";
    if (event.taken_back || (!in && record.entered != "grazing_out")) continue;
    const auto on = parse_date(detail(record.details, "on"));
    moved.push_back({on ? *on : record.at.local_date, detail(record.details, "block"), in});
  }
  std::ranges::stable_sort(moved, {}, &AnimalsMoved::on);
  return moved;
}

// Whether animals that went in have not come out of there since: what is said of the whole trial is
// said of every block.
bool still_in(const std::vector<AnimalsMoved>& moved) {
  for (auto in = moved.begin(); in != moved.end(); ++in) {
    if (!in->in) continue;
    const bool out = std::any_of(in, moved.end(), [&](const AnimalsMoved& later) {
      return !later.in && (later.block.empty() || later.block == in->block);
    });
    if (!out) return true;
  }
  return false;
}

// One test's figures, in the order in which the header lists them.
class GrazingFigures {
 public:
  GrazingFigures(const TrialFacts& trial, const std::string& test, const AnalysisOptions& options)
      : trial_(trial),
        options_(options),
        moved_(animals_moved(trial)),
        ratings_(ratings_of(trial, test)) {
    made_.test = test;
  }

  std::optional<GrazingTest> run() {
    const std::vector<RatedPass> preference = passes_of(measure::kGrazingPreference);
    const std::vector<RatedPass> removed = passes_of(measure::kPercentRemoved);
    if (moved_.empty() && preference.empty() && removed.empty()) return std::nullopt;
    read_events();
    add_stands();
    add_looks(GrazingFigure::kPreference, measure::kGrazingPreference, preference);
    add_looks(GrazingFigure::kPercentRemoved, measure::kPercentRemoved, removed);
    return std::move(made_);
  }

 private:
  void tell(std::string what, std::string mend) {
    made_.notices.push_back({ErrorKind::kRefused, std::move(what), made_.test, std::move(mend)});
  }

  [[nodiscard]] const MeasureValues* values_of(std::string_view measure) const {
    const auto found = std::ranges::find(ratings_.measures, measure, &MeasureValues::measure);
    return found == ratings_.measures.end() ? nullptr : &*found;
  }

  [[nodiscard]] std::vector<RatedPass> passes_of(std::string_view measure) const {
    const MeasureValues* const values = values_of(measure);
    return values == nullptr ? std::vector<RatedPass>() : rated_passes(trial_, *values);
  }

  void read_events() {
    for (const AnimalsMoved& each : moved_) {
      if (each.in && !made_.first_in) made_.first_in = each.on;
      if (!each.in) made_.last_out = each.on;
    }
    if (!made_.first_in) {
      made_.last_out.reset();
      tell("no event says when animals went in: the stand before and after grazing is not told",
           "write down Animals in and Animals out on Trials");
    } else if (still_in(moved_)) {
      made_.last_out.reset();
      tell("no event says that the animals came out again: the stand after grazing is not told",
           "write down Animals out on Trials once they are out");
    }
  }

  // The last one that ended before that day.
  static const RatedPass* last_before(const std::vector<RatedPass>& passes,
                                      const std::optional<CalendarDate>& day) {
    const RatedPass* last = nullptr;
    for (const RatedPass& pass : passes)
      if (day && pass.last_day() < *day) last = &pass;
    return last;
  }
  // The first one that began after it.
  static const RatedPass* first_after(const std::vector<RatedPass>& passes,
                                      const std::optional<CalendarDate>& day) {
    for (const RatedPass& pass : passes)
      if (day && pass.first_day() > *day) return &pass;
    return nullptr;
  }

  void add_stands() {
    if (!made_.first_in) return;
    struct Stands {
      std::string_view measure;
      std::vector<RatedPass> passes;
      const RatedPass* before = nullptr;
      const RatedPass* after = nullptr;
    };
    std::array<Stands, kStandsOfGrazing.size()> all;
    const Stands* chosen = nullptr;
    const auto rated = [](const Stands& of) {
      return (of.before != nullptr ? 1 : 0) + (of.after != nullptr ? 1 : 0);
    };
    for (std::size_t n = 0; n < all.size(); ++n) {
      Stands& of = all.at(n);
      of.measure = kStandsOfGrazing.at(n);
      of.passes = passes_of(of.measure);
      of.before = last_before(of.passes, made_.first_in);
      of.after = first_after(of.passes, made_.last_out);
      if (chosen == nullptr || rated(of) > rated(*chosen)) chosen = &of;
    }
    if (chosen->before == nullptr)
      tell("no stand was rated before " + format_date(*made_.first_in) +
               ", when animals first went in",
           "rate the stand the day before turn-in at the latest");
    if (made_.last_out && chosen->after == nullptr)
      tell("no stand was rated after " + format_date(*made_.last_out) +
               ", when animals last came out",
           "rate it from the day after on");
    const MeasureValues* const values = values_of(chosen->measure);
    if (values == nullptr) return;
    if (chosen->before != nullptr) add(GrazingFigure::kStandBeforeFirst, *values, *chosen->before);
    if (chosen->after != nullptr) add(GrazingFigure::kStandAfterLast, *values, *chosen->after);
    if (chosen->before != nullptr && chosen->after != nullptr)
      add_kept(*values, *chosen->before, *chosen->after);
  }

  void add_kept(const MeasureValues& values, const RatedPass& before, const RatedPass& after) {
    StandKept kept = stand_kept(trial_, before, after, options_);
    GrazedPass& made = add_head(GrazingFigure::kStandKept, values.measure, after);
    made.direction = Direction::kHighIsBest;
    made.analysis = std::move(kept.percent);
    std::ranges::move(kept_notes(kept), std::back_inserter(made_.notes));
  }

  GrazedPass& add_head(GrazingFigure figure, const std::string& measure, const RatedPass& pass) {
    GrazedPass& made = made_.passes.emplace_back();
    made.figure = figure;
    made.measure = measure;
    made.year = pass.occasion->year;
    made.pass = pass.occasion->code;
    made.on = pass.on;
    return made;
  }

  GrazedPass& add(GrazingFigure figure, const MeasureValues& values, const RatedPass& pass) {
    GrazedPass& made = add_head(figure, values.measure, pass);
    made.direction = values.direction;
    made.analysis = analysis_of_pass(pass.values, options_, best_of(values.direction));
    return made;
  }

  static double hours_of(const RatedPass& pass) {
    return parse_number(pass.occasion->hours_after_turn_in).value_or(0.0);
  }

  void add_looks(GrazingFigure figure, std::string_view measure, std::vector<RatedPass> passes) {
    std::ranges::stable_sort(
        passes, {}, [](const RatedPass& pass) { return std::tuple(pass.on, hours_of(pass)); });
    for (const RatedPass& pass : passes) {
      GrazedPass& made = add(figure, *values_of(measure), pass);
      made.hours_after_turn_in = pass.occasion->hours_after_turn_in;
      look_at_hours(figure, pass);
    }
  }

  void look_at_hours(GrazingFigure figure, const RatedPass& pass) {
    const std::string& hours = pass.occasion->hours_after_turn_in;
    if (hours.empty()) {
      if (figure == GrazingFigure::kPreference)
        tell(pass.occasion->code + ": preference without the hours after turn-in",
             "state hours_after_turn_in in occasions.csv and enrol the plan as a revision");
      return;
    }
    if (made_.first_in && !turned_in_then(pass) && asked_.insert(pass.occasion->code).second)
      tell(pass.occasion->code + " is stated as " + hours + " hours after turn-in on " +
               format_date(pass.on) + ", but no event says that animals went in then",
           "mend the hours in occasions.csv, or the event on Trials");
  }

  // Days have no hour: from one day to another lie a day less to a day more than they are apart.
  [[nodiscard]] bool turned_in_then(const RatedPass& pass) const {
    return std::ranges::any_of(moved_, [&](const AnimalsMoved& each) {
      if (!each.in || each.on > pass.last_day()) return false;
      const double least = (days_between(each.on, pass.first_day()) - 1) * 24.0;
      const double most = (days_between(each.on, pass.last_day()) + 1) * 24.0;
      return least <= hours_of(pass) && hours_of(pass) <= most;
    });
  }

  const TrialFacts& trial_;
  const AnalysisOptions& options_;
  std::vector<AnimalsMoved> moved_;
  TrialRatings ratings_;
  std::set<std::string> asked_;  // passes whose hours were told of
  GrazingTest made_;
};

std::string grazing_lines(const std::string& test, const GrazedPass& pass) {
  std::string text;
  for (const EntryMean& entry : pass.analysis.means) {
    std::string mark;
    if (entry.in_top_group) mark = *entry.in_top_group ? "1" : "0";
    text += csv_line(std::vector<std::string>{
        test, std::string(name_of(pass.figure)), pass.measure,
        std::string(ligule::name_of(pass.direction)), std::to_string(pass.year), pass.pass,
        format_date(pass.on), pass.hours_after_turn_in, entry.entry, std::to_string(entry.plots),
        exact_or_empty(entry.mean), exact_or_empty(entry.standard_error),
        exact_or_empty(pass.analysis.lsd), mark});
  }
  return text;
}

}  // namespace

std::string_view name_of(GrazingFigure figure) {
  return std::ranges::find(kFigureNames, figure, &FigureName::first)->second;
}

std::optional<GrazingTest> grazing_of(const TrialFacts& trial, const std::string& test,
                                      const AnalysisOptions& options) {
  return GrazingFigures(trial, test, options).run();
}

std::string grazing_csv(std::span<const GrazingTest> tests, double alpha) {
  std::string text;
  for (const GrazingTest& test : tests)
    for (const GrazedPass& pass : test.passes) text += grazing_lines(test.test, pass);
  if (text.empty()) return {};
  return std::string("test,figure,measure,direction,year,pass,date,hours_after_turn_in,entry,n,") +
         "mean,se," + lsd_column(alpha) + ",in_top_group\n" + text;
}

}  // namespace ligule::results
