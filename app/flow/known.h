// What the tablet knows of its ledger, as plain values: work reads them, update() takes them in.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "storage/trial/as_sown.h"
#include "storage/trial/calendar.h"
#include "storage/trial/no_entry.h"
#include "storage/trial/plan.h"
#include "storage/trial/rated_before.h"
#include "storage/trial/record.h"
#include "storage/trial/scale.h"
#include "storage/trial/soil_tables.h"

namespace ligule::flow {

struct Person {
  PersonId id;
  std::string initials;

  bool operator==(const Person&) const = default;
};

// A plan in force, with the digest its records carry.
struct KnownTrial {
  Plan plan;
  std::string digest;           // hex
  std::vector<AsSown> as_sown;  // newest statement of each plot that has one
  std::map<std::string, std::string> score_digests = {};  // hex, of the plan's own scores by code
  // By plot number. An identifier is a hash, and a check asks for hundreds.
  std::unordered_map<std::string, PlotId> plot_ids = {};

  bool operator==(const KnownTrial&) const = default;
};

// A standing claim of a slot.
struct KnownClaim {
  Record record;
  std::optional<Record> before;  // the record it replaces, where it is a correction or settlement
  RecordId first;                // the reading the slot began with: record.id for a reading, else
                                 // found by following targets. A bag's values name it as subject
  int others = 0;                // standing claims of the slot that differ from this one
  // Of a gross weight that only restates another record: when it was said first.
  std::optional<Stamp> weighed = {};
  // When a value was given there first, where the record replaces one; putting it right is no
  // visit.
  std::optional<Stamp> given = {};

  bool operator==(const KnownClaim&) const = default;
};

// What a scale weighed in a cutting, for a check weight that puts it in doubt.
struct CuttingWeighed {
  TrialId trial;
  OccasionId occasion;
  std::vector<KnownClaim> claims;  // gross weights that came from a scale
  std::vector<Record> runs;        // those they may belong to

  bool operator==(const CuttingWeighed&) const = default;
};

// A sample bag: one without a dried weight, or one that was done with not long ago.
struct OpenBag {
  RecordId bag;  // id of the first bag_number reading: subject of the bag's values
  TrialId trial;
  OccasionId occasion;
  std::optional<RecordId> run;
  std::string plan;                    // hex digest of the plan the bag was filled under
  std::string plot;                    // its number
  std::vector<std::string> also = {};  // of a composite: the other plots that are in it
  int part = 0;                        // of a sorted sample (composition.h); 0: a plot's sample
  std::string number;                  // on the bag
  CalendarDate filled{};
  std::optional<KnownClaim> fresh;  // standing sample_fresh of the bag
  std::optional<Record> bag_tare;   // standing bag_tare of the bag, where it was weighed
  std::optional<KnownClaim> dried;  // standing sample_dry; of an open bag: on hold
  std::string weather = {};         // said of its whole cutting (checks/weather.h)

  bool operator==(const OpenBag&) const = default;
};

// Something the day's end names.
struct OpenItem {
  std::string plot;
  std::string measure;
  std::string rule;  // that asked; empty for a value that was not questioned

  bool operator==(const OpenItem&) const = default;
};

// How far a planned occasion is; progress_of() counts it.
struct OccasionProgress {
  TrialId trial;
  OccasionId occasion;
  int total = 0;  // plots that take part
  int done = 0;   // plots with nothing open
  int later = 0;  // plots put off
  int values_today = 0;
  bool closed = false;                  // somebody declared it done (kind closed); set by work
  std::vector<std::string> open_plots;  // numbers along the plot path, put off ones included
  std::vector<OpenItem> on_hold;
  std::vector<std::string> not_fresh;      // numbers of sample bags without a fresh weight
  std::vector<std::string> unsorted = {};  // plots whose sample is sorted in part only
  std::vector<OpenItem> questioned;        // kept after a question, from the same local date
  std::vector<PersonId> second_open = {};  // who are not done with it as second person; set by work

  bool operator==(const OccasionProgress&) const = default;
};

struct SealNote {
  std::string file_name;
  UtcInstant at{};
  std::int64_t records = 0;

  bool operator==(const SealNote&) const = default;
};

struct CopyNote {
  std::string place;
  std::string file_name;
  UtcInstant at{};

