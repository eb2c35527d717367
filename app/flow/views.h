// Everything a screen shows, by value. Words are keys; what a person entered, numbers and dates are
// texts as they are to be shown.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "app/flow/look_views.h"
#include "app/flow/model.h"
#include "app/flow/overlay.h"
#include "app/flow/pad_views.h"
#include "app/flow/trials_views.h"
#include "app/flow/views_common.h"
#include "app/flow/views_dry.h"
#include "app/flow/views_fields.h"
#include "app/flow/views_practice.h"
#include "app/flow/views_review.h"
#include "app/flow/views_slide.h"

namespace ligule::flow {

struct SupplyView {  // what is left; empty: not known, or no news
  std::optional<Words> battery;
  std::optional<Words> storage;
  bool battery_low = false;  // does not reach for what is open
  bool storage_low = false;

  bool operator==(const SupplyView&) const = default;
};

struct StartingView {
  bool operator==(const StartingView&) const = default;
};

struct SignInView {
  std::vector<std::string> known;  // initials, in the order they first came
  std::string typed;
  bool can_done = false;
  std::vector<OptionView> languages;
  std::string held_by;      // initials of who held the tablet until now; empty: nobody
  bool after_rest = false;  // asked because nobody touched it; else KeepTablet goes back

  bool operator==(const SignInView&) const = default;
};

// A rating or cutting in words: its cutting, or its measures.
struct OccasionName {
  Job job = Job::kRate;
  int cutting = 0;
  std::vector<std::string> measures;  // of a rating, without the note
  std::string code;                   // where nothing else is known
  OwnNames own_names = {};

  bool operator==(const OccasionName&) const = default;
};

enum class DueState { kOverdue, kToday, kComing, kNoDate, kDone };
struct DueRow {
  TrialId trial;
  OccasionId occasion;
  std::string field;
  std::string trial_code;
  std::string trial_title;
  std::string code;  // of the occasion
  OccasionName name;
  Job job = Job::kRate;
  int year = 0;
  int cutting = 0;  // 0 for a rating
  DueState state = DueState::kNoDate;
  std::string due;          // date; empty: none
  int days = 0;             // until due; negative: overdue
  std::size_t entries = 0;  // that it is for; 0: all of them
  std::size_t of_entries = 0;
  int done = 0;
  int total = 0;
  int later = 0;

  bool operator==(const DueRow&) const = default;
};
struct TrialRow {
  std::string code;
  std::string title;
  std::size_t entries = 0;
  std::size_t plots = 0;

  bool operator==(const TrialRow&) const = default;
};
struct FieldRow {
  std::string name;
  std::vector<TrialRow> trials;

  bool operator==(const FieldRow&) const = default;
};
// The copy that another tablet can go on from.
struct SpareView {
  std::optional<Age> age;  // of the newest there is; empty: none
  bool place = false;      // something to copy to is plugged in
  bool failed = false;     // the last could not be made

  bool operator==(const SpareView&) const = default;
};
struct TodayView {
  HeadView head;
  bool loaded = false;
  std::vector<std::string> sites;  // names
  std::vector<FieldRow> fields;
  // What can be worked on: today's, then late, coming, without date, done.
  std::vector<DueRow> due;
  std::vector<DueRow> earlier;  // what is two weeks past, newest first: folded away
  bool show_earlier = false;
  std::int64_t unsealed = 0;
  std::optional<Age> last_seal;
  std::optional<Age> last_copy;
  SupplyView supply;
  std::vector<NoEntryView> no_entry = {};  // the longest first
  std::optional<NewKey> new_key = {};
  SpareView spare = {};
  StickView stick = {};

  bool operator==(const TodayView&) const = default;
};

struct StakeView {
  std::string plot;
  Mark mark = Mark::kOpen;
  bool lane_start = false;  // the path turns before it

  bool operator==(const StakeView&) const = default;
};

// Which stake does one see? Stands in the place of the pad at a turn of the path.
struct StakeQuestionView {
  std::string expected;
  std::string before;  // its neighbours along the path; empty at the ends
  std::string after;
  bool other = false;  // the number is being typed
  std::string typed;

  bool operator==(const StakeQuestionView&) const = default;
};
// Somebody stands elsewhere than the program thought, and gave values on the way.
struct SlippedView {
  std::string expected;  // where the program was
  std::string named;     // where they stand
  std::string from;      // the values in question
  std::string to;

