// Plot weights from a file into a ledger, by the same rules as on the tablet.
//
// Nobody can be asked at a desk: what a rule would ask about is kept on hold with the rule named,
// unless whoever takes the file in stated that it is accepted. A plot that has a weight keeps it
// unless corrections are asked for. All of the file or nothing.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/checks/rules.h"
#include "storage/files/faults.h"
#include "storage/ledger/ledger.h"
#include "storage/trial/details.h"
#include "storage/trial/plan.h"
#include "storage/trial/record.h"
#include "sync/gather/weight_file.h"

namespace ligule::gather {

// What of a rule's question stands in the answers of a record: nobody was asked, or whoever took
// the file in accepted it. Written into records: never change a text.
inline constexpr std::string_view kNotAsked = "not_asked";
inline constexpr std::string_view kAccepted = "accepted";
// Of a run that cut lower than its species bear; as the tablet writes it.
inline constexpr std::string_view kLowStubble = "stubble_low";
inline constexpr std::string_view kGoOnLow = "go_on_low";

struct TakeIn {
  ledger::KnownPlan plan;
  PlanOccasion cutting;
  std::string unit;                  // of gross and tare, one of the scale's
  std::string sample_unit;           // of the samples; empty where the file has none
  std::optional<CalendarDate> date;  // of rows without one of their own
  std::string person;                // initials of whoever weighed
  Details run;                      // machine, surface, cut_width, stubble: as FORMAT.md 5 has them
  std::vector<std::string> accept;  // rules whose questions are accepted
  std::string correct;              // reason of corrections; empty: what stands is left as it is
  bool on_paper = false;            // it was typed from sheets of paper
  std::string sha256;               // of the file, hex
  Stamp now;
};

// A value that is to be kept.
struct TakenValue {
  const WeightRow* row = nullptr;  // never null; lives as long as the file
  std::string measure;
  Uuid plot;
  int part = 1;
  bool of_bag = false;  // a bag's value
  // The bag that it is of, or that a number names where another plot was given it first: one that
  // the ledger holds, else that of a row of the file. Neither: the number's own.
  std::optional<RecordId> bag;
  const WeightRow* bag_row = nullptr;
  const Scale* scale = nullptr;  // never null
  EnteredValue value;
  ValueState state = ValueState::kValue;
  std::vector<Answer> answers;
  Stamp at;
  std::optional<Record> replaces;
};

struct TakenIn {
  std::vector<TakenValue> values;
  bool clock = true;     // rows tell the time of day; false: noon stands for it
  bool low = false;      // the stubble is lower than the species bear, and that was accepted
  std::size_t same = 0;  // values that the ledger holds already
  std::size_t corrected = 0;
  std::vector<Error> on_hold;            // what, and which rule
  std::vector<Error> notices;            // odd, but it may be meant
  std::vector<std::string> not_in_file;  // plots of the plan, along the path
};

// The arguments that can't be as they are, before a file is looked at: a unit that the scales do
// not take (those known are named), a rule that asks nothing, a stubble or cut width that is no
// length.
[[nodiscard]] files::Faults take_in_faults(const TakeIn& wish, const WeightColumns& columns,
                                           const Definitions& definitions);

// Holds every row of the file against plan, rules and ledger. Faults, all of them: a plot that is
// not in the plan, one that stands twice, what is no number, date or time, what a rule refuses, a
// sample without its bag, weights that stand otherwise, stubble lower than the species bear.
[[nodiscard]] files::Checked<TakenIn> judge_weights(const ledger::Ledger& ledger,
                                                    const WeightFile& file, const TakeIn& wish,
                                                    const Definitions& definitions);

// The records of what was judged, as one act: scales that the ledger does not hold, limits that its
// stream was not last told of, the person where they are new, a harvest run for each day, then the
// values.
[[nodiscard]] Result<std::vector<Record>> records_of(const ledger::Ledger& ledger,
                                                     const WeightFile& file, const TakeIn& wish,
                                                     const TakenIn& taken,
                                                     const Definitions& definitions,
                                                     UuidSequence& ids);

}  // namespace ligule::gather
