// Codes of the Trials screen that are written into records: never change a text. Words: "event."
// and "reason." + code.
#pragma once

#include <array>
#include <string_view>

namespace ligule::flow {

inline constexpr std::array<std::string_view, 10> kTrialEvents{
    "spray",      "fertilizer",  "lime",   "irrigation", "clipped",
    "grazing_in", "grazing_out", "damage", "weather",    "other"};
// Somebody went in before the time that a label named; the program notes it when they say so.
inline constexpr std::string_view kWentIn = "went_in";
inline constexpr std::string_view kLabelAllows = "label_allows";
// Somebody worked on another trial of the field meanwhile; noted likewise.
inline constexpr std::string_view kWentBeside = "went_beside";

// What may be said of an event beside its words; keys of its details.
namespace event_key {
inline constexpr std::string_view kMaterial = "material";
inline constexpr std::string_view kRate = "rate";
inline constexpr std::string_view kAnimals = "animals";
inline constexpr std::string_view kHead = "head";
inline constexpr std::string_view kHeightBefore = "height_before";
inline constexpr std::string_view kHeightAfter = "height_after";
// Of a spray, as no_entry.h writes them.
inline constexpr std::string_view kHours = "no_entry_hours";
inline constexpr std::string_view kEnded = "ended";
// On the form only: the hour of a date, and the person's own words.
inline constexpr std::string_view kUntilClock = "until_clock";
inline constexpr std::string_view kWords = "words";
}  // namespace event_key

struct EventField {
  std::string_view what;  // event
  std::string_view key;
};
// In the order in which they are asked for. All may be left out.
inline constexpr std::array kEventFields{EventField{"spray", event_key::kMaterial},
                                         EventField{"spray", event_key::kRate},
                                         EventField{"fertilizer", event_key::kMaterial},
                                         EventField{"fertilizer", event_key::kRate},
                                         EventField{"lime", event_key::kMaterial},
                                         EventField{"lime", event_key::kRate},
                                         EventField{"irrigation", event_key::kRate},
                                         EventField{"clipped", event_key::kHeightAfter},
                                         EventField{"grazing_in", event_key::kAnimals},
                                         EventField{"grazing_in", event_key::kHead},
                                         EventField{"grazing_in", event_key::kHeightBefore},
                                         EventField{"grazing_out", event_key::kAnimals},
                                         EventField{"grazing_out", event_key::kHead},
                                         EventField{"grazing_out", event_key::kHeightAfter}};
// Words: "animals." + code; others are typed.
inline constexpr std::array<std::string_view, 4> kAnimals{"cattle", "sheep", "goats", "horses"};

inline constexpr std::array<std::string_view, 3> kEventBackReasons{"mistap", "looked_again",
                                                                   "not_valid"};
inline constexpr std::array<std::string_view, 8> kSownReasons{
    "checked",    "packet_mixed", "planter_error", "stake_moved",
    "poor_stand", "washed_out",   "damaged",       "not_known"};

}  // namespace ligule::flow
