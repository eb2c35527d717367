// What every screen is doing. Plain structs, no window, no file, no words.
//
// How it is used:
//   * There is one Model and one thread that changes it. Anything that happens is an Intent with
//     the Stamp at which it happened; `update(model, {at, intent}, ids)` (update.h) changes the
//     model and returns the effects to run.
//   * screens draw from views.h: `view_of(model)` gives the present screen as a struct of values
//     and keys of words ("rate.later", "scale.maturity_grass.R0"), `overlay_of(model)` what lies
//     above it (a question, NOT SAVED, a refusal). A tap becomes an Intent. Screens keep scroll
//     positions only; texts being typed live here (Keypad).
//   * work runs Effects (effects.h) and sends outcomes back as Intents, in the same order. "Kept"
//     is shown only after the outcome Kept, which work sends after the commit is durable. First
//     outcome of all: Started.
//   * ids come from the IdSource handed to update(): work wraps UuidSequence.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <utility>
#include <variant>
#include <vector>

#include "app/flow/asked.h"
#include "app/flow/effects.h"
#include "app/flow/held.h"
#include "app/flow/keypad.h"
#include "app/flow/known.h"
#include "app/flow/load.h"
#include "app/flow/oven.h"
#include "app/flow/plot_page.h"
#include "app/flow/practice_model.h"
#include "app/flow/review_model.h"
#include "app/flow/second_look_model.h"
#include "app/flow/spare_model.h"
#include "app/flow/stake_model.h"
#include "app/flow/trials_model.h"
#include "app/flow/weight_form.h"
#include "storage/checks/rules.h"
#include "storage/trial/error.h"
#include "storage/trial/plot_path.h"

namespace ligule::flow {

// At most this many acts may wait for the writer; then pads are closed until one is kept.
inline constexpr std::size_t kMostPending = 8;

// One thing a person did, as the records it makes in one transaction.
enum class ActKind {
  kPerson,
  kValues,
  kPutOff,
  kNote,
  kTakeBack,
  kRun,
  kDryWeight,
  kSorted,  // a part of a plot's sample, or the whole of it
  kNamesShown,
  kSettle,
  kSlide,
  kClosed,
  kAsSown,
  kEvent,  // noted, or taken back
  kPlan,
  kCheckWeight,
  kDoubted,
  kPractice,
  kStated  // something about the plot that one stands at: it stays the present one
};
struct Act {
  ActNumber number = 0;
  ActKind kind = ActKind::kValues;
  std::optional<TrialId> trial;
  std::optional<OccasionId> occasion;
  std::string plot;  // where the person stood; empty for acts about no plot
  std::vector<Record> records;
  std::vector<std::optional<KnownClaim>> before;  // the claim each record replaces
  SlideRun slide;                                 // of a slide: which
  std::vector<PlotHolding> restores;              // of a slide: every plot it touched, as it was

  bool operator==(const Act&) const = default;
};

// Acts whose commit failed, oldest first. Nothing else is taken in until they are written again or
// let go.
struct Unsaved {
  std::vector<Act> acts;
  Error error;

  bool operator==(const Unsaved&) const = default;
};

// What an entry is about to become: a record, and what is still to be asked about it.
struct Draft {
  Record record;
  std::optional<KnownClaim> before;
  std::vector<checks::Finding> open;  // front is being asked
  bool held = false;                  // a rule answered so far keeps it on hold

  bool operator==(const Draft&) const = default;
};
// A question on the screen: the first open finding of the drafts, in order.
struct Asking {
  ActKind kind = ActKind::kValues;
  std::string plot;
  std::vector<Draft> drafts;

  bool operator==(const Asking&) const = default;
};
// A value that was dropped to be read again: read the same, it is what was seen twice.
struct ReadAgain {
  OccasionId occasion;
  Slot slot;
  std::string rule;
  std::string entered;
  std::string unit;

  bool operator==(const ReadAgain&) const = default;
};
// An answer of scope kDay.
struct DayAnswer {
  OccasionId occasion;
  CalendarDate day{};
  Answer answer;

