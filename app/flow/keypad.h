// What is being typed: texts by field, and which field the keys go to.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <string_view>

namespace ligule::flow {

enum class Field {
  kInitials,
  kNote,
  kAmount,    // value of a measure on a rating card, or a stake that was scanned there
  kMachine,   // head of a harvest run
  kCutWidth,  // a length with its unit, as the crew says it
  kStubble,
  kPlot,  // number on the stake to go to
  kGross,
  kTare,
  kBag,  // number on the sample bag
  kSampleFresh,
  kSwathLength,  // of the strip that was cut, ends trimmed
  kSwathWidth,
  kWeedsByEye,      // percent, of the plot being weighed
  kCheckMass,       // of a check weight
  kCheckAllowance,  // how far off the scale may be
  kDryBag,          // number of the bag being weighed in the drying room
  kDryFresh,        // its fresh weight, where the field's scale did not take it
  kDryWeight,
  kSortPlot,   // stake or bag of the sample to be sorted
  kSortWhole,  // it weighs fresh, unsorted
  kSortBag,    // number on the bag of a part
  kSortFresh,  // the part weighs fresh, with it
  kOvenCelsius,
  kOvenHours,
};

enum class FieldKind {
  kWords,   // anything
  kLabel,   // letters, digits, point, hyphen, underscore: a stake or a bag; of a stake the stroke
            // too
  kNumber,  // digits and points; a minus stands until it is refused
  kCode,    // a value of a scale or a stake: as a label, a comma counts as the decimal point
};
[[nodiscard]] FieldKind kind_of(Field field);
// Where a plot may be named, if only by the code on its stake (stake_code.h).
[[nodiscard]] bool takes_stakes(Field field);

class Keypad {
 public:
  Keypad() = default;
  explicit Keypad(Field active) : active_(active) {}

  [[nodiscard]] Field active() const { return active_; }
  [[nodiscard]] const std::string& text(Field field) const;
  // Whether the next piece typed begins a text.
  [[nodiscard]] bool begins() const { return standing_ || text(active_).empty(); }
  // A text put in by the program, and one that a field is entered with, stands as a result does on
  // a calculator: the next piece typed replaces it, erasing edits it.
  void set(Field field, std::string text);
  void focus(Field field);
  // The active text is being typed: the next piece goes on from it.
  void go_on() { standing_ = false; }
  void clear(Field field);

  // Appends to the active field (or replaces, see set()) what it can take; false when nothing of it
  // fits (a second point, a letter in a number, full). A comma counts as the decimal point. "."
  // first becomes "0.".
  bool type(std::string_view piece);
  // Takes away the last letter (a whole UTF-8 sequence); false when there is none.
  bool erase();

  bool operator==(const Keypad&) const = default;

 private:
  void put(Field field, std::string text);

  Field active_ = Field::kInitials;
  std::map<Field, std::string> texts_;  // no empty texts
  bool standing_ = false;               // the active text was not typed since its field was entered
};

}  // namespace ligule::flow
