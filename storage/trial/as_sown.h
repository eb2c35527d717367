// What a plot really holds, as a dated record: analysis believes this, not the plan.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"
#include "storage/trial/record.h"

namespace ligule {

enum class AsSownStatus {
  kAsPlanned,  // confirmed
  kHolds,      // holds another entry of the trial than planned
  kUnknown,    // nobody can say: out of results
  kReseeded,   // sown again on the date; counts as its entry, shown in foot notes
  kAbandoned,  // no longer a plot of the trial: out of results from the date on
};

struct AsSown {
  PlotId plot;
  AsSownStatus status = AsSownStatus::kAsPlanned;
  std::optional<EntryId> holds;  // kHolds only
  CalendarDate since{};
  std::string reason;

  bool operator==(const AsSown&) const = default;
};

[[nodiscard]] std::string_view name_of(AsSownStatus status);
[[nodiscard]] Result<AsSownStatus> parse_as_sown_status(std::string_view text);

// A record of kind as_sown says it: subject the plot, entered the status, details {"since": date,
// "entry": id}. Fills those fields of an otherwise prepared record.
void write_as_sown(const AsSown& what, Record& record);
// kInvalid when the record is of another kind or lacks a part.
[[nodiscard]] Result<AsSown> read_as_sown(const Record& record);

}  // namespace ligule
