// Tests that livestock grazed: the stand before the first and after the last grazing, what the
// animals took first, and how much of the herbage they took.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/calendar.h"
#include "storage/trial/error.h"
#include "storage/trial/scale.h"
#include "sync/results/analysis.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

enum class GrazingFigure {
  kStandBeforeFirst,  // percent, at the last pass before animals first went in
  kStandAfterLast,    // percent, at the first pass after they last came out
  kStandKept,         // the second as a percent of the first, plot by plot (stand_kept.h)
  kPreference,        // score, at one pass
  kPercentRemoved,    // percent of the herbage, at one pass
};
// "stand_before_first", "stand_after_last", "stand_kept", "preference", "percent_removed"
[[nodiscard]] std::string_view name_of(GrazingFigure figure);

struct GrazedPass {
  GrazingFigure figure = GrazingFigure::kPreference;
  std::string measure;  // code; of stands the one they were rated by
  Direction direction = Direction::kNone;
  int year = 0;  // that the pass counts for; of what is kept as of the stand after
  std::string pass;
  CalendarDate on{};                // the day most of it is of
  std::string hours_after_turn_in;  // as the plan states them; empty: not stated
  Analysis analysis;                // nothing is marked where the direction is none
};

struct GrazingTest {
  std::string test;
  std::optional<CalendarDate> first_in;  // animals, of any block
  std::optional<CalendarDate> last_out;  // empty too while animals are in
  std::vector<GrazedPass> passes;        // by figure, then day, hours, code
  std::vector<std::string> notes;        // sentences for under the table
  std::vector<Error> notices;            // what can't be told, and how to mend it
};

// Empty of a test where no event says that animals went in or out and neither preference nor
// percent removed was rated. Which stands lie before and after is told by the events alone, which
// have days and no hours: a pass on the day animals went in or came out is neither. The stand is
// percent_stand where that was rated before and after, else frequency_grid. Options: design and
// alpha count.
[[nodiscard]] std::optional<GrazingTest> grazing_of(const TrialFacts& trial,
                                                    const std::string& test,
                                                    const AnalysisOptions& options);

// For every table of preference. That clovers are overgrazed easily because animals like them says
// University of Kentucky PR-481 (2002 clover grazing tolerance); the rest is common practice, no
// source.
inline constexpr const char* kGrazingCaution =
    "Neither end of preference is the better one: entries that animals like are easily grazed too "
    "close and may lose their stand. A preference score tells what these animals took first, not "
    "what feeds them best.";

// test,figure,measure,direction,year,pass,date,hours_after_turn_in,entry,n,mean,se,lsd_05,
// in_top_group
// A line for each pass and entry; numbers at full precision, what can't be had empty; direction as
// scales have it ("none"). Empty without a test that has a pass.
[[nodiscard]] std::string grazing_csv(std::span<const GrazingTest> tests, double alpha = 0.05);

}  // namespace ligule::results
