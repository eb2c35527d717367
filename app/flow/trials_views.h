// The pages of the Trials screen, by value; views.h takes them in.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/flow/trials_model.h"
#include "app/flow/views_common.h"
#include "storage/checks/soil_verdict.h"

namespace ligule::flow {

// What sticks and cards hold that is not on this tablet yet.
struct StickView {
  std::vector<std::string> fresh;       // codes of new trials
  std::vector<std::string> changed;     // codes of trials whose plan they change
  std::size_t faulty = 0;               // plans that can't be taken
  bool can_load = false;                // all of the new ones, in one tap
  std::vector<std::string> older = {};  // folders whose plans have a newer one beside them

  // Whether there is anything to do.
  [[nodiscard]] bool any() const { return !fresh.empty() || !changed.empty() || faulty > 0; }
  bool operator==(const StickView&) const = default;
};
struct TrialListRow {
  TrialId trial;
  std::string code;
  std::string title;
  std::string site;
  std::string field;
  std::string sown;  // date
  std::size_t entries = 0;
  std::size_t plots = 0;

  bool operator==(const TrialListRow&) const = default;
};
struct TrialListView {
  std::vector<TrialListRow> rows;
  StickView stick = {};

  bool operator==(const TrialListView&) const = default;
};

// How the endophyte of an entry is known.
struct EndophyteFact {
  std::string percent;  // that a test found; empty: not stated
  std::string tested;   // date; empty: not stated. Neither: the entrant states it, nobody tested

  bool operator==(const EndophyteFact&) const = default;
};
struct EntryRow {
  std::string code;
  std::string species;  // trade name
  std::string label;    // empty: names are hidden
  bool check = false;   // a check or filler; not told while names are hidden
  std::size_t plots = 0;
  // Empty while names are hidden, and where nobody stated an endophyte.
  std::optional<EndophyteFact> endophyte = {};

  bool operator==(const EntryRow&) const = default;
};
struct SownPlot {
  std::string plot;
  bool lane_start = false;             // the plot path turns before it
  std::string entry;                   // code of what it holds; empty: hidden, or nobody knows
  std::optional<AsSownStatus> status;  // empty: nobody stated anything

  bool operator==(const SownPlot&) const = default;
};
struct EventTakenBack {
  std::string on;  // date
  std::string initials;
  std::string reason;  // code; words "reason." + this where known

  bool operator==(const EventTakenBack&) const = default;
};
struct EventRow {
  std::string what;  // code; words "event." + this where known
  bool known = true;
  std::string on;  // date
  std::string block;
  std::string initials;
  std::string words;
  RecordId id = {};
  std::optional<EventTakenBack> taken_back = {};
  bool can_take_back = false;
  std::vector<Words> facts = {};  // what is known of it, each a few words

  bool operator==(const EventRow&) const = default;
};
// What tables say of a value of the soil test.
struct SoilJudgedView {
  std::vector<std::string> species;  // trade names; empty: whatever is sown
  checks::SoilStanding standing = checks::SoilStanding::kNoVerdict;
  std::vector<Words> said;
  std::string source;  // empty: no table judged

  bool operator==(const SoilJudgedView&) const = default;
};
struct SoilSampleView {
  std::string on;     // date; empty: not stated, as the next two
  std::string depth;  // with its unit
  std::string lab;

  bool operator==(const SoilSampleView&) const = default;
};
struct SoilRow {
  std::string property;    // code; words "soil.property." + this
  std::string value;       // with its unit; empty: it was not tested
  std::string extractant;  // code where it is known; words "soil.extractant." + this
  std::string on_an_acre;  // what it comes to there; empty: nothing to tell
  SoilSampleView sample;
  std::vector<SoilJudgedView> judged;

  bool operator==(const SoilRow&) const = default;
};
struct TrialPageView {
  std::string code;
  std::string title;
  std::string field;
  std::string sown;
  TrialTab tab = TrialTab::kPlots;
  bool names_hidden = false;    // values are to be given blind: ShowNames unlocks
  std::vector<SownPlot> plots;  // along the path
  std::vector<EntryRow> entries;
  bool loaded = false;  // events
  std::vector<EventRow> events;
  bool can_enter = true;
  bool soil_tested = false;  // there is a soil test: its tab shows
  std::vector<SoilRow> soil = {};

