#include "sync/results/stand_persistence.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <string_view>
#include <tuple>
#include <utility>

#include "storage/trial/rated_before.h"
#include "sync/results/labels.h"
#include "sync/results/rated_passes.h"
#include "sync/results/ratings.h"
#include "sync/results/stand_kept.h"

namespace ligule::results {
namespace {

constexpr std::array<std::string_view, 2> kStandMeasures = {"frequency_grid", kPercentStand};

// The first and the last pass an entry was rated at, as indices.
using PassSpan = std::pair<std::size_t, std::size_t>;

std::optional<double> years_between(CalendarDate sown, CalendarDate day) {
  if (!sown.ok() || day < sown) return std::nullopt;
  return std::round(days_between(sown, day) / 365.25 * 10.0) / 10.0;
}

const EntryMean* mean_of_entry(const Analysis& analysis, const std::string& entry) {
  const auto found = std::ranges::find(analysis.means, entry, &EntryMean::entry);
  return found == analysis.means.end() ? nullptr : &*found;
}

std::optional<double> stand_of(const StandPass& pass, const std::string& entry) {
  const EntryMean* const mean = mean_of_entry(pass.stand, entry);
  return mean == nullptr ? std::nullopt : mean->mean;
}

StandEnd end_of(const StandPass& pass, const std::string& entry) {
  return {pass.year, pass.pass, pass.on, stand_of(pass, entry)};
}

class Persistence {
 public:
  Persistence(const TrialFacts& trial, const std::string& test, const std::string& measure,
              const AnalysisOptions& options, std::vector<Error>& notices)
      : trial_(trial), test_(test), measure_(measure), options_(options), notices_(notices) {}

  std::optional<StandPersistence> run(std::vector<RatedPass> passes) {
    leave_out_thin(passes);
    const auto spans = spans_of(passes);
    const std::optional<PassSpan> shared = shared_span(spans);
    if (!shared) return std::nullopt;
    StandPersistence made{test_, measure_, trial_.plan.sown, {}, {}, {}, {}};
    const StandKept kept = kept_over(passes, *shared, spans);
    made.left = kept.percent;
    made.notes = kept_notes(kept);
    add_passes(passes, kept, made);
    for (const auto& [entry, span] : spans) add_entry(entry, span, span == *shared, made);
    return made;
  }

 private:
  void tell(const std::string& what, const std::string& mend) {
    notices_.push_back({ErrorKind::kRefused, measure_ + ": " + what, test_, mend});
  }

  void leave_out_thin(std::vector<RatedPass>& passes) {
    std::erase_if(passes, [&](const RatedPass& pass) {
      if (2 * pass.days.size() >= pass.values.size()) return false;
      tell(pass.occasion->code + " has values of " + std::to_string(pass.days.size()) + " of " +
               std::to_string(pass.values.size()) + " plots: it is no pass of stand persistence",
           "rate the other plots");
      return true;
    });
  }

  static std::map<std::string, PassSpan> spans_of(const std::vector<RatedPass>& passes) {
    std::map<std::string, PassSpan> spans;
    for (std::size_t n = 0; n < passes.size(); ++n) {
      for (const PlotValue& value : passes[n].values) {
        if (value.value) spans.try_emplace(value.entry, n, n).first->second.second = n;
      }
    }
    return spans;
  }

  // The one that most entries share; of several the one that ends last, then begins first.
  static std::optional<PassSpan> shared_span(const std::map<std::string, PassSpan>& spans) {
    std::map<PassSpan, std::size_t> counts;
    for (const auto& [entry, span] : spans)
      if (span.first < span.second) ++counts[span];
    const auto most = std::ranges::max_element(counts, [](const auto& a, const auto& b) {
      return std::tuple(a.second, a.first.second, b.first.first) <
             std::tuple(b.second, b.first.second, a.first.first);
    });
    return most == counts.end() ? std::nullopt : std::optional(most->first);
  }

  [[nodiscard]] StandKept kept_over(const std::vector<RatedPass>& passes, PassSpan span,
                                    const std::map<std::string, PassSpan>& spans) const {
    const auto of_others = [&](const PlotValue& value) {
      const auto at = spans.find(value.entry);
      return at == spans.end() || at->second != span;
    };
    RatedPass first = passes[span.first];
    RatedPass last = passes[span.second];
    std::erase_if(first.values, of_others);
    std::erase_if(last.values, of_others);
    return stand_kept(trial_, first, last, options_);
  }

