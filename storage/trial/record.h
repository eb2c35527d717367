// One record of the log: what somebody (or the program) did, once, never changed.
//
// A record has one shape for every kind: the 29 columns below, which are also the columns of
// records.csv in a season file. body text and digest are made from it by record_line.h;
// sync/seal/FORMAT.md says which kind uses which column.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"

namespace ligule {

// Kinds of format 1. Written to disk: never change a text. A record of any other kind is carried
// unread.
namespace kind {
inline constexpr std::string_view kStream = "stream";          // first record of every stream
inline constexpr std::string_view kPlan = "plan";              // a plan or a revision of one
inline constexpr std::string_view kDefinition = "definition";  // a scale as it was
inline constexpr std::string_view kLimits =
    "limits";  // between which values a measure is usual, from here on in the stream
inline constexpr std::string_view kSoftware =
    "software";  // which version of the software wrote it, from here on in the stream
inline constexpr std::string_view kPerson = "person";  // somebody's initials
inline constexpr std::string_view kHarvestRun =
    "harvest_run";  // machine, crew, day, surface of a cutting
inline constexpr std::string_view kCheckWeight =
    "check_weight";  // what the scale of a harvest run makes of a known mass
inline constexpr std::string_view kReading = "reading";  // a value
inline constexpr std::string_view kCorrection =
    "correction";  // restates a reading's whole value; targets = one claim
inline constexpr std::string_view kWithdrawal =
    "withdrawal";  // takes a first value back; targets = one claim
inline constexpr std::string_view kSettlement =
    "settlement";  // restates the winner; targets = every claim seen
inline constexpr std::string_view kAsSown = "as_sown";  // what a plot really holds
inline constexpr std::string_view kEvent = "event";     // spray, fertilizer, damage ...
inline constexpr std::string_view kClosed = "closed";   // a rating or cutting is declared done
inline constexpr std::string_view kClockShift =
    "clock_shift";  // a tablet's clock was wrong from seq a to b
}  // namespace kind
// Whether it is one of these.
[[nodiscard]] bool is_known_kind(std::string_view kind);

enum class Purpose { kSurvey, kRepeat, kSecond, kPractice };
enum class ValueState {
  kValue,    // a value as entered
  kZero,     // nothing there, and that counts as zero (winterkill ...)
  kMissing,  // no value, and none should be guessed (washout, spilled bag ...)
  kOnHold,   // a measured weight that can't be right as it stands: kept, out of results until
             // settled
  kLater,    // skipped for now
};
// How a value came in.
enum class Source { kTapped, kTyped, kScale, kImported, kPaper };

// A rule that asked, and the phrase the person answered with.
struct Answer {
  std::string rule;    // code of storage/checks
  std::string answer;  // code of the phrase

  bool operator==(const Answer&) const = default;
};

struct Record {
  // The envelope, the same in every format.
  StreamId stream;
  std::int64_t seq = 0;  // from 1, without gaps within a stream
  RecordId id;
  std::string kind;
  int format = 1;

  Stamp at;
  std::optional<PersonId> person;  // empty for what the program does itself
  std::optional<TrialId> trial;
  std::string plan;  // hex digest of the plan it was made under
  // A plot, the bag_number record of a bag, or of practice the set of drawn stands.
  std::optional<Uuid> subject;
  std::string measure;                 // code
  std::optional<OccasionId> occasion;  // rating pass or cutting
  int part = 1;                     // n-th reading of one act (bags of a plot, heights of a plot)
  std::optional<RecordId> run;      // the harvest_run record it belongs to
  std::optional<Purpose> purpose;   // of values only
  std::optional<ValueState> state;  // of values only
  std::string entered;              // exactly as entered
  std::string unit;                 // the unit it was entered in
  std::optional<double> value;      // entered, parsed once
  std::string definition;           // hex digest of the scale; of kind limits, of the limits
  std::vector<RecordId> targets;    // claims this record replaces
  std::string reason;               // in the person's words or a phrase code
  std::vector<Answer> answers;      // questions asked about this value, and the answers
  std::optional<bool> blind;  // entry not shown to this person in this rating before the value
  std::optional<Source> source;
  std::string raw;      // the scale's line as received
  std::string details;  // JSON object of the kind, see details.h; empty when the kind has none

  bool operator==(const Record&) const = default;

  // Whether this record states a value of a slot (reading, correction, settlement).
  [[nodiscard]] bool is_claim() const;
  // Whether it replaces others (correction, withdrawal, settlement).
  [[nodiscard]] bool replaces() const;
};

[[nodiscard]] std::string_view name_of(Purpose purpose);
[[nodiscard]] std::string_view name_of(ValueState state);
[[nodiscard]] std::string_view name_of(Source source);
[[nodiscard]] Result<Purpose> parse_purpose(std::string_view text);
[[nodiscard]] Result<ValueState> parse_state(std::string_view text);
[[nodiscard]] Result<Source> parse_source(std::string_view text);

// Measures the yield computation knows by name.
namespace measure {
inline constexpr std::string_view kGrossWeight =
    "gross_weight";  // plot or bag as it hangs on the scale
inline constexpr std::string_view kTareWeight = "tare_weight";  // what of it is not forage
inline constexpr std::string_view kBagNumber = "bag_number";    // of the sample bag
inline constexpr std::string_view kSampleFresh =
    "sample_fresh";  // sample with its bag, fresh; subject: the bag
inline constexpr std::string_view kSampleDry = "sample_dry";  // the same, dried
inline constexpr std::string_view kBagTare =
    "bag_tare";  // the bag empty, where weighed; else the plan's
inline constexpr std::string_view kSwathLength =
    "swath_length";  // of one plot, where it differs from the plan
inline constexpr std::string_view kSwathWidth = "swath_width";
inline constexpr std::string_view kNote = "note";
// Of the subsample that is sorted by hand (composition.h).
inline constexpr std::string_view kSeparatedFresh = "separated_fresh";  // whole, with its bag
inline constexpr std::string_view kPartBag = "part_bag";                // number of a part's bag
inline constexpr std::string_view kWeedsByEye = "weeds_by_eye";         // percent, quick form
// Of plots that animals grazed.
inline constexpr std::string_view kGrazingPreference = "grazing_preference";  // score 0 to 5
inline constexpr std::string_view kPercentRemoved = "percent_removed";
}  // namespace measure

}  // namespace ligule
