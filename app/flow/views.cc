#include "app/flow/views.h"

#include <algorithm>
#include <array>
#include <utility>

#include "app/flow/cautions.h"
#include "app/flow/check_weight.h"
#include "app/flow/parts.h"
#include "app/flow/practice.h"
#include "app/flow/prefer.h"
#include "app/flow/progress.h"
#include "app/flow/sorted_sample.h"
#include "app/flow/sown_form.h"
#include "app/flow/swapped.h"
#include "app/flow/view_parts.h"

namespace ligule::flow {
namespace {

constexpr std::array<std::pair<Mark, std::string_view>, 10> kMarks{
    {{Mark::kOpen, "open"},
     {Mark::kSaving, "saving"},
     {Mark::kKept, "kept"},
     {Mark::kQuestioned, "questioned"},
     {Mark::kOnHold, "on_hold"},
     {Mark::kLater, "later"},
     {Mark::kMissing, "missing"},
     {Mark::kNotSaved, "not_saved"},
     {Mark::kAbandoned, "abandoned"},
     {Mark::kNoPart, "no_part"}}};

constexpr std::array<std::pair<LoadState, std::string_view>, 10> kLoads{
    {{LoadState::kNoScale, "no_scale"},
     {LoadState::kSilent, "silent"},
     {LoadState::kGarbled, "garbled"},
     {LoadState::kOverload, "overload"},
     {LoadState::kUnderload, "underload"},
     {LoadState::kNegative, "negative"},
     {LoadState::kMoving, "moving"},
     {LoadState::kEmpty, "empty"},
     {LoadState::kNotLifted, "not_lifted"},
     {LoadState::kStill, "still"}}};

constexpr std::array<std::pair<Field, std::string_view>, 25> kFields{
    {{Field::kInitials, "initials"},
     {Field::kNote, "note"},
     {Field::kAmount, "amount"},
     {Field::kMachine, "machine"},
     {Field::kCutWidth, "cut_width"},
     {Field::kStubble, "stubble"},
     {Field::kPlot, "plot"},
     {Field::kGross, "gross"},
     {Field::kTare, "tare"},
     {Field::kBag, "bag"},
     {Field::kSampleFresh, "sample_fresh"},
     {Field::kSwathLength, "swath_length"},
     {Field::kSwathWidth, "swath_width"},
     {Field::kCheckMass, "check_mass"},
     {Field::kCheckAllowance, "check_allowance"},
     {Field::kDryBag, "dry_bag"},
     {Field::kDryFresh, "dry_fresh"},
     {Field::kDryWeight, "dry_weight"},
     {Field::kSortPlot, "sort_plot"},
     {Field::kSortWhole, "sort_whole"},
     {Field::kSortBag, "sort_bag"},
     {Field::kSortFresh, "sort_fresh"},
     {Field::kWeedsByEye, "weeds_by_eye"},
     {Field::kOvenCelsius, "oven_celsius"},
     {Field::kOvenHours, "oven_hours"}}};

// How much a mark needs a person, most first.
int urgency(Mark mark) {
  switch (mark) {
    case Mark::kNotSaved:
      return 0;
    case Mark::kSaving:
      return 1;
    case Mark::kOpen:
      return 2;
    case Mark::kLater:
      return 3;
    case Mark::kOnHold:
      return 4;
    case Mark::kQuestioned:
      return 5;
    case Mark::kMissing:
      return 6;
    case Mark::kKept:
    case Mark::kAbandoned:
    case Mark::kNoPart:
      break;
  }
  return 7;
}

SignInView sign_in_view(const Model& model, const Keypad& keypad) {
  SignInView view;
  for (const Person& person : model.people) view.known.push_back(person.initials);
  view.typed = keypad.text(Field::kInitials);
  view.can_done = view.typed.find_first_not_of(' ') != std::string::npos;
  view.languages = languages_of(model);
  return view;
}

SignInView hand_over_view(const Model& model, const HandingOver& handing) {
  SignInView view = sign_in_view(model, handing.keypad);
  view.after_rest = handing.after_rest;
  if (!model.person) return view;
  view.held_by = model.person->initials;
  // Mostly it is the same person: first in the row.
  const auto at = std::ranges::find(view.known, view.held_by);
  if (at != view.known.end()) std::rotate(view.known.begin(), at, std::next(at));
  return view;
}

UnsavedView unsaved_view(const Unsaved& unsaved) {
  UnsavedView view;
  view.acts = unsaved.acts.size();
  view.error = unsaved.error;
  for (const Act& act : unsaved.acts) {
    const bool listed = std::ranges::find(view.plots, act.plot) != view.plots.end();
    if (!act.plot.empty() && !listed) view.plots.push_back(act.plot);
  }
  return view;
}

EarlyView early_view(const Model& model, const Early& early) {
  return {early.cutting, format_date(early.due), days_between(model.now.local_date, early.due)};
}

ClosingView closing_view(const Model& model, const Closing& closing) {
  const KnownTrial* const trial = trial_with(model, closing.trial);
  return {trial == nullptr ? std::string() : trial->plan.codes.trial, closing.open, closing.looks,
          closing.second};
}

// The scale a draft is given on; null: its plot is not known.
const Scale* scale_asked(const Model& model, const Record& record) {
  const KnownTrial* const trial = record.trial ? trial_with(model, *record.trial) : nullptr;
  if (trial == nullptr || !record.subject) return nullptr;
  const PlanPlot* const plot = trial->plan.find_plot(PlotId{*record.subject});
  return plot == nullptr ? nullptr : scale_of(model, *trial, *plot, record.measure);
}

std::optional<QuestionView> question_view(const Model& model, const Asking& asking) {
  const auto draft =
      std::ranges::find_if(asking.drafts, [](const Draft& each) { return !each.open.empty(); });
  if (draft == asking.drafts.end()) return std::nullopt;
  const checks::Finding& finding = draft->open.front();
  QuestionView view;
  view.text = {"check." + std::string(finding.rule->key), finding.arguments};
  view.plot = asking.plot;
  view.measure = draft->record.measure;
  const std::optional<TrialId> trial = draft->record.trial;
  const KnownTrial* const known = trial ? trial_with(model, *trial) : nullptr;
  if (known != nullptr) view.own_names = own_names(known->plan);
  const Scale* const scale = scale_asked(model, draft->record);
  view.shown = full_text(scale, draft->record);
  view.word = visit_word(scale, draft->record);
  view.on_hold = finding.rule->outcome == checks::Outcome::kOnHold;
  for (const checks::Phrase& phrase : finding.rule->phrases) {
    view.phrases.push_back({std::string(phrase.code), phrase.keeps});
  }
  return view;
}

// Notices of what was wanted and came about.
constexpr std::array<std::string_view, 7> kGoodNews{
    "notice.note_kept", "notice.gathered", "notice.plans_kept", "notice.taken_over",
    "notice.copied",    "notice.sealed",   "notice.check_good"};

}  // namespace

std::string_view name_of(Mark mark) {
  return std::ranges::find(kMarks, mark, &std::pair<Mark, std::string_view>::first)->second;
}

std::string_view name_of(Field field) {
  return std::ranges::find(kFields, field, &std::pair<Field, std::string_view>::first)->second;
}

std::string_view name_of(CheckDue due) {
  switch (due) {
    case CheckDue::kBefore:
      return "before";
    case CheckDue::kNoon:
      return "noon";
    case CheckDue::kAfter:
      return "after";
    case CheckDue::kOff:
      return "off";
    case CheckDue::kNone:
      break;
  }
  return "none";
}

std::string_view name_of(LoadState state) {
  return std::ranges::find(kLoads, state, &std::pair<LoadState, std::string_view>::first)->second;
}

HeadView head_view(const Model& model) {
  HeadView head;
  head.clock = format_clock(model.now);
  head.date = model.now.local_date.ok() ? format_date(model.now.local_date) : std::string();
  if (model.person) head.initials = model.person->initials;
  head.saving = model.pending.size();
  if (model.unsaved) head.not_saved = model.unsaved->acts.size();
  head.demo = model.setup.demo;
  return head;
}

Mark mark_of(const Cell& cell) {
  if (cell.durability == Durability::kNotSaved) return Mark::kNotSaved;
  if (cell.durability == Durability::kSaving) return Mark::kSaving;
  if (!cell.claim) return Mark::kOpen;
  const Record& record = cell.claim->record;
  if (says_not_yet(record)) return Mark::kLater;
  switch (record.state.value_or(ValueState::kValue)) {
    case ValueState::kLater:
      return Mark::kLater;
    case ValueState::kMissing:
      return Mark::kMissing;
    case ValueState::kOnHold:
      return Mark::kOnHold;
    case ValueState::kValue:
    case ValueState::kZero:
      break;
  }
  return record.answers.empty() ? Mark::kKept : Mark::kQuestioned;
}

Mark plot_mark(const Model& model, const Book& book, const PlanPlot& plot) {
  const KnownTrial& trial = trial_of(model, book);
  const Definitions& definitions = model.setup.definitions;
  const auto needed = needed_of(trial, book.occasion, plot, definitions);
  Mark worst = Mark::kKept;
  const auto consider = [&](Mark mark) {
    if (urgency(mark) < urgency(worst)) worst = mark;
  };
  for (const std::string& measure : needed) consider(mark_of(cell_of(model, book, plot, measure)));
  const auto consider_entered = [&](const Cell& cell) {
    if (cell.claim || cell.durability != Durability::kKept) consider(mark_of(cell));
  };
  if (book.occasion.job != Job::kHarvest) return worst;
  for (const std::string_view measure : {measure::kGrossWeight, measure::kTareWeight}) {
    const Uuid subject = plot_subject(model, book, plot);
    for (const int part : parts_of(model, book, subject, measure))
      consider_entered(cell_at(model, book, {subject, std::string(measure), part}));
  }
  const Cell bag = cell_of(model, book, plot, measure::kBagNumber);
  consider_entered(bag);
  if (bag_is_due(model, book, plot)) consider(Mark::kOpen);
  if (bag.claim) {
    const Uuid subject = bag_subject(*bag.claim).uuid;
    consider_entered(cell_at(model, book, {subject, std::string(measure::kSampleFresh), 1}));
    consider_entered(cell_at(model, book, {subject, std::string(measure::kSampleDry), 1}));
  }
  for (const Cell& cell : sorted_cells(model, book, plot)) consider_entered(cell);
  return worst;
}

bool needs_more(Mark mark, Mark than) {
  return urgency(mark) < urgency(than);
}

std::vector<StakeView> lane_view(const Model& model, const Book& book) {
  std::vector<StakeView> lane;
  lane.reserve(book.plots.size());
  for (std::size_t at = 0; at < book.plots.size(); ++at) {
    const PlanPlot& plot = book.plots[at];
    const bool start = at == 0 || !in_one_lane(book.plots[at - 1], plot, book.along);
    lane.push_back({plot.number, plot_mark(model, book, plot), start});
  }
  return lane;
}

std::size_t plots_done(const Model& model, const Book& book) {
  return static_cast<std::size_t>(std::ranges::count_if(book.plots, [&](const PlanPlot& plot) {
    return plot_state(model, book, plot) == PlotState::kDone;
  }));
}

std::string entry_shown(const Model& model, const Book& book, const PlanPlot& plot) {
  if (!names_shown(model, book.id)) return {};
  const PlanEntry* const entry = entry_of(trial_of(model, book), plot);
  return entry == nullptr ? std::string() : entry->label();
}

View view_of(const Model& model) {
  if (model.handing) return hand_over_view(model, *model.handing);
  if (const auto* const screen = std::get_if<SignIn>(&model.screen)) {
    return sign_in_view(model, screen->keypad);
  }
  if (model.standing) {
    if (const KnownTrial* const trial = trial_with(model, model.standing->trial))
      return TrialsView{head_view(model), sown_view(model, *trial, model.standing->form)};
  }
  if (std::holds_alternative<OnToday>(model.screen)) return today_view(model);
  if (const auto* const screen = std::get_if<Rating>(&model.screen)) {
    return rate_view(model, *screen);
  }
  if (const auto* const screen = std::get_if<Harvest>(&model.screen)) {
    return harvest_view(model, *screen);
  }
  if (const auto* const screen = std::get_if<DryWeights>(&model.screen)) {
    return dry_view(model, *screen);
  }
  if (const auto* const screen = std::get_if<Sorting>(&model.screen)) {
    return sorting_view(model, *screen);
  }
  if (const auto* const screen = std::get_if<Review>(&model.screen)) {
    return review_view(model, *screen);
  }
  if (const auto* const screen = std::get_if<Trials>(&model.screen)) {
    return trials_view(model, *screen);
  }
  if (std::holds_alternative<OnDaysEnd>(model.screen)) return days_end_view(model);
  if (const auto* const screen = std::get_if<OnTablet>(&model.screen)) {
    return tablet_view(model, *screen);
  }
  if (const auto* const screen = std::get_if<OnPractice>(&model.screen)) {
    return practice_view(model, *screen);
  }
  return StartingView{};
}

Overlay overlay_of(const Model& model) {
  Overlay overlay;
  if (model.lock) {
    overlay.lock = LockView{model.lock->first_at.has_value(), model.unsaved.has_value()};
    return overlay;
  }
  if (model.unsaved) overlay.unsaved = unsaved_view(*model.unsaved);
  if (model.stay_out && !model.handing) overlay.no_entry = model.stay_out->spray;
  if (model.as_second && !model.handing) overlay.as_second = model.as_second;
  if (model.early && !model.handing) overlay.early = early_view(model, *model.early);
  if (model.closing && !model.handing) overlay.closing = closing_view(model, *model.closing);
  if (const auto due = cautions_due(model); !due.empty() && !model.handing)
    overlay.cautions = CautionsView{due};
  if (model.low_stubble && !model.handing)
    overlay.low_stubble = LowStubbleView{model.low_stubble->setting, model.low_stubble->least};
  if (model.splitting && !model.handing)
    overlay.splitting =
        SplittingView{model.splitting->block, model.splitting->open, model.splitting->machine};
  overlay.moving = moving_view(model);
  if (model.doubted && !model.handing) overlay.doubted = doubted_view(*model.doubted);
  if (model.swapped && !model.handing) overlay.swapped = swapped_view(model, *model.swapped);
  if (model.asking && !model.handing) overlay.question = question_view(model, *model.asking);
  if (model.notice) {
    const bool good = std::ranges::find(kGoodNews, model.notice->key) != kGoodNews.end();
    overlay.notice =
        NoticeView{{model.notice->key, model.notice->arguments}, model.notice->error, good};
  }
  return overlay;
}

}  // namespace ligule::flow
