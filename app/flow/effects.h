// What update() asks to be done outside. work runs effects in the order given and answers each with
// an outcome (intents.h) in the same order, so that a value read after an append sees it.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "app/flow/preferences.h"
#include "storage/trial/record.h"

namespace ligule::flow {

using ActNumber = std::uint64_t;  // of one run of the program, from 1

// Append these drafts as one transaction; stream and seq are empty, everything else is set. Where a
// draft's definition is not in the ledger yet, work puts the definition record in front, in the
// same transaction. Answer: Kept or NotKept. Once an append of an epoch has failed, no other append
// of that epoch is written: each is answered NotKept (a later value must not stand where an earlier
// one is lost).
struct Append {
  ActNumber act = 0;
  int epoch = 0;
  std::vector<Record> records;
  bool operator==(const Append&) const = default;
};
struct LoadToday {  // answer: TodayLoaded or Failed
  bool operator==(const LoadToday&) const = default;
};
struct LoadOccasion {  // answer: OccasionLoaded or Failed
  TrialId trial;
  OccasionId occasion;
  bool operator==(const LoadOccasion&) const = default;
};
struct LoadHistory {  // every record about one plot; answer: HistoryLoaded or Failed
  TrialId trial;
  std::string plot;
  bool operator==(const LoadHistory&) const = default;
};
struct LoadTrial {  // its events and what its plots hold; answer: TrialLoaded or Failed
  TrialId trial;
  bool operator==(const LoadTrial&) const = default;
};
struct FindPlans {  // on sticks, cards, this tablet; answer: PlansFound
  bool operator==(const FindPlans&) const = default;
};
struct ReadPlan {  // reads and checks it; answer: PlanChecked or PlanFaulty
  std::string path;
  bool operator==(const ReadPlan&) const = default;
};
struct LookAtSticks {  // reads and checks every plan on sticks and cards; answer: SticksSeen
  bool operator==(const LookAtSticks&) const = default;
};
struct LoadPlans {  // answer: PlansKnown or Failed
  bool operator==(const LoadPlans&) const = default;
};
struct LoadBags {  // answer: BagsLoaded or Failed
  bool operator==(const LoadBags&) const = default;
};
struct Seal {  // everything since the last seal; answer: Sealed or NotSealed
  bool operator==(const Seal&) const = default;
};
struct CopySeal {  // the season file sealed last, read back there; answer: Copied or NotCopied
  std::string file_name;
  std::string place;
  bool operator==(const CopySeal&) const = default;
};
struct CopyLedger {  // to every stick and card there is, read back; answer: LedgerCopied
  bool operator==(const CopyLedger&) const = default;
};
struct TakeOver {  // what another tablet's spare copy holds, into this ledger; TakenOver,
                   // NotTakenOver
  std::string path;
  bool operator==(const TakeOver&) const = default;
};
struct ReadSeasonFile {  // reads all of it and checks it; answer: SeasonFileRead, SeasonFileFaulty
  std::string path;
  bool operator==(const ReadSeasonFile&) const = default;
};
// Takes its records in, and its key for a good one: the person compared the letters. GatheredHere,
// NotGatheredHere.
struct GatherFile {
  std::string path;
  bool operator==(const GatherFile&) const = default;
};
struct StorePreferences {  // answer: PreferencesKept or PreferencesNotKept
  Preferences preferences;
  bool operator==(const StorePreferences&) const = default;
};
struct LoadTablet {  // answer: TabletLoaded or Failed
  bool operator==(const LoadTablet&) const = default;
};
// The scale's port. What it says comes as LoadTold whenever it changes.
struct UseScale {
  ScaleChoice scale;
  bool operator==(const UseScale&) const = default;
};
struct AverageLoad {  // for kAverageFor; its end comes with a LoadTold
  bool operator==(const AverageLoad&) const = default;
};
struct LoadTaken {  // the load that is on it now; false: it was not after all
  bool yes = true;
  bool operator==(const LoadTaken&) const = default;
};
// A sound and a flash; no answer.
enum class CueKind { kKept, kQuestioned, kRefused, kNotSaved };
struct Cue {
  CueKind kind = CueKind::kKept;
  bool operator==(const Cue&) const = default;
};

using Effect = std::variant<Append, LoadToday, LoadOccasion, LoadHistory, LoadTrial, FindPlans,
                            ReadPlan, LookAtSticks, LoadPlans, LoadBags, Seal, CopySeal, CopyLedger,
                            TakeOver, ReadSeasonFile, GatherFile, StorePreferences, LoadTablet,
                            UseScale, AverageLoad, LoadTaken, Cue>;
using Effects = std::vector<Effect>;

}  // namespace ligule::flow
