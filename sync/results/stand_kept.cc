#include "sync/results/stand_kept.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

#include "storage/trial/as_sown.h"

namespace ligule::results {
namespace {

const PlotValue* row_of(const RatedPass& pass, const std::string& plot) {
  const auto found = std::ranges::find(pass.values, Label(plot), &PlotValue::plot);
  return found == pass.values.end() ? nullptr : &*found;
}

// Of several statements of one day the one recorded last counts.
bool was_sown_again(const TrialFacts& trial, const PlanPlot& plot, CalendarDate from,
                    CalendarDate until) {
  struct Last {
    std::pair<UtcInstant, RecordId> recorded;
    AsSownStatus status = AsSownStatus::kAsPlanned;
  };
  std::map<CalendarDate, Last> by_day;
  for (const Record& record : trial.as_sown) {
    if (record.subject != trial.plan.plot(plot).uuid) continue;
    const Result<AsSown> said = read_as_sown(record);
    if (!said || said->since < from || said->since >= until) continue;
    const std::pair recorded(record.at.utc, record.id);
    const auto [at, fresh] = by_day.try_emplace(said->since, Last{recorded, said->status});
    if (!fresh && at->second.recorded < recorded) at->second = {recorded, said->status};
  }
  return std::ranges::any_of(
      by_day, [](const auto& of) { return of.second.status == AsSownStatus::kReseeded; });
}

// One plot after the other, each into the list where it belongs.
class KeptByPlot {
 public:
  KeptByPlot(const TrialFacts& trial, const RatedPass& earlier, const RatedPass& later)
      : trial_(trial), earlier_(earlier), later_(later) {}

  void add(const PlanPlot& plot) {
    const PlotValue* const first = row_of(earlier_, plot.number);
    const PlotValue* const last = row_of(later_, plot.number);
    if (first == nullptr && last == nullptr) return;
    const bool both = first != nullptr && last != nullptr;
    if (both && first->entry != last->entry) {
      kept_.another_entry.push_back(plot.number);
      return;
    }
    if (both && first->value && last->value &&
        was_sown_again(trial_, plot, earlier_.days.at(plot.number), later_.days.at(plot.number))) {
      kept_.sown_again.push_back(plot.number);
      return;
    }
    PlotValue row = first != nullptr ? *first : *last;
    row.year.reset();
    row.cutting = "left";
    row.value = percent_of(plot.number, first, last);
    rows_.push_back(std::move(row));
  }

  StandKept take(const AnalysisOptions& options) {
    kept_.percent = analysis_of_pass(rows_, options, Best::kHighest);
    return std::move(kept_);
  }

 private:
  std::optional<double> percent_of(const std::string& plot, const PlotValue* first,
                                   const PlotValue* last) {
    if (first == nullptr || !first->value) {
      kept_.not_rated_first.push_back(plot);
    } else if (!(*first->value > 0.0)) {
      kept_.began_at_zero.push_back(plot);
    } else if (last == nullptr || !last->value) {
      kept_.not_rated_last.push_back(plot);
    } else {
      return 100.0 * *last->value / *first->value;
    }
    return std::nullopt;
  }

  const TrialFacts& trial_;
  const RatedPass& earlier_;
  const RatedPass& later_;
  StandKept kept_;
  std::vector<PlotValue> rows_;
};

void note_plots(std::vector<std::string>& notes, const std::vector<std::string>& plots,
                const std::string& what) {
  if (plots.empty()) return;
  std::string text =
      std::to_string(plots.size()) + (plots.size() == 1 ? " plot " : " plots ") + what + ": ";
  for (std::size_t n = 0; n < plots.size(); ++n) text += (n == 0 ? "" : ", ") + plots[n];
  notes.push_back(text + ".");
}

}  // namespace

StandKept stand_kept(const TrialFacts& trial, const RatedPass& earlier, const RatedPass& later,
                     const AnalysisOptions& options) {
  KeptByPlot kept(trial, earlier, later);
  for (const PlanPlot& plot : trial.plan.along_path()) kept.add(plot);
  return kept.take(options);
}

std::vector<std::string> kept_notes(const StandKept& kept) {
  std::vector<std::string> notes;
  note_plots(notes, kept.began_at_zero, "began at 0 and can have nothing left");
  note_plots(notes, kept.not_rated_first, "without a first stand");
  note_plots(notes, kept.not_rated_last, "without a last stand");
  note_plots(notes, kept.sown_again, "sown again in between, left out");
  note_plots(notes, kept.another_entry,
             "held another entry at the last stand than at the first, left out");
  return notes;
}

}  // namespace ligule::results