  bool operator==(const CopyNote&) const = default;
};

// Where a season file can be copied to: a stick, a card.
struct CopyPlace {
  std::string path;
  std::string name;  // shown: the volume's label or last part of the path

  bool operator==(const CopyPlace&) const = default;
};

// A copy of the whole ledger on a card or stick, so that a tablet which dies in the field takes no
// morning with it: another one goes on from there.
struct SpareCopy {
  std::string place;  // path
  std::string file_name;
  UtcInstant at{};

  bool operator==(const SpareCopy&) const = default;
};

// A spray that says something of when people may go in again, and was not taken back.
struct Spray {
  RecordId event;
  TrialId trial;
  std::string on;        // date
  std::string block;     // empty: the whole trial
  std::string material;  // as typed; may be empty
  NoEntry no_entry;

  bool operator==(const Spray&) const = default;
};

// Animals went into a trial, or out of it; not taken back.
struct Grazing {
  RecordId event;
  TrialId trial;
  CalendarDate on{};
  std::string block;  // empty: the whole trial
  bool in = false;

  bool operator==(const Grazing&) const = default;
};

// A key that was made because the one before was lost.
struct NewKey {
  std::string fingerprint;
  std::int64_t unsealed = 0;  // records before it that no season file holds, and none can any more

  bool operator==(const NewKey&) const = default;
};

// The state of the site's work.
struct Today {
  std::vector<OccasionProgress> progress;  // one an occasion of every trial
  std::int64_t unsealed = 0;               // records since the last seal
  std::optional<Stamp> newest;             // when this tablet kept its last record
  std::optional<SealNote> last_seal;
  std::optional<CopyNote> last_copy;
  std::vector<CopyPlace> places;
  std::vector<Spray> sprays = {};     // of every trial; past ones may be among them
  std::vector<Grazing> grazing = {};  // of every trial, in the order in which it was noted
  std::optional<NewKey> new_key = {};
  std::optional<SpareCopy> spare = {};  // the newest of this tablet on what is plugged in

  bool operator==(const Today&) const = default;
};

// How a standing value is put right.
enum class Mend {
  kCorrect,   // another value in its place
  kConfirm,   // a zero: nothing grew there
  kTakeBack,  // no value, or the one before
  kSettle,    // it stands: of several values, or one on hold
};

// What the machine has left, as it tells.
struct Supply {
  std::optional<int> battery;  // percent; empty: no battery, or it does not say
  bool plugged = false;
  std::optional<std::int64_t> free_bytes;  // where the ledger lies
  std::int64_t ledger_bytes = 0;           // 0: not known

  bool operator==(const Supply&) const = default;
};

// A language the screens can speak.
struct LanguageName {
  std::string code;  // of its words file
  std::string name;  // in itself: "Español"

  bool operator==(const LanguageName&) const = default;
};

// The glass, as the display says of itself.
struct Display {
  double ppi = 0;
  int width = 0;  // pixels
  int height = 0;

  bool operator==(const Display&) const = default;
};

// A QR code (ISO/IEC 18004): square, without its quiet zone.
struct DotCode {
  std::size_t side = 0;    // modules
  std::vector<bool> dark;  // row by row

  bool operator==(const DotCode&) const = default;
};

// What the tablet says of itself.
struct TabletFacts {
  std::string fingerprint;  // of its key
  std::string version;
  std::string path;  // where records are kept
  std::uint64_t bytes = 0;
  std::uint64_t free_bytes = 0;
  std::vector<std::string> ports = {};  // serial ports that are there, paths
  std::vector<std::pair<PersonId, CalendarDate>> practised = {};  // sets begun, this year
  DotCode key_code = {};  // the public key, for the desk's scanner

  bool operator==(const TabletFacts&) const = default;
};

// What does not change while the program runs, but for the units.
struct Setup {
  Definitions definitions;
  SoilTables soil;                                        // by which a plan's soil test is judged
  std::map<std::string, std::string> definition_digests;  // scale code to hex digest
  std::map<std::string, std::string> units;  // by measure, where a person chose one; else the
                                             // scale's first
  std::string device;
  bool demo = false;
};

}  // namespace ligule::flow
