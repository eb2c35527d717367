#include <array>
#include <string>

#include "app/program/drive.h"
#include "tests/fuzz/require.h"
#include "tests/fuzz/targets.h"

namespace ligule::fuzz {
namespace {

using program::Action;
using program::Verb;

std::string in_quotes(std::string_view text) {
  std::string line = " \"";
  for (const char c : text) {
    if (c == '"' || c == '\\') line += '\\';
    if (c == '\n')
      line += "\\n";
    else
      line += c;
  }
  return line + '"';
}

std::string line_of(const Action& action) {
  constexpr std::array<std::string_view, 11> kWords{
      "tap",  "type",   "swipe left", "swipe right", "swipe up", "swipe down",
      "wait", "expect", "shot",       "list",        "quit"};
  std::string line(kWords.at(static_cast<std::size_t>(action.verb)));
  if (action.verb == Verb::kWait) return line + ' ' + std::to_string(action.ms);
  return action.text.empty() ? line : line + in_quotes(action.text);
}

}  // namespace

void drive_file(std::string_view input) {
  const auto actions = program::parse_drive(input, "day.drive");
  if (!actions) {
    require(!actions.error().what.empty() && !actions.error().where.empty(),
            "a fault says what and where");
    return;
  }
  // One action a line, empty lines between, as the numbers of lines say.
  std::string again;
  int line = 1;
  for (const Action& action : *actions) {
    require(action.line >= line, "actions stand in the order of their lines");
    again.append(static_cast<std::size_t>(action.line - line), '\n');
    again.append(line_of(action)).append("\n");
    line = action.line + 1;
  }
  const auto read = program::parse_drive(again, "day.drive");
  require(read.has_value() && *read == *actions, "a drive file written anew plays the same");
}

}  // namespace ligule::fuzz
