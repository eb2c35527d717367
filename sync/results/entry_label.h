// The parts of an entry's label: its variety, and the endophyte it stands with.
//
// Results print an entry as PlanEntry::label() does, "Alder Brook (novel AX1)"; old spreadsheets
// write "Alder Brook E+" or "Alder Brook endophyte-free". Words for a status, as the trade uses
// them: toxic, wild-type, E+; endophyte-free, E-; novel, beneficial. Source: the classes in
// Grassland Renewal (novel endophyte) and the Oregon monograph on tall fescue.
#pragma once

#include <string>
#include <string_view>

#include "storage/trial/plan.h"

namespace ligule::results {

struct EntryLabel {
  std::string variety;
  Endophyte endophyte = Endophyte::kNotStated;
  std::string strain;  // what stands behind the status; may be empty
};

// A label without a word for a status is the name of a variety alone; so is its first word,
// whatever it says.
[[nodiscard]] EntryLabel split_label(std::string_view label);

// Whether both say the same of the endophyte: status, and strain but for how it is spelled ("AX-1",
// "AX1"). A status and none are not the same.
[[nodiscard]] bool same_endophyte(const EntryLabel& a, const EntryLabel& b);

// "novel AX1", "endophyte-free", "toxic", "no endophyte stated".
[[nodiscard]] std::string endophyte_words(const EntryLabel& label);

}  // namespace ligule::results
