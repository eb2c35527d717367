// When a value was first said, where the record that stands only restates it.
#pragma once

#include <functional>
#include <optional>

#include "storage/trial/record.h"

namespace ligule {

// Whether a record says again what was said before (weeds only, a doubt about the scale, an
// exchange or that there was none, a slide, something taken back, a settlement), so that its stamp
// is not that of the value.
[[nodiscard]] bool only_restates(const Record& record);
// Whether both say the same: what was entered, its unit, and but for a settlement, which is a tap
// on one of the values it settles, the source and the indicator's line.
[[nodiscard]] bool says_the_same(const Record& a, const Record& b);

// Gives a record by its id; nothing: it is not held here.
using FindRecord = std::function<Result<std::optional<Record>>(RecordId)>;
// The record that first said what this one says: back along `moved_from` and targets as long as
// they only restate. The record itself, or the earliest that is held. Errors are those of `find`.
[[nodiscard]] Result<Record> first_said(Record record, const FindRecord& find);

// When the plot, bag or part was first given this or what it replaces, since it was put off last:
// whoever puts a value right later did not see it later. Errors are those of `find`.
[[nodiscard]] Result<Stamp> first_given(const Record& record, const FindRecord& find);

}  // namespace ligule