  bool operator==(const SlippedView&) const = default;
};
struct StakeCard {
  std::optional<StakeQuestionView> question;
  std::optional<SlippedView> slipped;  // before a question

  [[nodiscard]] bool any() const { return question || slipped; }
  bool operator==(const StakeCard&) const = default;
};

struct MeasureView {
  std::string measure;  // words: "measure." + this
  std::string scale;    // words: "scale." + this + ".definition"
  ScaleKind kind = ScaleKind::kScore;
  Direction direction = Direction::kNone;
  PadKind pad = PadKind::kTiles;
  std::string unit;
  Mark mark = Mark::kOpen;
  std::string shown;       // the value as entered; empty: none
  std::string shown_word;  // key of the step's name, for stages and scores
  std::vector<ChoiceView> choices;
  bool can_fine = false;  // there are single steps between the choices: ShowTens
  bool tens = false;      // choices are stretches: a tap is ShowFine around what it enters
  bool fine = false;      // choices are the single steps
  std::string typed;      // amount being typed or stepped
  std::optional<GatherView> gather;
  std::optional<VisitsView> visits;
  // Of a program's own score: its own words; shown_word and those of choices are texts then.
  std::string own_name;  // empty: words of the program
  std::string own_definition;

  bool operator==(const MeasureView&) const = default;
};
struct NoteView {  // a note is being written
  std::string plot;
  std::string text;
  bool can_keep = false;

  bool operator==(const NoteView&) const = default;
};
struct RateView {
  HeadView head;
  std::string trial_code;
  std::string occasion;  // code
  OccasionName name;
  std::string plot;  // the largest thing on the card
  int block = 0;
  std::size_t place = 0;  // along the path, from 1
  std::size_t plots = 0;
  std::size_t done = 0;
  bool all_done = false;
  bool can_close = false;  // only put off plots are left
  bool closed = false;     // declared done before: not offered again
  bool can_enter = true;   // false: too many acts wait, or something is NOT SAVED
  bool drilled = true;     // what percent stand looks at
  bool second = false;     // somebody rates as second person
  std::string names;       // entry shown after unlocking; empty while blind
  bool blind = true;
  StandsView stands = {};
  std::vector<StakeView> lane;
  std::size_t present = 0;  // in lane
  std::vector<MeasureView> measures;
  std::optional<std::size_t> focus;  // in measures: whose pad is open
  std::vector<std::string> notes;    // of this plot
  std::optional<NoteView> note;
  StakeCard stake;               // in the place of the pad; nothing can be entered then
  std::string last_plot;         // a note can be put on it; empty: none
  std::string next_open;         // the next along the path where something is; empty: none, or here
  std::optional<Words> warning;  // battery or storage do not reach for the plots open here
  bool can_take_back = false;

  bool operator==(const RateView&) const = default;
};

struct RunHeadView {
  std::vector<FieldView> fields;      // machine, cut width, stubble
  std::vector<std::string> machines;  // known, one tap (KeyText after FocusField, or typed)
  std::vector<std::string> surfaces;  // codes; words: "surface." + code
  std::string surface;
  bool can_start = false;
  bool again = false;  // of another run of the day

  bool operator==(const RunHeadView&) const = default;
};
struct WeighingView {
  std::string plot;
  int block = 0;
  std::vector<StakeView> lane;
  std::size_t present = 0;
  std::vector<FieldView> fields;  // plot, gross, tare, bag, sample fresh
  bool can_keep = false;
  bool can_enter = true;
  bool can_take_back = false;
  bool all_done = false;
  std::size_t done = 0;
  std::string machine;
  StakeCard stake;               // in the place of the pad; nothing can be entered then
  std::optional<LoadView> load;  // a scale is plugged in
  bool weigh = false;            // its load stands in the place of the pad
  CheckDue check_due = CheckDue::kNone;
  std::optional<GaugeView> gauge;       // the weight stands
  std::optional<CheckView> check;       // instead of all pads
  PlotPage page = PlotPage::kPad;       // what stands in the pad's place
  std::vector<NoWeightView> no_weight;  // of that page, as the next two; empty: another one
  std::vector<BagKindView> bag_kinds;
  std::optional<MoreView> more;
  std::vector<FieldView> swath;  // length, width, or the weeds by eye; empty: neither is asked
  int bag = 1;                   // which bag of the plot is weighed
  std::string together;          // what its bags weigh so far, with the unit; empty: one bag
  bool weeds_only = false;
  std::string names;  // empty while blind
  bool blind = true;
  StandsView stands = {};
  std::optional<Words> warning;  // battery or storage do not reach for the plots open here

