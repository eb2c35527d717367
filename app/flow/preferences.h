// What people chose of how the tablet looks and reads. No data: none of it enters the log.
//
// A person's own choices are those of their eyes, hands and tongue; they come back with the person.
// The tablet's are the light it stands in, the size of its glass and the scale it is plugged into;
// handing over changes none of them.
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

// The scale's indicator, and how it speaks.
struct ScaleChoice {
  std::string port;  // path; empty: weights are typed
  std::string form;  // code of a form of line; empty: the first one there is
  int baud = 9600;
  std::string framing = "8N1";  // data bits, parity, stop bits
  int interval = 1;             // scale interval d, in units of the last digit
  // Of the check weight as typed last, and the unit the scale showed then.
  std::string check_mass = {};
  std::string check_allowance = {};
  std::string check_unit = {};

  bool operator==(const ScaleChoice&) const = default;
};

struct Preferences {
  bool dusk = false;
  int repeats = 0;            // one plot in so many of a rating comes back unannounced; 0: none
  std::optional<double> ppi;  // dots per inch, measured with a card; none: the display's own figure
  ScaleChoice scale;
  // By person and code of a caution: the day it was read last, "2026-05-04".
  std::map<PersonId, std::map<std::string, std::string>> cautions_read = {};
  PersonChoices nobody;  // while nobody holds the tablet
  std::map<PersonId, PersonChoices> people;

  bool operator==(const Preferences&) const = default;
};

// What can be chosen, each of a few codes.
enum class Preference {
  kLanguage,       // codes of words files
  kTheme,          // "paper", "dusk"
  kHand,           // "right", "left"
  kGloves,         // "bare", "gloves"
  kText,           // "usual", "large"
  kMass,           // "kg", "lb"
  kLength,         // "in", "cm"
  kRepeats,        // "off", "20", "10"
  kScalePort,      // a path, or "none"
  kScaleForm,      // codes of forms of line
  kScaleBaud,      // "9600"
  kScaleFraming,   // "8N1"
  kScaleInterval,  // "1", "2", "5"
};

// The width of a bank card, ISO/IEC 7810:2019, size ID-1.
inline constexpr double kCardMm = 85.60;

}  // namespace ligule::flow
