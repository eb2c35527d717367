// What a scale's indicator sends: one ASCII line a reading, in a form described as data.
//
// No public standard fixes these lines, so assets/indicators.json holds forms, and a new indicator
// is a new entry there. A form is a template: {weight} the number with its sign, {unit},
// {stability}, {load} words of the entry's own tables; a blank stands for any blanks or none;
// anything else stands for itself. Pure: files are read above, ports beside.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "storage/trial/error.h"

namespace ligule::scale {

enum class Stability { kUnsaid, kStable, kMoving };
// OIML R 76's words: what the number is the weight of.
enum class Load { kUnsaid, kGross, kNet, kTare };

enum class PieceKind { kLiteral, kBlanks, kWeight, kUnit, kStability, kLoad };
struct Piece {
  PieceKind kind = PieceKind::kLiteral;
  std::string text = {};  // of a literal

  bool operator==(const Piece&) const = default;
};

struct LineForm {
  std::string code;  // "word_flags"
  // What a person chooses by, by language; English is always among them.
  std::map<std::string, std::string, std::less<>> names;
  std::vector<Piece> pieces;
  char decimal = '.';                                       // never guessed
  std::map<std::string, Stability, std::less<>> stability;  // word on the line -> meaning; "": none
  std::map<std::string, Load, std::less<>> load;
  std::map<std::string, std::string, std::less<>> units;  // word on the line -> our unit
  std::string unit;                   // of a line that says none; empty: such a line is no reading
  std::vector<std::string> overload;  // whole lines, blanks at the ends aside
  std::vector<std::string> underload;
  std::string request = {};  // what asks for a line; empty: it streams

  bool operator==(const LineForm&) const = default;
};

// More digits than these are noise: a double holds no more, and sums of them would not fit.
inline constexpr std::size_t kMostDigits = 15;

// A weight as it was sent.
struct Reading {
  std::string entered;  // sign and digits with a decimal point, nothing rounded: "12.345", "-0.02"
  double value = 0;     // the same, parsed once
  int decimals =
      0;  // digits behind the point: one step of the last is the scale interval d we can see
  std::string unit;  // "kg", "lb", "g"
  bool unit_said = false;
  Stability stability = Stability::kUnsaid;
  Load load = Load::kUnsaid;
  std::string raw;  // the line as received, without its end

  bool operator==(const Reading&) const = default;
};
struct Overload {
  std::string raw;
  bool operator==(const Overload&) const = default;
};
struct Underload {
  std::string raw;
  bool operator==(const Underload&) const = default;
};
// A line that is no reading of this form.
struct Garbled {
  std::string raw;
  std::string why;  // "no number where one should be"
  bool operator==(const Garbled&) const = default;
};
using Line = std::variant<Reading, Overload, Underload, Garbled>;

// Reads one line, without its end. A number with grouping ("1.234,5" or "1,234.5") is garbled:
// which mark is the point is set, not guessed.
[[nodiscard]] Line read_line(const LineForm& form, std::string_view raw);

// The forms of a file's text; `where` names it. kInvalid with the entry and the key at fault: a
// form without {weight}, a word with an unknown meaning, a unit that is no unit of mass, a code
// twice.
[[nodiscard]] Result<std::vector<LineForm>> parse_line_forms(std::string_view json,
                                                             std::string_view where);

}  // namespace ligule::scale
