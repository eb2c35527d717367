// A line that somebody types from a plot sheet: a plot and its values, or what to do next.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "sync/gather/paper.h"

namespace ligule::gather {

enum class Typed {
  kNothing,  // an empty line
  kValues,   // of a plot
  kGoTo,     // another plot is next
  kBack,     // the last line is taken back
  kDone,     // all of it is kept
  kQuit,     // nothing of it is kept
  kHelp,
};

struct TypedLine {
  Typed what = Typed::kNothing;
  PaperLine line = {};  // kValues; of kGoTo the plot
};

// "107 85 3" values of plot 107 in the order of the columns, "85 3" those of the plot that is
// offered, "-" in the place of one that was left open, alone for all of them; what stands behind
// ';' is the note. Words: to 107, back, done, quit, help. columns: those that are typed; `offered`
// may be empty. kInvalid: more or fewer values than columns, a note where none is asked for.
[[nodiscard]] Result<TypedLine> parse_typed_line(std::string_view text,
                                                 std::span<const SheetColumn> columns,
                                                 const std::string& offered);

}  // namespace ligule::gather
