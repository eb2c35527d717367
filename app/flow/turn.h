// One call of update(): the model, when, and what is to be done. Shared by the parts of update; not
// for other rooms.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "app/flow/book.h"
#include "app/flow/prefer.h"
#include "app/flow/update.h"
#include "storage/checks/history.h"

namespace ligule::flow {

struct Turn {
  Model& model;
  const Stamp& at;
  const IdSource& ids;
  Effects effects = {};

  [[nodiscard]] RecordId new_id() const { return ids(at.utc); }
  // In place: g++ 12 takes the unused alternatives of a moved variant for uninitialised reads.
  template <class Kind>
  void run(Kind effect) {
    effects.emplace_back(std::in_place_type<Kind>, std::move(effect));
  }
  void notice(std::string key, std::vector<std::string> arguments = {},
              std::optional<Error> error = {}) const {
    model.notice = Notice{std::move(key), std::move(arguments), std::move(error)};
  }
};

// One lambda for each alternative of a variant.
template <class... Handlers>
struct Overloaded : Handlers... {
  using Handlers::operator()...;
};

// The screen where it is of that kind, else null.
template <class ScreenType>
ScreenType* on(Turn& turn) {
  return std::get_if<ScreenType>(&turn.model.screen);
}

// --- typing.cc
void key_text(Turn& turn, const KeyText& intent);
void key_erase(Turn& turn);
void key_done(Turn& turn);
void focus_field(Turn& turn, Field field);

// --- outcomes.cc
void started(Turn& turn, Started outcome);
void occasion_loaded(Turn& turn, OccasionLoaded loaded);
void bags_loaded(Turn& turn, BagsLoaded loaded);
void failed(Turn& turn, const Failed& outcome);

// --- records (records.cc)
// What a value is about.
struct About {
  const KnownTrial* trial = nullptr;  // never null
  OccasionId occasion;
  Slot slot;
  std::optional<RecordId> run;
  const Scale* scale = nullptr;  // null: the measure has none (a note without a definition)
};
// A record with id, stamp and person of this turn.
[[nodiscard]] Record blank(const Turn& turn, std::string_view kind);
// What another record says, as a record of this turn: id, stamp and person are new, all else stays.
[[nodiscard]] Record restated(const Turn& turn, const Record& from, std::string_view kind);
// A first value, or a correction of the claim that stands. reason: of a correction.
[[nodiscard]] Draft value_draft(const Turn& turn, const About& about, const EnteredValue& value,
                                ValueState state, Source source,
                                const std::optional<KnownClaim>& standing, std::string_view reason);
// What takes a standing claim back: a withdrawal of a first value, a correction to the earlier
// value of a correction.
[[nodiscard]] Record take_back_record(const Turn& turn, const KnownClaim& standing,
                                      const std::optional<Record>& earlier);

// The value a record replaced, where it replaced one.
[[nodiscard]] std::optional<Record> earlier_of(const Record& record,
                                               const std::optional<KnownClaim>& before);

// --- acts (acts.cc)
// Why a value was refused, told until the next tap.
void refuse(Turn& turn, const checks::Finding& finding);
// Hands drafts to the writer, or asks first what is open about them.
void keep_or_ask(Turn& turn, ActKind kind, const std::string& plot, std::vector<Draft> drafts);
// Hands records to the writer as one act about an occasion (or none).
void commit(Turn& turn, Act act);
// Answers of scope kDay given for this occasion today.
[[nodiscard]] std::vector<Answer> day_answers(const Model& model, OccasionId occasion);
// Takes back the newest act that still has something standing; false when there is none.
bool take_back_last(Turn& turn, Book& book);

void answer(Turn& turn, const AnswerQuestion& intent);
void retry(Turn& turn);
void drop(Turn& turn);
void kept(Turn& turn, const Kept& outcome);
void not_kept(Turn& turn, const NotKept& outcome);

// --- screens
// Goes to another screen; what is half typed on this one waits for it.
void show_screen(Turn& turn, Screen screen);
void show_today(Turn& turn);
void open_occasion(Turn& turn, TrialId trial, OccasionId occasion, const std::string& plot);
void show_dry_weights(Turn& turn);
void sign_in(Turn& turn, std::string_view initials);
// Makes somebody the person who holds the tablet, as a record when new here; false: no initials.
bool become(Turn& turn, std::string_view initials);

void go_to(Turn& turn, Book& book, std::size_t place);  // rate and harvest alike
void put_off(Turn& turn, Book& book);

// stake.cc
void name_stake(Turn& turn, Book& book, const std::string& plot);
void other_stake(const Turn& turn, Book& book, bool open);
// A person goes to a plot by its number: nobody need ask them about it.
void went_to_stake(const Turn& turn, const Book& book, const std::string& plot);

// compare.cc
void list_against(const Turn& turn, Review& review);
void review_against(Turn& turn, Review& review, OccasionId occasion);
// Takes in what was read for a comparison; false: it was not.
bool compared(const Turn& turn, const OccasionLoaded& loaded);

// slide.cc: the records of a slide, and those that take it back. Without records: it can't be done.
[[nodiscard]] Act slide_act(Turn& turn, const Book& book, const SlideRun& run);
[[nodiscard]] Act unslide_act(Turn& turn, const Book& book, const Act& slide);
// sliding.cc
void show_slide(Turn& turn);
void slide_slipped(Turn& turn);
void choose_slide_end(Turn& turn, bool to);
void choose_slide_plot(Turn& turn, const std::string& plot);
void slide_by(Turn& turn, int by);
void do_slide(Turn& turn);
void slide_taken_back(Turn& turn, const Act& slide);

// rate.cc
void settle_focus(const Turn& turn, Rating& rating);
void choose_value(Turn& turn, Rating& rating, const ChooseValue& intent, Source source);
void focus_measure(const Turn& turn, Rating& rating, const FocusMeasure& intent);
void show_tens(const Turn& turn, Rating& rating);
void show_fine(const Turn& turn, Rating& rating, const ShowFine& intent);
void step_amount(const Turn& turn, Rating& rating, int by);
void erase_amount(Turn& turn, Rating& rating);
void keep_amount(Turn& turn, Rating& rating);
void open_note(const Turn& turn, Rating& rating, bool on_last);
// The note is left as it is; whoever wrote it finds it again on its plot.
void close_note(const Turn& turn, Rating& rating);
// What was begun on the cards, as it was when the rating was left.
void take_up_cards(Turn& turn);
void keep_note(Turn& turn, Rating& rating);
// The note being written on the card, as it stands, of whoever holds the tablet now; and keeping it
// for them, under their initials, when somebody else takes it.
[[nodiscard]] std::optional<Draft> begun_note(const Turn& turn);
void keep_begun_note(Turn& turn, Draft draft, const std::string& initials);
// gather.cc, visits.cc
void use_pad(Turn& turn, Rating& rating, const TapCell& intent);
void use_pad(Turn& turn, Rating& rating, const NextPlacement& intent);
void use_pad(Turn& turn, Rating& rating, const FocusShare& intent);
void use_pad(Turn& turn, Rating& rating, const SetShare& intent);
void use_pad(Turn& turn, Rating& rating, const StepShare& intent);
void use_pad(Turn& turn, Rating& rating, const CountStage& intent);
void use_pad(Turn& turn, Rating& rating, const DropLast& intent);
void use_pad(Turn& turn, Rating& rating, const KeepGathered& intent);
void use_pad(Turn& turn, Rating& rating, const MarkReached& intent);
void use_pad(Turn& turn, Rating& rating, const OthersNotYet& intent);
void use_pad(Turn& turn, Rating& rating, const ShowBlock& intent);
// Whether the act says something of a visit. Once the rest of a block was said not to have reached
// it: on to the next block along the path that nobody looked at today, at its first stake.
bool visited(const Turn& turn, Rating& rating, const Act& act);
void rated(const Turn& turn, Rating& rating, const Act& act);  // after an act was handed over

// harvest.cc
// Plots are being weighed; else null.
[[nodiscard]] Weighing* weighing_on(Turn& turn);
// take_weight.cc: the load that is on the scale counts as taken, or after all as not taken.
void mark_load(Turn& turn, bool taken);
[[nodiscard]] bool from_scale(const Record& record);
void begin_harvest(Turn& turn, Book book, OccasionLoaded loaded);
void start_run(Turn& turn, Harvest& harvest);
// Machine or crop are others from here on: the head of another run of the day; or back from it.
void begin_other_run(Turn& turn, Harvest& harvest, bool open);
void fill_form(const Turn& turn, Harvest& harvest, Weighing& weighing);
void leave_form(const Model& model, Harvest& harvest, Weighing& weighing);
// The unit weights are typed in here; empty: there is no plot.
[[nodiscard]] std::string weighed_in(const Model& model, const Harvest& harvest);
// Weights are typed in another unit from now on: what was typed in `before` is let go and told.
void weights_in_another_unit(Turn& turn, Harvest& harvest, const std::string& before);
// The screen is being left: what was typed for a cutting, or begun on the cards of a rating, waits
// until it is opened again.
void set_aside(Model& model);
void set_cards_aside(Model& model, const Rating& rating);
void harvest_done(Turn& turn, Harvest& harvest);
void keep_plot(Turn& turn, Harvest& harvest, bool more = false);
void harvested(Turn& turn, Harvest& harvest, const Act& act);

// dry_weights.cc
void choose_bag(const Turn& turn, DryWeights& dry, RecordId bag);
// What is half typed of the chosen bag, or of the part on the table, waits there for its writer.
void set_bag_aside(Model& model, const DryWeights& dry);
void set_part_aside(Model& model, const Sorting& sorting);
void dry_done(Turn& turn, DryWeights& dry);
void keep_dry(Turn& turn, DryWeights& dry);
void take_back_dry(Turn& turn, DryWeights& dry);
void weighed_dry(DryWeights& dry);
// Back to the bag whose weight is NOT SAVED, if there is one.
void choose_unsaved(const Turn& turn, DryWeights& dry);
void fold_dry(DryWeights& dry, const Act& act);
// What stands as a bag's fresh or dried weight, acts under way counted in.
[[nodiscard]] Cell fresh_cell(const Model& model, const OpenBag& bag);
[[nodiscard]] Cell dried_cell(const Model& model, const OpenBag& bag);
// Where a bag is on its way.
enum class BagState {
  kInOven,  // no dried weight yet, or none that can be believed
  kDrying,  // weighed dry, and still losing
  kDone,
  kGone  // burst, lost, label unreadable
};
[[nodiscard]] BagState bag_state(const Cell& dried);
void say_bag_gone(Turn& turn, DryWeights& dry, const std::string& reason);
// oven.cc
void show_oven(const Turn& turn, DryWeights& dry, bool open);
// Enter on its sheet: on to the hours, then both are stated.
void oven_done(Turn& turn, DryWeights& dry);
// What the newest dried weight was dried at, where nobody stated it in this run of the program.
void know_oven(Model& model, const std::vector<OpenBag>& bags);

// sorting.cc
void show_sorting(Turn& turn, DryWeights& dry);
void open_sorting(Turn& turn, TrialId trial, OccasionId occasion, const std::string& plot);
void begin_sorting(const Turn& turn, Book book, OccasionLoaded loaded, const std::string& plot);
void sort_plot(const Turn& turn, Sorting& sorting, const std::string& plot);
void sort_part(const Turn& turn, Sorting& sorting, int part);
void keep_sorted(Turn& turn, Sorting& sorting);
void say_none_of_part(Turn& turn, Sorting& sorting);
void sort_done(Turn& turn, Sorting& sorting);  // Enter
void sort_back(Turn& turn, Sorting& sorting);
void sorted(const Turn& turn, Sorting& sorting, const Act& act);  // after an act was handed over
// Whether an act was made while a sample was sorted, or takes one back that was; and the screen
// where it was made, with what it was about open again.
[[nodiscard]] bool of_sorting(const Act& act);
void sort_again(const Turn& turn, Sorting& sorting, const Act& act);

// review.cc
void show_review(Turn& turn);
void review_occasion(Turn& turn, TrialId trial, OccasionId occasion, bool questions = false);
void begin_review(const Turn& turn, Book book, std::vector<OpenBag> open_bags);
void review_measure(const Turn& turn, Review& review, const std::string& measure);
void show_history(Turn& turn, Review& review, const std::string& plot);
void history_loaded(const Turn& turn, HistoryLoaded loaded);
void reviewed(Review& review);                      // after an act was handed over
void look_again(Turn& turn, const Review& review);  // after it was kept
void review_back(Turn& turn, Review& review);

// mend.cc
void mend_value(const Turn& turn, Review& review, RecordId claim);
void mend_by(const Turn& turn, Review& review, Mend what);
void choose_mended(const Turn& turn, Review& review, const std::string& entered);
void mend_for(Turn& turn, Review& review, const std::string& reason);

// days_end.cc
void show_days_end(Turn& turn);
void seal_day(Turn& turn);
void copy_to(Turn& turn, const CopyTo& intent);
void sealed(Turn& turn, const Sealed& outcome);
void not_sealed(const Turn& turn, const NotSealed& outcome);
void copied(const Turn& turn, const Copied& outcome);
void not_copied(const Turn& turn, const NotCopied& outcome);

}  // namespace ligule::flow
