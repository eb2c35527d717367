#include "app/flow/update.h"

#include <algorithm>
#include <type_traits>
#include <variant>

#include "app/flow/bags.h"
#include "app/flow/cautions.h"
#include "app/flow/check_weight.h"
#include "app/flow/closing.h"
#include "app/flow/early.h"
#include "app/flow/hand_over.h"
#include "app/flow/lock.h"
#include "app/flow/low_stubble.h"
#include "app/flow/named_plot.h"
#include "app/flow/no_entry.h"
#include "app/flow/no_weight.h"
#include "app/flow/plot_statements.h"
#include "app/flow/practice.h"
#include "app/flow/review.h"
#include "app/flow/scale_choice.h"
#include "app/flow/second_look.h"
#include "app/flow/sown_form.h"
#include "app/flow/spare.h"
#include "app/flow/split_block.h"
#include "app/flow/stake.h"
#include "app/flow/sticks.h"
#include "app/flow/supply.h"
#include "app/flow/swapped.h"
#include "app/flow/taking_in.h"
#include "app/flow/trials.h"
#include "app/flow/turn.h"
#include "app/flow/unlock.h"
#include "app/flow/weighing.h"

namespace ligule::flow {
namespace {

void go_to_plot(Turn& turn, const GoToPlot& intent) {
  Book* const book = book_of(turn.model.screen);
  if (book == nullptr) return;
  const auto place = place_of(*book, intent.plot);
  if (!place) return tell_no_place(turn, *book, {.trial = {}, .number = intent.plot});
  const Book* const entering = entry_book(turn.model.screen);
  if (entering != nullptr && *place == book->present && stake_asked(turn.model, *book)) {
    return name_stake(turn, *book, intent.plot);
  }
  if (entering != nullptr) went_to_stake(turn, *book, intent.plot);
  go_to(turn, *book, *place);
}

void show_names(Turn& turn) {
  if (on<Review>(turn) != nullptr || on<Sorting>(turn) != nullptr)
    return;  // names are unlocked where values are given
  Book* const book = book_of(turn.model.screen);
  if (book == nullptr || !can_enter(turn.model) || names_shown(turn.model, book->id)) return;
  const std::string plot =
      book->plots.empty() ? std::string() : book->plots.at(book->present).number;
  unlock_names(turn, trial_of(turn.model, *book), {book->id}, plot);
}

void take_back(Turn& turn) {
  if (!can_enter(turn.model)) return;
  if (auto* const dry = on<DryWeights>(turn)) return take_back_dry(turn, *dry);
  if (on<OnPractice>(turn) != nullptr) return take_back_practice(turn);
  Book* const book = book_of(turn.model.screen);
  if (book != nullptr && !take_back_last(turn, *book)) turn.notice("notice.nothing_to_take_back");
}

void leave(Turn& turn, void (*where)(Turn&)) {
  if (turn.model.person) where(turn);
}

template <class Kind, class... Kinds>
constexpr bool kOneOf = (std::is_same_v<Kind, Kinds> || ...);

// Means nothing on any other screen.
template <class Kind>
concept OnlyInTrials = kOneOf<Kind, ShowTrial, ShowTrialTab, StatePlot, StateSown, StateExchanged,
                              SaySownFrom, StepDay, KeepSown, NewEvent, DescribeEvent, StepUntil,
                              KeepEvent, ShowEventBack, TakeEventBack, LookForPlans, CheckPlan,
                              LoadPlan, OfferCopy, GoOnFromCopy, CheckFile, TakeFile, TrialsBack>;

void take_in(Turn& turn, Intent intent) {
  Model& model = turn.model;
  if (in_stands(turn, intent) || in_trials(turn, intent)) return;
  std::visit(Overloaded{
                 [&](const Tick&) {
                   ask_after_rest(turn);
                   copy_in_time(turn);
                 },
                 [&](const HandOver&) { hand_over(turn); },
                 [](const KeepTablet&) {},
                 [&](const LockGlass&) { lock(turn); },
                 [](const UnlockCorner&) {},
                 [&](const ShowToday&) {
                   if (!asks_to_stop(turn)) leave(turn, show_today);
                 },
                 [&](const AnswerSplit& what) { answer_split(turn, what.answer); },
                 [&](const ShowDryWeights&) { leave(turn, show_dry_weights); },
                 [&](const ShowDaysEnd&) { leave(turn, show_days_end); },
                 [&](const OpenOccasion& what) {
                   if (model.person && !asks_no_entry(turn, what) && !asks_early(turn, what))
                     open_occasion(turn, what.trial, what.occasion, "");
                 },
                 [&](const AnswerNoEntry& what) { answer_no_entry(turn, what); },
                 [&](const ShowEarlier&) {
                   if (auto* const today = on<OnToday>(turn)) today->earlier = !today->earlier;
                 },
                 [&](const AnswerAsSecond& what) { answer_as_second(turn, what); },
                 [&](const AnswerEarly& what) { answer_early(turn, what); },
                 [&](const KeyText& what) { key_text(turn, what); },
                 [&](const KeyErase&) { key_erase(turn); },
                 [&](const KeyDone&) { key_done(turn); },
                 [&](const FocusField& what) { focus_field(turn, what.field); },
                 [&](const AnswerQuestion& what) { answer(turn, what); },
                 [&](const RetryUnsaved&) { retry(turn); },
                 [&](const DropUnsaved&) { drop(turn); },
                 [](const DismissNotice&) {},
                 [&](const ReadCautions&) { read_cautions(turn); },
                 [&](const ShowCautions&) { show_cautions(turn); },
                 [&](const ShowKey&) {
                   if (auto* const tablet = on<OnTablet>(turn)) tablet->key = true;
                 },
                 [&](const PickPerson& what) {
                   if (on<SignIn>(turn) != nullptr) sign_in(turn, what.initials);
                 },
                 [&](const GoToPlot& what) { go_to_plot(turn, what); },
                 [&](const NameStake& what) {
                   if (Book* const book = entry_book(model.screen))
                     name_stake(turn, *book, what.plot);
                 },
                 [&](const OtherStake& what) {
                   if (Book* const book = entry_book(model.screen))
                     other_stake(turn, *book, what.open);
                 },
                 [&](const SlideSlipped&) { slide_slipped(turn); },
                 [&](const LeaveSlipped&) {
                   if (Book* const book = entry_book(model.screen)) book->slipped.reset();
                 },
                 [&](const PutOff&) {
                   Book* const book = book_of(model.screen);
                   if (on<Review>(turn) == nullptr && on<Sorting>(turn) == nullptr &&
                       book != nullptr && !book->plots.empty() && can_enter(model))
                     put_off(turn, *book);
                 },
                 [&](const TakeBack&) { take_back(turn); },
                 [&](const ShowNames&) { show_names(turn); },
                 [&](const DeclareDone&) { declare_done(turn); },
                 [&](const CloseOccasion& what) { close_occasion(turn, what); },
                 [&](const AnswerClosing& what) { answer_closing(turn, what); },
                 [&](const FocusMeasure& what) {
                   if (auto* const rating = on<Rating>(turn)) focus_measure(turn, *rating, what);
                 },
                 [&](const ChooseValue& what) {
                   if (auto* const rating = on<Rating>(turn)) {
                     choose_value(turn, *rating, what, Source::kTapped);
                   }
                   give_practice(turn, what);
                 },
                 [&](const ShowTens&) {
                   if (auto* const rating = on<Rating>(turn)) show_tens(turn, *rating);
                 },
                 [&](const ShowFine& what) {
                   if (auto* const rating = on<Rating>(turn)) show_fine(turn, *rating, what);
                 },
                 [&](const StepAmount& what) {
                   if (auto* const rating = on<Rating>(turn)) step_amount(turn, *rating, what.by);
                 },
                 [&](const KeepAmount&) {
                   if (auto* const rating = on<Rating>(turn)) keep_amount(turn, *rating);
                 },
                 [&](const OpenNote& what) {
                   if (auto* const rating = on<Rating>(turn))
                     open_note(turn, *rating, what.on_last_plot);
                 },
                 [&](const CloseNote&) {
                   if (auto* const rating = on<Rating>(turn)) close_note(turn, *rating);
                 },
                 [&](const PadIntent auto& what) {
                   if (auto* const rating = on<Rating>(turn)) use_pad(turn, *rating, what);
                 },
                 [&](const ChooseSurface& what) {
                   auto* const harvest = on<Harvest>(turn);
                   auto* const head =
                       harvest == nullptr ? nullptr : std::get_if<RunHead>(&harvest->step);
                   if (head != nullptr) head->surface = head->surface == what.code ? "" : what.code;
                 },
                 [&](const OtherRun& what) {
                   if (auto* const harvest = on<Harvest>(turn))
                     begin_other_run(turn, *harvest, what.open);
                 },
                 [&](const StartRun&) {
                   if (auto* const harvest = on<Harvest>(turn)) start_run(turn, *harvest);
                 },
                 [&](const KeepPlot&) {
                   if (weighing_on(turn) != nullptr) keep_plot(turn, *on<Harvest>(turn));
                 },
                 [&](const ChooseBag& what) {
                   if (auto* const dry = on<DryWeights>(turn)) choose_bag(turn, *dry, what.bag);
                 },
                 [&](const SayBagGone& what) {
                   if (auto* const dry = on<DryWeights>(turn))
                     say_bag_gone(turn, *dry, what.reason);
                 },
                 [&](const ShowOven& what) {
                   if (auto* const dry = on<DryWeights>(turn)) show_oven(turn, *dry, what.open);
                 },
                 [&](const WeighUntilConstant& what) { turn.model.oven.until_constant = what.yes; },
                 [&](const KeepDry&) {
                   if (auto* const dry = on<DryWeights>(turn)) keep_dry(turn, *dry);
                 },
                 [&](const ShowSorting&) {
                   if (auto* const dry = on<DryWeights>(turn)) show_sorting(turn, *dry);
                 },
                 [&](const SortCutting& what) {
                   if (on<DryWeights>(turn) != nullptr)
                     open_sorting(turn, what.trial, what.occasion, "");
                 },
                 [&](const SortPlot& what) {
                   if (auto* const sorting = on<Sorting>(turn))
                     sort_plot(turn, *sorting, what.plot);
                 },
                 [&](const SortPart& what) {
                   if (auto* const sorting = on<Sorting>(turn))
                     sort_part(turn, *sorting, what.part);
                 },
                 [&](const KeepSorted&) {
                   if (auto* const sorting = on<Sorting>(turn)) keep_sorted(turn, *sorting);
                 },
                 [&](const SayNoneOfPart&) {
                   if (auto* const sorting = on<Sorting>(turn)) say_none_of_part(turn, *sorting);
                 },
                 [&](const SortBack&) {
                   if (auto* const sorting = on<Sorting>(turn)) sort_back(turn, *sorting);
                 },
                 [&](const ShowReview&) { leave(turn, show_review); },
                 [&](const ReviewOccasion& what) {
                   // From Review itself, or from the day's end, where questions are named.
                   if (on<Review>(turn) != nullptr || on<OnDaysEnd>(turn) != nullptr)
                     review_occasion(turn, what.trial, what.occasion, what.questions);
                 },
                 [&](const ShowAgreement&) {
                   if (auto* const review = on<Review>(turn)) review->page = Agreement{};
                 },
                 [&](const ShowQuestions&) {
                   if (auto* const review = on<Review>(turn)) show_questions(*review);
                 },
                 [&](const ShowQuestion& what) {
                   if (auto* const review = on<Review>(turn)) show_question(*review, what.claim);
                 },
                 [&](const SettleQuestion& what) {
                   if (auto* const review = on<Review>(turn)) settle_question(turn, *review, what);
                 },
                 [&](const MendQuestion& what) {
                   if (auto* const review = on<Review>(turn))
                     mend_question(turn, *review, what.claim);
                 },
                 [&](const ListOccasions&) {
                   if (auto* const review = on<Review>(turn)) review->page = ReviewList{};
                 },
                 [&](const ListAgainst&) {
                   if (auto* const review = on<Review>(turn)) list_against(turn, *review);
                 },
                 [&](const ReviewAgainst& what) {
                   if (auto* const review = on<Review>(turn))
                     review_against(turn, *review, what.occasion);
                 },
                 [&](const ReviewAlone&) {
                   if (auto* const review = on<Review>(turn)) review->against.reset();
                 },
                 [&](const ReviewMeasure& what) {
                   if (auto* const review = on<Review>(turn))
                     review_measure(turn, *review, what.measure);
                 },
                 [&](const ShowHistory& what) {
                   if (auto* const review = on<Review>(turn))
                     show_history(turn, *review, what.plot);
                 },
                 [&](const MendValue& what) {
                   if (auto* const review = on<Review>(turn)) mend_value(turn, *review, what.claim);
                 },
                 [&](const MendBy& what) {
                   if (auto* const review = on<Review>(turn)) mend_by(turn, *review, what.what);
                 },
                 [&](const ChooseMended& what) {
                   if (auto* const review = on<Review>(turn))
                     choose_mended(turn, *review, what.entered);
                 },
                 [&](const MendFor& what) {
                   if (auto* const review = on<Review>(turn)) mend_for(turn, *review, what.reason);
                 },
                 [&](const ShowSlide&) { show_slide(turn); },
                 [&](const ChooseSlideEnd& what) { choose_slide_end(turn, what.to); },
                 [&](const ChooseSlidePlot& what) { choose_slide_plot(turn, what.plot); },
                 [&](const SlideBy& what) { slide_by(turn, what.by); },
                 [&](const DoSlide&) { do_slide(turn); },
                 [&](const ReviewBack&) {
                   if (auto* const review = on<Review>(turn)) review_back(turn, *review);
                 },
                 [&](const ShowTrials&) { leave(turn, show_trials); },
                 [&](const ShowStands&) { show_stands(turn); },
                 [&](const LoadSticks&) { load_sticks(turn); },
                 [&](const ShowStick&) { leave(turn, show_stick); },
                 [&](const SticksChanged&) { sticks_changed(turn); },
                 [&](SticksSeen& what) { model.stick = std::move(what.plans); },
                 [&](PlansKnown& what) { plans_known(model, std::move(what)); },
                 []<OnlyInTrials Kind>(const Kind&) {},
                 [&](TrialLoaded& what) { trial_loaded(turn, std::move(what)); },
                 [&](PlansFound& what) { plans_found(turn, std::move(what)); },
                 [&](PlanChecked& what) { plan_checked(turn, std::move(what)); },
                 [&](PlanFaulty& what) { plan_faulty(turn, std::move(what)); },
                 [&](const SealDay&) { seal_day(turn); },
                 [&](const CopyTo& what) { copy_to(turn, what); },
                 [&](const ShowTablet&) { leave(turn, show_tablet); },
                 [&](const Choose& what) { choose_preference(turn, what); },
                 [&](const MeasureGlass&) { measure_glass(turn); },
                 [&](const StepGlass& what) { step_glass(turn, what.by); },
                 [&](const ShowScale&) { show_scale(turn); },
                 [&](const ShowPractice& what) { show_practice(turn, what); },
                 [&](const TakeWeight&) { take_weight(turn); },
                 [&](const TypeWeight& what) { type_weight(turn, what.by_hand); },
                 [&](const AnswerMoving& what) { answer_moving(turn, what.average); },
                 [&](const AnswerLowStubble& what) { answer_low_stubble(turn, what.go_on); },
                 [&](const ShowPage& what) { show_page(turn, what.page); },
                 [&](const MoreBag&) { more_bag(turn); },
                 [&](const ChooseBagKind& what) { choose_bag_kind(turn, what.kind); },
                 [&](const SayWeedsOnly&) { say_weeds_only(turn); },
                 [&](const KeepSwath& what) { keep_swath(turn, what.block); },
                 [&](const AnswerSwapped& what) { answer_swapped(turn, what.exchange); },
                 [&](const SayNoWeight& what) { say_no_weight(turn, what.reason); },
                 [&](const CheckScale& what) { show_check(turn, what.open); },
                 [&](const TakeCheck&) { take_check(turn); },
                 [&](const AnswerDoubted& what) { answer_doubted(turn, what.hold); },
                 [&](LoadTold& what) { load_told(turn, std::move(what)); },
                 [&](const KeepGlass&) { keep_glass(turn); },
                 [&](const OwnGlass&) { own_glass(turn); },
                 [&](PreferencesRead& what) { preferences_read(turn, std::move(what)); },
                 [](const PreferencesKept&) {},
                 [&](const PreferencesNotKept& what) {
                   turn.notice("notice.preferences_not_kept", {}, what.error);
                 },
                 [&](TabletLoaded& what) { model.facts = std::move(what.facts); },
                 [&](Started& what) { started(turn, std::move(what)); },
                 [&](const SupplyTold& what) { supply_told(turn, what); },
                 [&](TodayLoaded& what) {
                   model.today = std::move(what.today);
                   model.today_loaded = true;
                   wait_for_copy(turn);
                 },
                 [&](OccasionLoaded& what) { occasion_loaded(turn, std::move(what)); },
                 [&](HistoryLoaded& what) { history_loaded(turn, std::move(what)); },
                 [&](BagsLoaded& what) { bags_loaded(turn, std::move(what)); },
                 [&](const Failed& what) { failed(turn, what); },
                 [&](const Kept& what) { kept(turn, what); },
                 [&](const NotKept& what) { not_kept(turn, what); },
                 [&](const Sealed& what) { sealed(turn, what); },
                 [&](const NotSealed& what) { not_sealed(turn, what); },
                 [&](const Copied& what) { copied(turn, what); },
                 [&](const NotCopied& what) { not_copied(turn, what); },
                 [&](const LedgerCopied& what) { ledger_copied(turn, what); },
                 [&](TakenOver& what) { taken_over(turn, std::move(what)); },
                 [&](const NotTakenOver& what) { not_taken_over(turn, what); },
                 [&](SeasonFileRead& what) { season_file_read(turn, std::move(what)); },
                 [&](SeasonFileFaulty& what) { season_file_faulty(turn, std::move(what)); },
                 [&](GatheredHere& what) { gathered_here(turn, std::move(what)); },
                 [&](const NotGatheredHere& what) { not_gathered_here(turn, what); },
             },
             intent);
}

template <class Kind>
constexpr bool kFromOutside =
    kOneOf<Kind, Tick, PreferencesRead, PreferencesKept, PreferencesNotKept, TabletLoaded, Started,
           SupplyTold, LoadTold, TodayLoaded, OccasionLoaded, HistoryLoaded, TrialLoaded,
           PlansFound, PlanChecked, PlanFaulty, SticksChanged, SticksSeen, PlansKnown, BagsLoaded,
           Failed, Kept, NotKept, Sealed, NotSealed, Copied, NotCopied, LedgerCopied, TakenOver,
           NotTakenOver, SeasonFileRead, SeasonFileFaulty, GatheredHere, NotGatheredHere>;

bool from_outside(const Intent& intent) {
  return std::visit(
      [](const auto& what) { return kFromOutside<std::remove_cvref_t<decltype(what)>>; }, intent);
}

template <class Kind>
constexpr bool kEnters =
    PadIntent<Kind> ||
    kOneOf<Kind, FocusMeasure, ChooseValue, ShowTens, ShowFine, StepAmount, KeepAmount, OpenNote,
           PutOff, KeepPlot, ShowStands, TakeWeight, MoreBag, SayWeedsOnly, KeepSwath, SayNoWeight>;

// Whether it puts something into the present plot, or opens what does.
bool enters(const Intent& intent) {
  return std::visit([](const auto& what) { return kEnters<std::remove_cvref_t<decltype(what)>>; },
                    intent);
}

// What lies above the screen takes every tap until it is answered.
bool let_through(const Model& model, const Intent& intent) {
  if (model.unsaved) {
    return std::holds_alternative<RetryUnsaved>(intent) ||
           std::holds_alternative<DropUnsaved>(intent);
  }
  if (model.handing) return true;
  if (!cautions_due(model).empty()) return std::holds_alternative<ReadCautions>(intent);
  if (model.splitting) return std::holds_alternative<AnswerSplit>(intent);
  if (model.low_stubble) return std::holds_alternative<AnswerLowStubble>(intent);
  if (model.doubted) return std::holds_alternative<AnswerDoubted>(intent);
  if (model.swapped) return std::holds_alternative<AnswerSwapped>(intent);
  if (model.moving) return std::holds_alternative<AnswerMoving>(intent);
  if (model.stay_out) return std::holds_alternative<AnswerNoEntry>(intent);
  if (model.as_second) return std::holds_alternative<AnswerAsSecond>(intent);
  if (model.early) return std::holds_alternative<AnswerEarly>(intent);
  if (model.closing) return std::holds_alternative<AnswerClosing>(intent);
  if (model.asking) return std::holds_alternative<AnswerQuestion>(intent);
  // Nothing is recorded before it is known for which plot; ways out stay open.
  return !stake_in_the_way(model) || !enters(intent);
}

}  // namespace

Effects update(Model& model, const Event& event, const IdSource& ids) {
  model.now = event.at;
  Turn turn{model, event.at, ids};
  if (!from_outside(event.what)) {
    if (model.lock) {
      touch_locked(turn, event.what);
      return {};
    }
    ask_after_rest(turn);
    model.touched = event.at.utc;
    if (!let_through(model, event.what)) return {};
    model.notice.reset();
    if (model.handing && !model.unsaved) {
      take_hand_over(turn, event.what);
      return std::move(turn.effects);
    }
  }
  take_in(turn, event.what);
  return std::move(turn.effects);
}

}  // namespace ligule::flow