  bool operator==(const DayAnswer&) const = default;
};

// Who has the tablet is being asked; the screen waits below as it is.
struct HandingOver {
  bool after_rest = false;  // nobody touched it for a while
  Keypad keypad{Field::kInitials};
  bool operator==(const HandingOver&) const = default;
};

// The glass takes nothing until its two corners were pressed, one soon after the other.
struct Lock {
  std::optional<UtcInstant> first_at;  // when the first was
  bool operator==(const Lock&) const = default;
};

// What the machine has left, and what the plots of this sitting took of it.
struct SupplyWatch {
  struct From {
    std::int64_t amount = 0;  // percent of the battery, bytes of the ledger
    std::int64_t plots = 0;   // of this sitting until then
    bool operator==(const From&) const = default;
  };
  Supply now;
  std::optional<From> battery_from;  // since the charger was pulled
  std::optional<From> ledger_from;
  std::set<std::pair<OccasionId, std::string>> plots;  // that got a value in this sitting
  bool operator==(const SupplyWatch&) const = default;
};

// Something to tell until the next tap: why a value was refused, that a stake is unknown.
struct Notice {
  std::string key;  // of its words: "notice.unknown_plot", "check.off_scale"
  std::vector<std::string> arguments;
  std::optional<Error> error;

  bool operator==(const Notice&) const = default;
};

// What rules look at beside the occasion that is open.
struct PlotsPast {
  std::map<std::string, RatedBefore> before;  // by plot
  // When the trial was cut last in another occasion; of a rating, cut, clipped or grazed.
  std::optional<CalendarDate> last_cut;
  std::vector<std::map<std::string, double>> earlier;  // kg by plot, earlier cuttings of the year

  bool operator==(const PlotsPast&) const = default;
};

// An occasion that is open: everything standing in it.
struct Book {
  std::size_t trial = 0;  // in Model::trials
  PlanOccasion occasion;
  OccasionId id;
  std::vector<PlanPlot> plots;         // along the path, abandoned ones left out
  PathAlong along = PathAlong::kRows;  // lanes of the whole trial's path
  std::map<Slot, KnownClaim> kept;     // durable; pending and unsaved acts lie above it
  std::vector<Act> done;               // acts of this sitting that can be taken back, oldest first
  std::size_t present = 0;
  std::optional<std::size_t> last;  // the plot that was just left
  StakeEntry stake;
  std::optional<Slipped> slipped;  // until somebody says what is to be done about it
  Looks looks;
  PlotsPast past;

  bool operator==(const Book&) const = default;
};

// --- screens -------------------------------------------------------------------------------------
struct Starting {
  bool operator==(const Starting&) const = default;
};
struct SignIn {
  Keypad keypad{Field::kInitials};
  bool operator==(const SignIn&) const = default;
};
struct OnToday {
  bool earlier = false;  // what is long past is shown too
  bool operator==(const OnToday&) const = default;
};
// The Slide screen, a page of Review.
struct Sliding {
  SlideRun run;
  bool choosing_to = false;  // the next plot tapped is the last of the run, else the first
  std::optional<std::string> work_at;  // came from a card: the plot to go back to