  void add_passes(const std::vector<RatedPass>& passes, const StandKept& kept,
                  StandPersistence& made) const {
    std::set<std::string> out(kept.sown_again.begin(), kept.sown_again.end());
    out.insert(kept.another_entry.begin(), kept.another_entry.end());
    for (const RatedPass& pass : passes) {
      std::vector<PlotValue> values = pass.values;
      std::erase_if(values, [&](const PlotValue& value) { return out.contains(value.plot); });
      made.passes.push_back({pass.occasion->year, pass.occasion->code, pass.on,
                             analysis_of_pass(values, options_, Best::kHighest)});
    }
  }

  void add_entry(const std::string& label, PassSpan span, bool shares, StandPersistence& made) {
    const StandPass& first = made.passes[span.first];
    const StandPass& last = made.passes[span.second];
    if (!shares)
      tell("what is left of " + label + " can't be held against the others: it was rated " +
               (span.first == span.second ? "at " + first.pass + " only"
                                          : "from " + first.pass + " to " + last.pass),
           "rate all entries at the first and at the last pass");
    EntryStand entry;
    entry.entry = label;
    entry.first = end_of(first, label);
    entry.last = end_of(last, label);
    entry.years_in_ground = years_between(made.sown, last.on);
    if (const EntryMean* const left = mean_of_entry(made.left, label); shares && left != nullptr) {
      entry.plots = left->plots;
      entry.percent_left = left->mean;
      entry.standard_error = left->standard_error;
      entry.in_top_group = left->in_top_group;
      entry.rank = left->rank;
    }
    made.entries.push_back(std::move(entry));
  }

  const TrialFacts& trial_;
  const std::string& test_;
  std::string measure_;
  const AnalysisOptions& options_;
  std::vector<Error>& notices_;
};

void add_end(std::vector<std::string>& fields, const StandEnd& end) {
  fields.push_back(std::to_string(end.year));
  fields.push_back(end.pass);
  fields.push_back(format_date(end.on));
  fields.push_back(exact_or_empty(end.stand));
}

}  // namespace

StandTables stand_persistence_of(const TrialFacts& trial, const std::string& test,
                                 const AnalysisOptions& options) {
  StandTables all;
  const TrialRatings ratings = ratings_of(trial, test);
  for (const MeasureValues& measure : ratings.measures) {
    if (std::ranges::find(kStandMeasures, measure.measure) == kStandMeasures.end()) continue;
    std::vector<RatedPass> passes = rated_passes(trial, measure);
    if (passes.size() < 2) continue;
    Persistence persistence(trial, test, measure.measure, options, all.notices);
    if (auto made = persistence.run(std::move(passes))) all.tables.push_back(*std::move(made));
  }
  return all;
}

std::vector<StandCourse> stand_courses(const StandPersistence& of) {
  std::vector<StandCourse> courses;
  for (const EntryStand& entry : of.entries) {
    StandCourse course{entry.entry, {}};
    for (const StandPass& pass : of.passes) course.stands.push_back(stand_of(pass, entry.entry));
    courses.push_back(std::move(course));
  }
  return courses;
}

std::string stand_persistence_csv(std::span<const StandPersistence> tables, double alpha) {
  if (tables.empty()) return {};
  std::string text =
      std::string("test,measure,entry,first_year,first_pass,first_date,first_stand,last_year,") +
      "last_pass,"
      "last_date,last_stand,years_in_ground,n,percent_left,se," +
      lsd_column(alpha) + ",in_top_group\n";
  for (const StandPersistence& table : tables) {
    for (const EntryStand& entry : table.entries) {
      std::vector<std::string> fields = {table.test, table.measure, entry.entry};
      add_end(fields, entry.first);
      add_end(fields, entry.last);
      fields.push_back(exact_or_empty(entry.years_in_ground));
      fields.push_back(std::to_string(entry.plots));
      fields.push_back(exact_or_empty(entry.percent_left));
      fields.push_back(exact_or_empty(entry.standard_error));
      fields.push_back(entry.percent_left ? exact_or_empty(table.left.lsd) : std::string());
      fields.emplace_back(entry.in_top_group ? (*entry.in_top_group ? "1" : "0") : "");
      text += csv_line(fields);
    }
  }
  return text;
}

}  // namespace ligule::results
