// Values of a rating that were written on plot sheets, by the same rules as on the tablet.
//
// Nobody who types a sheet has the plot in front of them: what a rule would ask about is kept on
// hold with the rule named, unless whoever types stated that it is accepted. What stands is never
// overwritten. All of it is kept in one act, or nothing.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/checks/rules.h"
#include "storage/files/faults.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/sheet_columns.h"
#include "sync/gather/ratings_before.h"
#include "sync/gather/standing_weights.h"

namespace ligule::gather {

// Details of a record that was typed from paper: when that was, by the desk's wall. Written into
// records: never change a text.
inline constexpr std::string_view kTypedIn = "typed_in";

struct FromPaper {
  ledger::KnownPlan plan;
  PlanOccasion occasion;
  std::string rater;                // initials on the sheet
  CalendarDate date{};              // on the sheet
  std::string unit;                 // of lengths; empty: the first of each scale
  bool names_printed = false;       // the sheet named the entries
  std::vector<std::string> accept;  // rules whose questions are accepted
  std::string file, sha256;         // the table, hex; empty: typed line by line
  Stamp now{};
};

// One plot of a sheet, as it was typed.
struct PaperLine {
  std::string where;  // "stand.csv line 4"; empty where somebody sits in front of it
  std::string raw;    // as it was typed
  std::string plot;
  std::map<std::string, std::string> texts;  // by measure; left out: nothing was seen
};

// A value that is to be kept.
struct PaperValue {
  Uuid plot;
  std::string measure;
  int part = 1;
  const Scale* scale = nullptr;  // never null
  EnteredValue value;
  ValueState state = ValueState::kValue;
  std::vector<Answer> answers;
  std::string raw;
  std::optional<Record> replaces;  // of state later
};

struct JudgedLine {
  std::string plot;
  std::vector<PaperValue> values;
  std::size_t same = 0;        // readings that stand there already
  std::vector<Error> on_hold;  // what, and which rule
  std::vector<Error> notices;  // odd, but it may be meant
};

// The arguments that can't be as they are: a date that is still to come, nothing of the occasion
// that is typed from paper (the way of its weights is told), a unit that no column takes, a rule
// that asks nothing.
[[nodiscard]] files::Faults from_paper_faults(const FromPaper& wish,
                                              const Definitions& definitions);

// The sheets of one person and day, plot by plot.
class PaperSheet {
 public:
  // The wish, the ledger and the definitions must outlive it. Errors: those of reading the ledger.
  static Result<PaperSheet> read(const ledger::Ledger& ledger, const FromPaper& wish,
                                 const Definitions& definitions);

  // All columns of the sheet; those that are typed here; plots on it, along the path.
  [[nodiscard]] const std::vector<SheetColumn>& columns() const { return columns_; }
  [[nodiscard]] std::vector<SheetColumn> typed_here() const;
  [[nodiscard]] const std::vector<std::string>& path() const { return path_; }
  // Everything that is typed here stands for the plot already, or was typed.
  [[nodiscard]] bool is_done(const std::string& plot) const;
  // What of a plot's sheet may be odd all over: the year, a rating that was closed.
  [[nodiscard]] const std::vector<Error>& notices() const { return notices_; }

  // Holds a line against plan, rules, ledger and the lines before it, and adds it where nothing is
  // wrong with it. Faults, all of them: a plot that is not in the plan or not in this rating, one
  // that was typed before, what can't be read or is refused, what stands otherwise, a date reached
  // that contradicts another visit, a measure that is typed elsewhere.
  [[nodiscard]] files::Checked<JudgedLine> add(const PaperLine& line);
  // Takes the last line back and gives its plot; nothing: there is none.
  std::optional<std::string> take_back();
  [[nodiscard]] const std::vector<JudgedLine>& lines() const { return lines_; }
  // The records of all lines, as one act: scales that the ledger does not hold, limits that its
  // stream was not last told of, the person where they are new, then the values.
  [[nodiscard]] Result<std::vector<Record>> records(UuidSequence& ids) const;

 private:
  struct Box;
  explicit PaperSheet(const ledger::Ledger& ledger, const FromPaper& wish,
                      const Definitions& definitions);
  Result<void> look_at_events();
  [[nodiscard]] const PlanPlot* find_plot(const PaperLine& line, files::Faults& faults) const;
  void look_at_measure(const std::string& measure, const PaperLine& line,
                       files::Faults& faults) const;
  void judge_box(const Box& box, JudgedLine& judged, files::Faults& faults) const;
  void judge_reading(const Box& box, PaperValue value, const std::string& text, JudgedLine& judged,
                     files::Faults& faults) const;
  // Why a rule does not take it.
  [[nodiscard]] Error refusal(const Box& box, const std::string& text, const std::string& unit,
                              const checks::Finding& finding) const;
  // Whether the reading is new, or only put off until now; what stands there is counted or told.
  [[nodiscard]] bool is_new(const Box& box, PaperValue& value, JudgedLine& judged,
                            files::Faults& faults) const;
  [[nodiscard]] bool fits_visits(const Box& box, const PaperValue& value,
                                 files::Faults& faults) const;
  [[nodiscard]] int first_part(const Box& box, const std::string& text) const;
  [[nodiscard]] checks::History history_of(const Box& box) const;

  const ledger::Ledger* ledger_;
  const FromPaper* wish_;
  const Definitions* definitions_;
  const Plan* plan_;
  std::vector<SheetColumn> columns_;
  std::vector<std::string> path_;
  RatingsBefore ratings_;
  StandingWeights held_;
  bool names_shown_ = false;  // to the rater, of this occasion
  std::vector<Error> notices_;
  std::vector<JudgedLine> lines_;
  std::map<std::string, std::string> typed_;  // plot to where its line stands
};

}  // namespace ligule::gather