  bool operator==(const Sliding&) const = default;
};

// An occasion is being read; plot: where to go then (after a failed commit), empty: first open one.
struct Opening {
  TrialId trial;
  OccasionId occasion;
  std::string plot;
  bool review = false;                  // to look at it, not to work on it
  std::optional<Sliding> sliding = {};  // of a review: with this page
  bool sorting = false;                 // to sort samples of it
  bool questions = false;               // of a review: with what was asked about
  std::optional<bool> second = {};      // as second person, or not; empty: it is asked
  bool operator==(const Opening&) const = default;
};

// What the card's pad is busy with.
struct PadTiles {
  bool operator==(const PadTiles&) const = default;
};
struct PadTens {  // between which tiles is the value?
  bool operator==(const PadTens&) const = default;
};
struct PadFine {  // steps between the tiles, around one
  std::string around;
  bool operator==(const PadFine&) const = default;
};
struct PadNote {  // a note is being written
  std::string plot;
  Keypad keypad{Field::kNote};
  bool operator==(const PadNote&) const = default;
};
// One of several numbers that become one act: a height, the cells of a placement ("0110..."), a
// share ("sown=60"), a counted stage ("R0").
struct Piece {
  std::string text;
  Source source = Source::kTapped;
  bool operator==(const Piece&) const = default;
};
// A note that somebody began and left.
struct NoteBegun {
  PersonId by;
  std::string text;
  bool operator==(const NoteBegun&) const = default;
};
using CardPad = std::variant<PadTiles, PadTens, PadFine, PadNote>;
struct Rating {
  Book book;
  std::string focus;  // measure whose pad is open; empty: nothing is open on this plot
  CardPad pad;
  Keypad amount{Field::kAmount};
  UtcInstant typed_from{};  // when what is being typed was begun
  // By plot and measure: nothing gathered is lost when somebody walks on before it is kept.
  std::map<std::pair<std::string, std::string>, std::vector<Piece>> begun;
  std::map<std::string, NoteBegun> notes_begun;  // by plot
  std::string part;  // of shares, that the tiles speak of; empty: the next open one
  int block = 0;     // whose dates are tapped; 0: that of the present plot
  bool operator==(const Rating&) const = default;
};

struct Weighing : WeightForm {
  Record run;
  bool by_hand = false;  // this plot's weight is typed although there is a scale
  bool more = false;     // another bag follows the one that is being kept
  std::optional<CheckingScale> checking;
  PlotPage page = PlotPage::kPad;
  Keypad swath{Field::kSwathLength};
  bool operator==(const Weighing&) const = default;
};
// Another cutting, as far as its weights go.
struct Elsewhere {
  Book book;
  std::vector<Record> runs;
  bool operator==(const Elsewhere&) const = default;
};
struct Harvest {
  Book book;
  std::vector<Record> runs;
  std::vector<Record> checks;        // of every scale, in any cutting
  std::vector<Elsewhere> elsewhere;  // other cuttings that a check may reach
  std::vector<OpenBag> open_bags;
  std::string tare;  // remembered from plot to plot, with its kind of bag
  std::string tare_kind;
  std::map<std::string, WeightForm> begun;  // by plot left before it was kept: nothing is lost
  std::string gauged;  // the plot weighed last: its gauge shows until the next weight is begun
  std::variant<RunHead, Weighing> step;
  bool operator==(const Harvest&) const = default;
};

// Weights typed for a cutting and not kept when its screen was left.
struct SetAside {
  std::string unit;
  std::map<std::string, WeightForm> begun;
  std::optional<RunHead> head;  // of a run that was not started
  bool operator==(const SetAside&) const = default;
};

// What was gathered and written on the cards of a rating and not kept when it was left.
struct CardsAside {
  std::map<std::pair<std::string, std::string>, std::vector<Piece>> begun;
  std::map<std::pair<std::string, std::string>, std::string> units;  // it was begun in
  std::map<std::string, NoteBegun> notes;

