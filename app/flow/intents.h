// What a person did, or what came of an effect: everything that can change the model.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "app/flow/effects.h"
#include "app/flow/keypad.h"
#include "app/flow/known.h"
#include "app/flow/load.h"
#include "app/flow/pad_intents.h"
#include "app/flow/plot_page.h"
#include "app/flow/trials_model.h"
#include "storage/trial/error.h"

namespace ligule::flow {

// --- anywhere
struct Tick {};       // time went on; also sent when nothing else happens, about once a minute
struct HandOver {};   // somebody else takes the tablet: asks who, the screen stays
struct LockGlass {};  // taps are passed over until both corners were pressed
struct UnlockCorner {
  bool second = false;
};
struct KeepTablet {};  // nobody else after all
struct ShowToday {};
struct ShowDryWeights {};
struct ShowDaysEnd {};
struct OpenOccasion {  // the rating or cutting of a row of Today
  TrialId trial;
  OccasionId occasion;
};
struct ShowEarlier {};  // what is long past, or fold it away again
struct AnswerEarly {    // of a cutting before its day
  bool weigh = false;
};
// Of a rating that others rated, about to be opened.
enum class RateAs { kFirst, kSecond, kNotNow };
struct AnswerAsSecond {
  RateAs as = RateAs::kNotNow;
};
struct AnswerNoEntry {  // of a sprayed trial about to be gone into
  bool go_in = false;
};
struct KeyText {  // letters or digits from a pad, a hardware key, a scanner: to the active field
  std::string text;
};
struct KeyErase {};
struct KeyDone {};  // Enter: what the screen's main key would do with the active field
struct FocusField {
  Field field = Field::kGross;
};
struct AnswerQuestion {  // code of a phrase of the question shown
  std::string phrase;
};
struct RetryUnsaved {};  // write what is NOT SAVED again
struct DropUnsaved {};   // let it go: the plots show what the ledger holds
struct DismissNotice {};
struct ReadCautions {};  // those that lie over the screen

// --- sign-in, hand over
struct PickPerson {
  std::string initials;
};

// --- rate and harvest
struct GoToPlot {  // a tap on a stake
  std::string plot;
};
struct NameStake {  // the answer to which stake one sees
  std::string plot;
};
struct OtherStake {  // it is none of those offered: type its number, or go back to them
  bool open = true;
};
struct SlideSlipped {};  // they are not: slide them
struct LeaveSlipped {};  // the values are right where they are
struct PutOff {};        // "Later": everything open on this plot, then on to the next open one
struct TakeBack {};      // the last act of this sitting in this occasion
struct ShowNames {};     // unlock the entries' names for the rest of this occasion

struct DeclareDone {};  // this rating or cutting is over
struct CloseOccasion {  // the same from Day's end
  TrialId trial;
  OccasionId occasion;
};
struct AnswerClosing {  // told what is open
  bool close = false;
};

// --- rate
struct FocusMeasure {  // open another measure's pad
  std::string measure;
};
struct ChooseValue {  // a tile, a step of the ladder
  std::string measure;
  std::string entered;
  std::string reason = {};  // of a correction; empty: "mistap"
};
struct ShowTens {
};                 // which stretch of a percent the single steps are chosen from; again: the tiles
struct ShowFine {  // the steps between the tiles of a percent: around an entered one, or hide them
  std::string around;  // empty: hide
};
struct StepAmount {  // minus and plus of an amount pad, in fine steps of the scale
  int by = 1;
};
struct KeepAmount {};  // the amount typed or stepped to
struct OpenNote {
  bool on_last_plot = false;  // the plot that was just left
};
struct CloseNote {};

// --- harvest
struct ChooseSurface {
  std::string code;  // "dry", "dew", "rain"
};
struct StartRun {};  // the head of the run is filled in
struct OtherRun {    // machine or crop are others from this plot on; or they are not
  bool open = true;
};
enum class SplitAnswer { kFinish, kStop, kMachine };
struct AnswerSplit {  // of a block that is half cut
  SplitAnswer answer = SplitAnswer::kFinish;
};
struct AnswerLowStubble {
  bool go_on = false;
};
struct KeepPlot {};
struct SayNoWeight {
  std::string reason;  // a code of kNoWeightReasons
};
struct TakeWeight {};  // what is on the scale, as the plot's weight
struct TypeWeight {    // on the keypad, or from the scale again
  bool by_hand = true;
};
struct CheckScale {  // a check weight, or back to the plots
  bool open = true;
};
struct TakeCheck {};    // what is on the scale, as the check weight
struct AnswerDoubted {  // about the weights since the last good check: on hold, or they stand
  bool hold = false;
};
struct AnswerMoving {  // of a load that moves: wait until it is still, or average
  bool average = false;
};

// --- dry weights
struct ChooseBag {
  RecordId bag;
};
struct KeepDry {};
struct SayBagGone {    // the chosen bag will have no dried weight
  std::string reason;  // "bag_burst", "bag_lost", "label_unreadable"
};
struct ShowOven {
  bool open = true;
};
struct WeighUntilConstant {
  bool yes = true;
};

// --- sorting a sample by hand
struct ShowSorting {};  // which cutting, or the one there is
struct SortCutting {
  TrialId trial;
  OccasionId occasion;
};
struct SortPlot {
  std::string plot;
};
struct SortPart {
  int part = 0;  // 0: the whole
};
struct KeepSorted {};
struct SayNoneOfPart {};  // there is nothing of the part that is open
struct SortBack {};       // to the plots, to the drying room

// --- review
struct ShowReview {};  // of the occasion that was worked on last
struct ReviewOccasion {
  TrialId trial;
  OccasionId occasion;
  bool questions = false;  // at once with what was asked about
};
struct ListOccasions {};  // what else can be looked at
struct ListAgainst {};    // what the measure shown can be compared with
struct ReviewAgainst {    // compares with it
  OccasionId occasion;
};
struct ReviewAlone {};  // no longer
struct ReviewMeasure {
  std::string measure;
};
struct ShowHistory {  // of a plot: a tap on the map
  std::string plot;
};
struct MendValue {  // put a standing value of the history right
  RecordId claim;
};
struct MendBy {
  Mend what = Mend::kCorrect;
};
struct ChooseMended {  // a step of the scale as the new value
  std::string entered;
};
struct MendFor {  // does it, for this reason: a code of MendView::reasons
  std::string reason;
};
struct ShowAgreement {};  // of those who rated the same plots twice
struct ShowQuestions {};  // what was asked about and is to be settled
struct ShowQuestion {
  RecordId claim;
};
struct SettleQuestion {  // it stands
  RecordId claim;
  std::string reason;  // a code of QuestionsView::reasons
};
struct MendQuestion {  // another value, or none
  RecordId claim;
};
struct ShowSlide {};     // of the occasion looked at
struct ChooseSlideEnd {  // which end of the run the next plot tapped becomes
  bool to = false;
};
struct ChooseSlidePlot {
  std::string plot;
};
struct SlideBy {  // so many plots further on, negative: back
  int by = 1;
};
struct DoSlide {};
struct ReviewBack {};  // one step back: to the map, to Today

// --- trials
struct ShowTrials {};
struct ShowTrial {
  TrialId trial;
};
struct ShowTrialTab {
  TrialTab tab = TrialTab::kPlots;
};
struct StatePlot {  // what does this plot really hold?
  std::string plot;
};
struct StateSown {
  std::optional<AsSownStatus> status;
  std::string entry = {};  // code, for "holds"
};
struct StateExchanged {   // it and another plot were sown with each other's entry
  std::string with = {};  // its number; empty: still to be said
  bool typing = false;    // its number is to be typed
};
struct SaySownFrom {
  SownFrom from = SownFrom::kSowing;
};
struct ShowStands {};  // from the card: what does this plot really hold?
struct StepDay {       // of the date of a statement or an event: +1 is one day earlier
  int by = 1;
};
struct KeepSown {  // does it, for this reason: a code of kSownReasons
  std::string reason;
};
struct NewEvent {};
struct DescribeEvent {  // what is empty stays as it is
  std::string what = {};
  std::optional<int> block = {};            // 0: the whole trial
  std::optional<std::string> writing = {};  // key of what is to be typed; empty: nothing more
  std::string animals = {};                 // a code of kAnimals
  std::optional<NoEntryBy> no_entry = {};
};
struct StepUntil {  // the date until when nobody is to go in: +1 is one day later
  int by = 1;
};
struct KeepEvent {};
struct ShowEventBack {  // is it to be taken back?
  RecordId event;
};
struct TakeEventBack {  // does it, for this reason: a code of kEventBackReasons
  std::string reason;
};
struct LookForPlans {};
struct CheckPlan {
  std::string path;
};
struct LoadPlan {};    // the one that was checked
struct LoadSticks {};  // all sound new plans of sticks and cards
struct ShowStick {};   // what else they hold for this tablet
struct OfferCopy {     // another tablet's spare copy: is it to be gone on from?
  std::string path;
};
struct GoOnFromCopy {};  // it is
struct CheckFile {       // another tablet's season file
  std::string path;
};
struct TakeFile {};  // the one that was read: its letters are those of that tablet
struct TrialsBack {};

// --- day's end
struct SealDay {};
struct CopyTo {
  std::string place;  // CopyPlace::path
};

// --- tablet
struct ShowTablet {};
struct Choose {  // one of the codes of a preference
  Preference what = Preference::kLanguage;
  std::string code;
};
struct MeasureGlass {};  // hold a card against the drawn bar
struct StepGlass {       // by so many fine steps: a longer bar, or a shorter one
  int by = 1;
};
struct KeepGlass {};     // the bar is as long as the card
struct OwnGlass {};      // back to what the display says of itself
struct ShowCautions {};  // all of them, to read again
struct ShowKey {};       // the tablet's key, as letters and as a code
struct ShowScale {};     // its port, and what comes from it
struct ShowPractice {    // drawn stands, for a rating of percent stand
  TrialId trial;
  OccasionId occasion;
};

// --- outcomes, from work
struct Started {  // the first of all: what the ledger and assets hold
  Setup setup;
  std::vector<KnownTrial> trials;
  std::vector<Person> people;
  std::vector<std::pair<PersonId, OccasionId>> names_shown = {};
};
struct PreferencesRead {  // before Started; error: why they are not the person's own
  Preferences preferences;
  std::vector<LanguageName> languages;
  Display display;
  std::optional<Error> error = {};
  std::vector<LineFormName> line_forms = {};
};
struct PreferencesKept {};
struct PreferencesNotKept {
  Error error;
};
struct TabletLoaded {
  TabletFacts facts;
};
struct LoadTold {  // what is on the scale, whenever that changes
  LoadSeen seen;
  std::optional<AverageEnded> average = {};
};
struct SupplyTold {  // battery and storage, at the start and about once a minute
  Supply supply;
};
struct TodayLoaded {
  Today today;
};
struct OccasionLoaded {
  TrialId trial;
  OccasionId occasion;
  std::vector<KnownClaim> claims;        // of this occasion, purpose survey, plots and bags
  std::vector<Record> runs;              // harvest_run records of it, oldest first
  std::vector<AsSown> as_sown;           // of the trial
  std::vector<PersonId> names_shown_to;  // persons of events "names_shown" of it
  std::vector<OpenBag> open_bags;        // of every trial on this tablet
  std::vector<Record> checks = {};       // of a cutting: check weights of all cuttings
  std::map<std::string, RatedBefore> before = {};  // by plot
  std::optional<CalendarDate> last_cut = {};       // day of the newest run of any other cutting
  // Of a cutting: kilograms of forage by plot in the season's earlier ones, oldest first.
  std::vector<std::map<std::string, double>> earlier = {};
  std::vector<CuttingWeighed> elsewhere = {};  // of a cutting: others that a check may reach
  std::vector<KnownClaim> again = {};          // standing, of purpose repeat and second
};
struct HistoryLoaded {
  TrialId trial;
  std::string plot;
  std::vector<Record> records;  // about the plot and its bags, newest first
};
struct TrialLoaded {
  TrialId trial;
  std::vector<AsSown> as_sown;
  std::vector<TrialEvent> events;  // newest first, without what the program says itself
  std::vector<std::pair<PersonId, OccasionId>> names_shown;
};
struct PlansFound {
  std::vector<PlanFolder> folders;
  std::vector<FoundCopy> copies = {};  // spare copies of other tablets, the newest first
  std::vector<FoundFile> files = {};   // season files of other tablets
};
struct PlanChecked {
  CheckedPlan plan;
};
struct PlanFaulty {
  FaultyPlan plan;
};
struct SticksChanged {};  // one was put in or taken out
struct SticksSeen {
  StickPlans plans;
};
struct PlansKnown {  // every trial of the ledger
  std::vector<KnownTrial> trials;
};
struct BagsLoaded {
  std::vector<OpenBag> bags;
};
struct Failed {  // a load that could not be carried out
  Error error;
};
struct Kept {
  ActNumber act = 0;
};
struct NotKept {
  ActNumber act = 0;
  Error error;
  int epoch = 0;  // of the append that failed: the act may have been sent again meanwhile
};
struct Sealed {
  SealNote note;  // written, opened again and verified
};
struct NotSealed {
  Error error;
};
struct Copied {
  CopyNote note;  // copied, read back and equal
};
struct NotCopied {
  std::string place;
  Error error;
};
struct LedgerCopied {           // both empty: nothing to copy to
  std::vector<SpareCopy> made;  // one a place, read back
  std::vector<NotCopied> failed;
};
struct TakenOver {
  Started start;             // what the ledger holds now
  std::string device;        // whose copy it was
  std::int64_t records = 0;  // that were not here before
};
struct NotTakenOver {
  Error error;
};
struct SeasonFileRead {
  ReadFile file;
};
struct SeasonFileFaulty {
  FaultyFile file;
};
struct GatheredHere {
  Started start;              // what the ledger holds now
  std::string device;         // whose file it was
  std::int64_t records = 0;   // that were not here before
  std::size_t conflicts = 0;  // slots that values stand against each other in, all
};
struct NotGatheredHere {
  Error error;
};

using AnyIntent = std::variant<
    Tick, HandOver, KeepTablet, LockGlass, UnlockCorner, ShowToday, ShowDryWeights, ShowDaysEnd,
    OpenOccasion, ShowEarlier, AnswerEarly, AnswerAsSecond, AnswerNoEntry, KeyText, KeyErase,
    KeyDone, FocusField, AnswerQuestion, RetryUnsaved, DropUnsaved, DismissNotice, ReadCautions,
    PickPerson, GoToPlot, NameStake, OtherStake, SlideSlipped, LeaveSlipped, PutOff, TakeBack,
    ShowNames, DeclareDone, CloseOccasion, AnswerClosing, FocusMeasure, ChooseValue, ShowTens,
    ShowFine, StepAmount, KeepAmount, OpenNote, CloseNote, ChooseSurface, StartRun, OtherRun,
    AnswerSplit, AnswerLowStubble, KeepPlot, TakeWeight, TypeWeight, AnswerMoving, ShowPage,
    MoreBag, ChooseBagKind, SayWeedsOnly, KeepSwath, AnswerSwapped, SayNoWeight, CheckScale,
    TakeCheck, AnswerDoubted, ChooseBag, KeepDry, SayBagGone, ShowOven, WeighUntilConstant,
    ShowSorting, SortCutting, SortPlot, SortPart, KeepSorted, SayNoneOfPart, SortBack, ShowReview,
    ReviewOccasion, ListOccasions, ListAgainst, ReviewAgainst, ReviewAlone, ReviewMeasure,
    ShowHistory, MendValue, MendBy, ChooseMended, MendFor, TapCell, NextPlacement, FocusShare,
    SetShare, StepShare, CountStage, DropLast, KeepGathered, MarkReached, OthersNotYet, ShowBlock,
    ShowAgreement, ShowQuestions, ShowQuestion, SettleQuestion, MendQuestion, ShowSlide,
    ChooseSlideEnd, ChooseSlidePlot, SlideBy, DoSlide, ReviewBack, ShowTrials, ShowTrial,
    ShowTrialTab, StatePlot, StateSown, StateExchanged, SaySownFrom, ShowStands, StepDay, KeepSown,
    NewEvent, DescribeEvent, StepUntil, KeepEvent, ShowEventBack, TakeEventBack, LookForPlans,
    CheckPlan, LoadPlan, LoadSticks, ShowStick, OfferCopy, GoOnFromCopy, CheckFile, TakeFile,
    TrialsBack, SealDay, CopyTo, ShowTablet, Choose, MeasureGlass, StepGlass, KeepGlass, OwnGlass,
    ShowCautions, ShowKey, ShowScale, ShowPractice, PreferencesRead, PreferencesKept,
    PreferencesNotKept, TabletLoaded, Started, SupplyTold, LoadTold, TodayLoaded, OccasionLoaded,
    HistoryLoaded, TrialLoaded, PlansFound, PlanChecked, PlanFaulty, SticksChanged, SticksSeen,
    PlansKnown, BagsLoaded, Failed, Kept, NotKept, Sealed, NotSealed, Copied, NotCopied,
    LedgerCopied, TakenOver, NotTakenOver, SeasonFileRead, SeasonFileFaulty, GatheredHere,
    NotGatheredHere>;

// What moves, copies and ends one of so many kinds is compiled once, in intents.cc: compiled anew
// in every source that sends one, it takes longer than the rest of that source.
struct Intent : AnyIntent {
  using AnyIntent::AnyIntent;
  Intent(const Intent& other);
  Intent(Intent&& other) noexcept;
  Intent& operator=(const Intent& other);
  Intent& operator=(Intent&& other) noexcept;
  ~Intent();
};

}  // namespace ligule::flow
