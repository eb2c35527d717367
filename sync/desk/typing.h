// Somebody types plot sheets, line by line.
#pragma once

#include "sync/desk/command.h"
#include "sync/gather/paper.h"

namespace ligule::desk {

enum class TypingEnd {
  kDone,  // what was typed is to be kept
  kQuit,  // nothing of it is
};

// Asks for plot after plot along the path, tells at once what is wrong with a line or asked about
// it, and adds what is right to the sheet. Ends with "done", "quit" or the end of what is typed.
[[nodiscard]] TypingEnd type_sheet(gather::PaperSheet& sheet, const std::string& unit,
                                   Console& console);

}  // namespace ligule::desk
