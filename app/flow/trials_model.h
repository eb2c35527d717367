// What the Trials screen is busy with: the trials on this tablet, one trial's page, a statement or
// an event being made, a plan being loaded.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/flow/keypad.h"
#include "storage/trial/as_sown.h"
#include "storage/trial/error.h"
#include "storage/trial/no_entry.h"
#include "storage/trial/plan.h"
#include "storage/trial/record.h"
#include "storage/trial/trial_event.h"

namespace ligule::flow {

// A folder with a plan in it, on a stick, a card or this tablet.
struct PlanFolder {
  std::string path;
  std::string name;        // last part of the path
  std::string place;       // the stick's or card's name
  std::string newer = {};  // name of a folder whose plan came after this one; empty: none is known

  bool operator==(const PlanFolder&) const = default;
};

// Another tablet's spare copy on a stick or card.
struct FoundCopy {
  std::string path;
  std::string place;   // the stick's or card's name
  std::string device;  // as that tablet calls itself
  UtcInstant at{};
  std::int64_t records = 0;
  std::optional<Error> refused = {};  // a newer version wrote it: nothing of it can be read here

  bool operator==(const FoundCopy&) const = default;
};

// Another tablet's season file on a stick or card.
struct FoundFile {
  std::string path;
  std::string name;   // of the file
  std::string place;  // the stick's or card's name

  bool operator==(const FoundFile&) const = default;
};
// The same, read: it holds, and its key signed it.
struct ReadFile {
  std::string path;
  std::string device;       // as that tablet calls itself
  std::string fingerprint;  // of the key
  bool known = false;       // somebody compared it here before
  std::int64_t records = 0;
  CalendarDate last_day{};  // of the last record

  bool operator==(const ReadFile&) const = default;
};
struct FaultyFile {
  std::string path;
  std::vector<Error> faults;  // every one of them
  bool operator==(const FaultyFile&) const = default;
};

// A plan that was read and holds together, ready to be taken in unless it is held or older.
struct CheckedPlan {
  std::string path;
  Plan plan;
  std::string text;            // canonical
  std::string digest;          // of it, hex
  bool held = false;           // exactly this plan is here already
  std::vector<Error> notices;  // odd, but it may be meant
  bool older = false;          // the plan that is here came after it
  // Path of the newest plan on a stick that came after it; empty: none.
  std::string newer = {};
  // Revisions between the one that is here and this one, earliest first: taken in with it.
  std::vector<CheckedPlan> before = {};

  [[nodiscard]] bool can_come() const { return !held && !older && newer.empty(); }

  bool operator==(const CheckedPlan&) const = default;
};
struct FaultyPlan {
  std::string path;
  std::vector<Error> faults;  // every one of them
  bool operator==(const FaultyPlan&) const = default;
};

// Plans on sticks and cards that this tablet has not taken in, each read and checked. Of several
// revisions of a plan the newest is offered, and the others are older.
struct StickPlans {
  std::vector<CheckedPlan> fresh;       // of trials that are not here, by code
  std::vector<CheckedPlan> changed;     // revisions of plans that are, by code
  std::vector<FaultyPlan> faulty;       // by path
  std::vector<CheckedPlan> older = {};  // each has a newer one, by path
  bool operator==(const StickPlans&) const = default;
};

// From when on a statement of what a plot holds counts.
enum class SownFrom { kSowing, kToday, kDay };
// What a plot really holds, being stated.
struct SownForm {
  std::string plot;
  std::optional<AsSownStatus> status = {};
  std::string entry = {};  // code, for "holds"
  bool exchanged =
      false;  // "holds", by having been sown with another plot's entry and that with its
  std::string other = {};             // number of that plot
  std::optional<Keypad> typing = {};  // that number is being typed
  std::optional<SownFrom> from = {};  // as chosen; empty: as is usual for the status
  int days_ago = 0;                   // of kDay
  bool operator==(const SownForm&) const = default;
};
// The same over a card, of the plot that one stands at.
struct SownHere {
  TrialId trial;
  SownForm form;
  bool operator==(const SownHere&) const = default;
};
// Something that happened to the trial, being written down.
struct EventForm {
  std::string what;  // code
  int block = 0;     // 0: the whole trial
  int days_ago = 0;
  std::map<std::string, std::string> texts = {};  // by event_key (trials_codes.h)
  std::string writing = {};                       // key of the one being typed; empty: none is
  Keypad keypad{Field::kNote};                    // that one
  std::optional<NoEntryBy> no_entry = {};         // of a spray
  int until_in = 0;                               // of kUntil: days from today
  bool operator==(const EventForm&) const = default;
};
// An event that is about to be taken back: a reason does it.
struct EventBackForm {
  RecordId event;
  bool operator==(const EventBackForm&) const = default;
};
struct TrialPage {
  bool operator==(const TrialPage&) const = default;
};
struct FindingPlans {
  bool loaded = false;
  std::vector<PlanFolder> folders;
  std::vector<FoundCopy> copies = {};
  std::vector<FoundFile> files = {};
  bool operator==(const FindingPlans&) const = default;
};
struct ReadingFile {
  std::string path;
  bool operator==(const ReadingFile&) const = default;
};
// Are these that tablet's letters? Then it is taken in.
struct OfferedFile {
  ReadFile file;
  bool taking = false;
  bool operator==(const OfferedFile&) const = default;
};
// Is this copy to be gone on from? Then it is read.
struct OfferedCopy {
  FoundCopy copy;
  bool reading = false;
  bool operator==(const OfferedCopy&) const = default;
};
struct ReadingPlan {
  std::string path;
  bool operator==(const ReadingPlan&) const = default;
};

enum class TrialTab { kPlots, kEntries, kEvents, kSoil };

struct Trials {
  std::optional<TrialId> trial = {};  // whose page is open; empty: the list
  TrialTab tab = TrialTab::kPlots;
  bool loaded = false;  // the events of the trial
  // Stated again with an earlier day: whether that became its day is read.
  std::optional<AsSown> restated = {};
  std::vector<TrialEvent> events = {};  // newest first
  std::variant<TrialPage, SownForm, EventForm, EventBackForm, FindingPlans, ReadingPlan,
               CheckedPlan, FaultyPlan, OfferedCopy, ReadingFile, OfferedFile, FaultyFile>
      page = {};
  bool operator==(const Trials&) const = default;
};

}  // namespace ligule::flow