  bool operator==(const WeighingView&) const = default;
};
struct HarvestView {
  HeadView head;
  std::string trial_code;
  std::string occasion;
  int year = 0;
  int cutting = 0;
  std::variant<RunHeadView, WeighingView> step;

  bool operator==(const HarvestView&) const = default;
};

struct DryView {
  HeadView head;
  bool loaded = false;
  std::vector<BagRow> bags;       // still in the oven, then gone ones, that match what is typed
  std::size_t in_oven = 0;        // all of them
  std::string oldest;             // date at which the first of them was filled
  std::size_t no_fresh = 0;       // of them without a fresh weight
  std::vector<FieldView> fields;  // bag number, fresh weight, dried weight
  std::string weighed;            // chosen and still losing: what it weighed last, and its unit
  std::string weighed_unit;
  std::vector<std::string> gone_reasons;  // that can be said of the chosen bag
  std::string celsius;                    // of the oven, as stated; empty: not stated
  std::string hours;
  bool until_constant = false;
  std::optional<OvenView> oven;   // is being stated
  bool can_sort = false;          // there is a cutting whose samples can be sorted
  std::vector<SortRow> cuttings;  // which of them? empty: it is not being asked
  bool can_keep = false;
  bool can_enter = true;
  bool can_take_back = false;
  std::size_t done = 0;  // this sitting

  bool operator==(const DryView&) const = default;
};

struct DayRow {  // an occasion that was worked on today or is due
  TrialId trial;
  OccasionId occasion;
  std::string trial_code;
  std::string code;
  Job job = Job::kRate;
  int done = 0;
  int total = 0;
  int values_today = 0;
  std::vector<std::string> open_plots;
  std::vector<OpenItem> on_hold;
  std::vector<std::string> not_fresh = {};  // sample bags without a fresh weight
  std::vector<std::string> unsorted = {};   // plots whose sample is sorted in part only
  std::vector<OpenItem> questioned;
  OwnNames own_names = {};
  bool closed = false;
  bool can_close = false;  // begun, not whole, not closed, and somebody is there to say it

  bool operator==(const DayRow&) const = default;
};
enum class StepState { kWaiting, kReady, kBusy, kDone, kFailed };
struct StepView {  // seal, then copy
  StepState state = StepState::kWaiting;
  std::string file_name;
  std::string place;
  std::optional<Error> error;

  bool operator==(const StepView&) const = default;
};
struct DaysEndView {
  HeadView head;
  bool loaded = false;
  std::vector<DayRow> rows;
  std::int64_t unsealed = 0;
  std::size_t open = 0;  // over all rows
  std::size_t held = 0;
  std::size_t questioned = 0;
  StepView seal;
  std::int64_t sealed_records = 0;
  StepView copy;
  std::vector<CopyPlace> places;

  bool operator==(const DaysEndView&) const = default;
};

struct ReviewView {
  HeadView head;
  std::string trial_code;
  std::string occasion;  // code
  std::vector<std::string> measures;
  std::string measure;
  OwnNames own_names;
  bool can_take_back = false;
  std::size_t questions = 0;  // values to be settled
  bool agreement = false;     // enough plots were rated twice to tell how far that agrees
  bool hidden = false;        // others' values are, until this person's second rating is done
  std::variant<MapView, OccasionListView, HistoryView, MendView, SlideView, QuestionsView,
               AgreementView>
      page;

  bool operator==(const ReviewView&) const = default;
};

struct TrialsView {
  HeadView head;
  TrialsPage page;

  bool operator==(const TrialsView&) const = default;
};

using View =
    std::variant<StartingView, SignInView, TodayView, RateView, HarvestView, DryView, SortingView,
                 ReviewView, TrialsView, DaysEndView, TabletView, PracticeView>;
// While an occasion is being read the view is StartingView.
[[nodiscard]] View view_of(const Model& model);
// Whether what is on the scale is part of it, so that a frame is due when that changes.
[[nodiscard]] bool shows_load(const Model& model);

}  // namespace ligule::flow