  bool operator==(const TrialPageView&) const = default;
};
struct SownFormView {
  std::string plot;
  std::optional<AsSownStatus> status;
  std::vector<std::string> entries;  // codes to choose from, for "holds"
  std::string entry;
  bool exchanged = false;                  // "holds", by an exchange with another plot
  std::vector<std::string> near = {};      // plots it may be exchanged with, along the path
  std::string other = {};                  // the one chosen
  std::optional<std::string> typing = {};  // its number is being typed, so far this
  std::string since;                       // date
  std::string sown = {};                   // date
  bool from_sowing = false;                // since then, as the next two
  bool from_today = false;
  bool by_day = false;                 // in steps of a day
  std::optional<AsSownStatus> stated;  // what stands; empty: nothing
  std::string stated_since;
  bool can_keep = false;  // a reason can be tapped
  bool can_later = false;

  bool operator==(const SownFormView&) const = default;
};
// Something of an event that can be typed.
struct EventFieldView {
  std::string key;   // send back in DescribeEvent; words: "event.field." + this
  std::string text;  // as it stands
  std::string unit;  // of a number without one; empty: none is meant

  bool operator==(const EventFieldView&) const = default;
};
struct EventFormView {
  std::string what;
  std::vector<int> blocks;
  int block = 0;   // 0: the whole trial
  std::string on;  // date
  bool can_later = false;
  std::vector<EventFieldView> fields;     // of what happened; the person's own words last
  std::optional<EventFieldView> writing;  // the keyboard is up for this one
  std::string animals;                    // of those offered; empty: none of them
  std::optional<NoEntryBy> no_entry;      // of a spray: how the label names the time
  std::string until_day;                  // date, where it is by a date
  std::string comes_to;                   // date and hour; empty: not yet
  bool can_keep = false;

  bool operator==(const EventFormView&) const = default;
};
struct EventBackView {
  EventRow event;
  bool can_keep = false;  // a reason can be tapped

  bool operator==(const EventBackView&) const = default;
};
// Another tablet's copy: whose, and how far it reaches.
struct FoundCopyView {
  std::string path;
  std::string place;
  std::string device;  // empty: a newer version wrote it, and this one can't read whose it is
  Age age;
  std::int64_t records = 0;

  bool operator==(const FoundCopyView&) const = default;
};
struct PlanPickView {
  bool loaded = false;
  std::vector<PlanFolder> folders;
  std::vector<FoundCopyView> copies = {};
  std::vector<FoundFile> files = {};
  StickView stick = {};

  bool operator==(const PlanPickView&) const = default;
};
struct PlanReadingView {
  std::string path;

  bool operator==(const PlanReadingView&) const = default;
};
struct PlanCheckedView {
  std::string code;
  std::string title;
  std::size_t entries = 0;
  std::size_t plots = 0;
  std::size_t occasions = 0;
  bool revision = false;
  bool held = false;
  std::vector<Error> notices;
  bool can_load = false;
  // Of a revision, as the plans state them: those that lead to it first, its own last.
  std::vector<std::string> reasons = {};
  std::vector<Words> changes = {};  // of a revision; no name of an entry is among them
  bool older = false;               // than the plan that is here
  std::string newer = {};           // path of the plan to load in its place; empty: none
  std::string newer_name = {};      // of its folder
  bool operator==(const PlanCheckedView&) const = default;
};
struct PlanFaultyView {
  std::string path;
  std::vector<Error> faults;

  bool operator==(const PlanFaultyView&) const = default;
};
struct OfferedFileView {
  ReadFile file;
  std::string last_day;  // date
  bool taking = false;
  bool can_take = false;

  bool operator==(const OfferedFileView&) const = default;
};
struct FileFaultyView {
  std::vector<Error> faults;

  bool operator==(const FileFaultyView&) const = default;
};
struct OfferedCopyView {
  FoundCopyView copy;
  bool reading = false;
  bool can_go_on = false;

  bool operator==(const OfferedCopyView&) const = default;
};
using TrialsPage = std::variant<TrialListView, TrialPageView, SownFormView, EventFormView,
                                EventBackView, PlanPickView, PlanReadingView, PlanCheckedView,
                                PlanFaultyView, OfferedCopyView, OfferedFileView, FileFaultyView>;

}  // namespace ligule::flow