  bool operator==(const CardsAside&) const = default;
};

// What stands typed in the fields of a form and was not kept; only whoever typed it goes on with
// it.
struct TypedBegun {
  PersonId by;
  std::vector<std::string> texts;  // in the order of the fields
  bool operator==(const TypedBegun&) const = default;
};
struct DryWeights {
  bool loaded = false;
  std::vector<OpenBag> bags;       // by number then date; weighed ones keep their place
  std::optional<RecordId> chosen;  // bag on the scale
  Keypad keypad{Field::kDryBag};
  Field weighing = Field::kDryWeight;  // which of a bag's weights was typed last
  std::optional<OvenSheet> oven;
  bool which_cutting = false;  // samples of which are sorted is being asked
  std::vector<Act> done;       // of this sitting, oldest first
  bool operator==(const DryWeights&) const = default;
};

// Samples of a cutting are sorted by hand.
struct Sorting {
  Book book;
  std::vector<OpenBag> open_bags;
  std::string plot;         // whose sample lies on the table; empty: it is being asked
  std::optional<int> part;  // that is weighed, 0 the whole; empty: nothing is open
  Keypad keypad{Field::kSortPlot};
  bool operator==(const Sorting&) const = default;
};

struct Review {  // looking back over one occasion
  Book book;
  std::vector<OpenBag> open_bags;
  std::string measure;                // shown on the map; empty: the occasion has none
  std::optional<Book> against;        // the map shows this occasion minus that one
  std::optional<OccasionId> awaited;  // is being read to become `against`
  std::vector<KnownClaim> again;      // values of second looks and second persons
  std::variant<ReviewMap, ReviewList, PlotHistory, Sliding, Questions, Agreement> page;
  bool operator==(const Review&) const = default;
};

struct NotSealedYet {
  bool operator==(const NotSealedYet&) const = default;
};
struct Sealing {
  bool operator==(const Sealing&) const = default;
};
struct SealDone {
  SealNote note;
  bool operator==(const SealDone&) const = default;
};
struct SealFailed {
  Error error;
  bool operator==(const SealFailed&) const = default;
};
struct NotCopiedYet {
  bool operator==(const NotCopiedYet&) const = default;
};
struct Copying {
  std::string place;
  bool operator==(const Copying&) const = default;
};
struct CopyDone {
  CopyNote note;
  bool operator==(const CopyDone&) const = default;
};
struct CopyFailed {
  std::string place;
  Error error;
  bool operator==(const CopyFailed&) const = default;
};
// Outlives the screen: a copy goes on while somebody looks elsewhere.
struct SealSteps {
  std::variant<NotSealedYet, Sealing, SealDone, SealFailed> seal;
  std::variant<NotCopiedYet, Copying, CopyDone, CopyFailed> copy;
  bool operator==(const SealSteps&) const = default;
};
struct OnDaysEnd {
  bool operator==(const OnDaysEnd&) const = default;
};

struct OnTablet {
  std::optional<double> measured;  // dots per inch tried with a card against the bar
  bool scale = false;              // its port is being set
  bool cautions = false;           // are being read again
  bool key = false;                // the tablet's key is shown
  bool operator==(const OnTablet&) const = default;
};

using Screen = std::variant<Starting, SignIn, OnToday, Opening, Rating, Harvest, DryWeights,
                            Sorting, Review, Trials, OnDaysEnd, OnTablet, OnPractice>;

struct Model {
  Setup setup;
  Stamp now;  // of the last intent
  std::vector<KnownTrial> trials;
  std::vector<Person> people;
  std::optional<Person> person;  // who holds the tablet
  std::optional<HandingOver> handing;
  Scanned scanned;
  std::optional<Lock> lock;
  std::optional<Early> early;
  std::optional<Closing> closing;
  std::optional<Closing> closing_next;  // its values are being read, for how it was made
  std::map<OccasionId, SetAside> set_aside;
  std::map<OccasionId, CardsAside> cards_aside;
  std::map<PersonId, PracticeSet> practice;                                   // the last of each
  std::map<RecordId, TypedBegun> dry_begun;                                   // by bag
  std::map<std::tuple<OccasionId, std::string, int>, TypedBegun> sort_begun;  // by plot and part
  std::set<OccasionId> meant_early;                                           // asked once
  std::optional<SownHere> standing;  // what a plot holds is being stated over its card
  StickPlans stick;                  // as sticks and cards were looked at last
  std::optional<StayOut> stay_out;
  std::optional<AsSecond> as_second;
  std::set<std::tuple<PersonId, OccasionId, CalendarDate, Uuid>> looked_again;  // plots, once a day
  std::set<std::tuple<PersonId, OccasionId, CalendarDate>> went_in;             // asked once a day
  SupplyWatch supply;
  UtcInstant touched{};  // when a person did something last
  Today today;
  bool today_loaded = false;

  Preferences preferences;
  std::vector<LanguageName> languages;
  std::vector<LineFormName> line_forms;
  Oven oven;
  LoadSeen load;                     // on the scale now
  std::optional<MovingLoad> moving;  // was to be taken
  std::optional<Doubted> doubted;
  std::optional<Swapped> swapped;
  std::optional<WaitingSwapped> swapped_waits;
  std::optional<LowStubble> low_stubble;
  std::optional<Splitting> splitting;
  std::set<std::tuple<OccasionId, int, CalendarDate>> meant_split;  // blocks, by day
  Display display;
  std::optional<TabletFacts> facts;

  std::vector<Act> pending;  // handed to the writer, oldest first
  std::optional<Unsaved> unsaved;
  int epoch = 1;  // of appends; see Append
  ActNumber last_act = 0;

  std::optional<Asking> asking;
  std::optional<ReadAgain> read_again;
  std::vector<DayAnswer> day_answers;
  std::optional<Notice> notice;
  std::set<std::pair<PersonId, OccasionId>> names_shown;  // these rate no longer blind
  std::vector<StakeAnswer> stakes;                        // oldest first

  SealSteps seal_steps;
  SpareWatch spare;
  Screen screen;
};

}  // namespace ligule::flow
