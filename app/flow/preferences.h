// What people chose of how the tablet looks and reads. No data: none of it enters the log.
//
// A person's own choices are those of their eyes, hands and tongue; they come back with the person.
// The tablet's are the light it stands in and the size of its glass; handing over changes neither.
// While nobody holds the tablet it stays as the last person had it.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "storage/trial/identity.h"

namespace ligule::flow {

struct PersonChoices {
  std::string language = "en";  // code of a words file
  bool left_handed = false;
  bool gloves = false;
  bool large_text = false;
  std::string mass;    // "kg", "lb": the unit of weights that may have either; empty: as the scale
                       // says first
  std::string length;  // "in", "cm": the same of heights

  bool operator==(const PersonChoices&) const = default;
};

struct Preferences {
  bool dusk = false;
  std::optional<double> ppi;  // dots per inch, measured with a card; none: the display's own figure
  PersonChoices nobody;       // while nobody holds the tablet
  std::map<PersonId, PersonChoices> people;

  bool operator==(const Preferences&) const = default;
};

// What can be chosen, each of a few codes.
enum class Preference {
  kLanguage,  // codes of words files
  kTheme,     // "paper", "dusk"
  kHand,      // "right", "left"
  kGloves,    // "bare", "gloves"
  kText,      // "usual", "large"
  kMass,      // "kg", "lb"
  kLength,    // "in", "cm"
};

// The width of a bank card, ISO/IEC 7810:2019, size ID-1.
inline constexpr double kCardMm = 85.60;

}  // namespace ligule::flow
