// What every view is made of: words and marks. Part of views.h.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/as_sown.h"

namespace ligule::flow {

struct Age {         // how long ago, in whole units: words "age." + unit with {0} the count
  std::string unit;  // "minutes", "hours", "days"
  std::int64_t count = 0;

  bool operator==(const Age&) const = default;
};

// Something odd about how a rating was made.
struct ClosingLook {
  std::string rule;                    // words: "closing." + rule; written into records
  std::string measure;                 // it is about; empty: the whole rating
  std::vector<std::string> arguments;  // of the words, after the measure's name

  bool operator==(const ClosingLook&) const = default;
};

// A key into the words file and what stands for {0}, {1} ...
struct Words {
  std::string key;
  std::vector<std::string> arguments = {};

  bool operator==(const Words&) const = default;
};

// What a program calls the scores it defined itself, by their codes; every other measure's name is
// in the words file.
using OwnNames = std::map<std::string, std::string>;

// A sprayed trial that people are to stay out of.
struct NoEntryView {
  std::string trial;  // code
  std::string field;
  std::string block;     // empty: the whole trial
  std::string on;        // date of the spray
  std::string material;  // may be empty
  std::string until;     // date and hour; empty: nobody knows
  bool beside = false;   // asked of another trial of the same field, not of the sprayed one

  bool operator==(const NoEntryView&) const = default;
};

struct ChoiceView {
  std::string entered;  // send this back in ChooseValue
  std::string word;     // key of its name; empty: the entered text says it
  double value = 0;
  bool selected = false;
  bool enabled = true;
  std::string label = {};  // what the tile says; empty: what it enters

  bool operator==(const ChoiceView&) const = default;
};

// The state of a value or a plot; of several the one that needs a person most. Words: "mark." +
// name_of(mark).
enum class Mark {
  kOpen,
  kSaving,  // tapped, not yet durable
  kKept,
  kQuestioned,  // kept after a question
  kOnHold,
  kLater,
  kMissing,  // no value, and none will come
  kNotSaved,
  kAbandoned,  // the plot was given up: nothing is recorded on it any more
  kNoPart,     // the rating or cutting is not for what the plot holds
};
[[nodiscard]] std::string_view name_of(Mark mark);  // "open", "saving", "kept", "questioned" ...

// What stands on the plot of a card, as far as somebody stated it.
struct StandsView {
  bool can_state = false;
  std::optional<AsSownStatus> stated = {};

  bool operator==(const StandsView&) const = default;
};

}  // namespace ligule::flow
