// A row of a file of weights in its place, and what its values are held against: the row's other
// weights, what the file said before it, what the ledger holds, and the plot's season. For this
// room only.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>
#include <vector>

#include "storage/checks/history.h"
#include "sync/gather/plot_season.h"
#include "sync/gather/standing_weights.h"
#include "sync/gather/take_in.h"

namespace ligule::gather {

struct WeighedLine {
  std::string_view column;
  std::string_view measure;
  bool sample = false;  // of the bag, in the samples' unit
};
// The bag before its samples, whose subject it is.
inline constexpr std::array kWeighedLines{
    WeighedLine{column::kGross, measure::kGrossWeight},
    WeighedLine{column::kTare, measure::kTareWeight},
    WeighedLine{column::kBag, measure::kBagNumber},
    WeighedLine{column::kSampleFresh, measure::kSampleFresh, true},
    WeighedLine{column::kSampleDry, measure::kSampleDry, true}};

// Where a row's plot stands, with what belongs to it.
struct RowAt {
  const WeightRow* row;
  const PlanPlot* plot;
  Uuid subject;
  int part = 1;
  Stamp stamp;
  std::optional<RecordId> bag;         // of its samples: that the ledger holds
  const WeightRow* bag_row = nullptr;  // else that a row of the file brings, it or one before
  bool shares = false;                 // its number is that of a bag another plot was given
};

// A bag number of the file that is a bag of its own.
struct BagInFile {
  std::string number;
  const WeightRow* row;
  const PlanPlot* plot;
  int part;
  CalendarDate day;
  std::optional<RecordId> held;  // the reading that the bag is named by, where there is one
  bool open;                     // no dried weight beside it
};

// What a row says of a bag.
struct BagSaid {
  std::size_t line;
  EnteredValue value;
  std::optional<Kilograms> mass;
};

class RowHistory {
 public:
  // All three must outlive it; `held` may be filled until read().
  RowHistory(const WeightFile& file, const TakeIn& wish, const StandingWeights& held);
  // Reads the plots' season; the definitions must outlive it. Errors: those of reading the ledger.
  Result<void> read(const ledger::Ledger& ledger, const Definitions& definitions);

  [[nodiscard]] std::string unit_of(const WeighedLine& line) const;
  // Of one of the row's values.
  [[nodiscard]] checks::History history_of(const RowAt& at, const WeighedLine& line) const;

  // What the file said so far.
  [[nodiscard]] const std::vector<BagInFile>& bags() const { return bags_; }
  void numbered(const RowAt& at, const std::string& number);
  void tared(const RowAt& at, const WeighedLine& line);  // a tare that nobody questions
  void weighed(const RowAt& at);
  // Null, and noted, where nothing was said of that bag before; else what was said first.
  const BagSaid* said_of_bag(const RowAt& at, const WeighedLine& line, const EnteredValue& value);

 private:
  // A bag, whoever holds it, and what is weighed of it.
  using BagValue = std::tuple<std::optional<RecordId>, const WeightRow*, std::string_view>;

  [[nodiscard]] std::optional<Kilograms> said_in(const WeightRow& row,
                                                 const WeighedLine& line) const;
  // What the row says, else what the ledger holds.
  [[nodiscard]] std::optional<Kilograms> mass_at(const RowAt& at, const WeighedLine& line) const;
  // What a plot's bags hold, by the file, else by the ledger, but for one of them (0: all); empty:
  // there are none.
  [[nodiscard]] std::optional<Kilograms> forage(const PlanPlot& plot, int but) const;
  // Whether the file weighs no later bag of that plot.
  [[nodiscard]] bool last_of_file(const RowAt& at) const;
  // Weighed bags of a plot, by file and ledger.
  [[nodiscard]] std::set<int> parts(const PlanPlot& plot) const;
  void add_limits(const RowAt& at, const WeighedLine& line, checks::History& history) const;
  void add_open_bags(const RowAt& at, checks::History& history) const;

  const WeightFile& file_;
  const TakeIn& wish_;
  const StandingWeights& held_;
  const Plan& plan_;
  const Definitions* definitions_ = nullptr;
  PlotSeason season_;
  OccasionId occasion_;
  std::map<std::pair<std::string, int>, const WeightRow*> rows_;  // by plot and part
  std::optional<AmongOthers> others_;
  std::vector<BagInFile> bags_;
  std::map<BagValue, BagSaid> bag_values_;
  std::optional<Kilograms> tare_;                 // that nobody questions, the last one
  std::optional<checks::EnteredWeight> weighed_;  // of the row before
  CalendarDate weighed_day_{};
};

}  // namespace ligule::gather
