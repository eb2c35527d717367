#include "app/flow/trial_events.h"

#include <algorithm>
#include <optional>
#include <utility>
#include <variant>

#include "app/flow/prefer.h"
#include "storage/trial/clock_text.h"
#include "storage/trial/details.h"
#include "storage/trial/length_text.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"

namespace ligule::flow {
namespace {

// Says nothing without words.
constexpr std::string_view kOtherEvent = "other";
constexpr std::string_view kSpray = "spray";
// No sward is higher than a tall sorghum: common practice, no source.
constexpr double kMostInches = 240;
constexpr std::int64_t kMostHead = 100'000;
constexpr std::size_t kMostText = 120;  // bytes; the person's own words may be longer

bool has_event(std::string_view what) {
  return std::ranges::find(kTrialEvents, what) != kTrialEvents.end();
}

std::string text_of(const EventForm& form, std::string_view key) {
  if (form.writing == key) return cleaned(form.keypad.text(Field::kNote));
  const auto at = form.texts.find(std::string(key));
  return at == form.texts.end() ? std::string() : cleaned(at->second);
}

void write_on(EventForm& form, const std::string& key) {
  stop_writing(form);
  const auto fields = event_fields(form);
  if (std::ranges::find(fields, key) == fields.end()) return;
  form.writing = key;
  form.keypad = Keypad{Field::kNote};
  form.keypad.set(Field::kNote, form.texts[key]);
  form.keypad.go_on();
}

// Told, and the field is opened to put it right.
bool refused(Turn& turn, EventForm& form, std::string_view field, const std::string& notice,
             std::vector<std::string> arguments = {}) {
  write_on(form, std::string(field));
  turn.notice(notice, std::move(arguments));
  turn.run(Cue{CueKind::kRefused});
  return false;
}

bool is_height(std::string_view key) {
  return key == event_key::kHeightBefore || key == event_key::kHeightAfter;
}

bool is_bare_number(std::string_view text) {
  return text.find_first_not_of("0123456789.,/- ") == std::string_view::npos;
}

// What was typed of one field, into the details; false: it was refused.
bool add_field(Turn& turn, EventForm& form, std::string_view key, Details& details) {
  std::string text = text_of(form, key);
  if (text.empty()) return true;
  if (text.size() > kMostText) return refused(turn, form, key, "notice.event_long");
  if (key == event_key::kRate && is_bare_number(text))
    return refused(turn, form, key, "notice.event_rate", {text});
  if (key == event_key::kHead) {
    const auto head = parse_integer(text);
    if (!head || *head < 1 || *head > kMostHead)
      return refused(turn, form, key, "notice.event_head", {text});
  }
  if (is_height(key)) {
    const std::string unit = height_unit(turn.model);
    const auto inches = inches_of(text, unit);
    if (!inches || *inches > kMostInches)
      return refused(turn, form, key, "notice.event_height", {text});
    text = with_unit(text, unit);
  }
  details[std::string(key)] = std::move(text);
  return true;
}

CalendarDate day_of(const Model& model, const EventForm& form) {
  return day_before(model.now.local_date, form.days_ago);
}

std::optional<NoEntry> hours_on(const Model& model, const EventForm& form) {
  const std::string text = text_of(form, event_key::kHours);
  const auto hours = parse_hours(text);
  const auto ended = parse_clock(text_of(form, event_key::kEnded));
  if (!hours || !ended) return std::nullopt;
  return NoEntry{.by = NoEntryBy::kHours,
                 .hours = text,
                 .after = hours_after(day_of(model, form), *ended, model.now.offset, *hours)};
}

std::optional<NoEntry> until_on(const Model& model, const EventForm& form) {
  const auto clock = parse_clock(text_of(form, event_key::kUntilClock));
  if (!clock) return std::nullopt;
  return NoEntry{.by = NoEntryBy::kUntil,
                 .day = day_before(model.now.local_date, -form.until_in),
                 .clock = *clock};
}

// What is typed is no hour, or nothing is typed.
bool refused_clock(Turn& turn, EventForm& form, std::string_view key, const std::string& text) {
  if (text.empty()) return refused(turn, form, key, "notice.event_clock_missing");
  return refused(turn, form, key, "notice.event_clock", {text});
}

bool add_hours(Turn& turn, EventForm& form, Details& details) {
  const std::string text = text_of(form, event_key::kHours);
  if (!parse_hours(text)) return refused(turn, form, event_key::kHours, "notice.no_entry_hours");
  const std::string ended_text = text_of(form, event_key::kEnded);
  const auto ended = parse_clock(ended_text);
  if (!ended) return refused_clock(turn, form, event_key::kEnded, ended_text);
  const CalendarDate day = day_of(turn.model, form);
  if (UtcInstant{date::sys_days{day}} + *ended - turn.at.offset > turn.at.utc)
    return refused(turn, form, event_key::kEnded, "notice.event_to_come", {ended_text});
  if (const auto what = hours_on(turn.model, form)) write_no_entry(*what, *ended, details);
  return true;
}

bool add_until(Turn& turn, EventForm& form, Details& details) {
  const auto what = until_on(turn.model, form);
  const std::string text = text_of(form, event_key::kUntilClock);
  if (!what) return refused_clock(turn, form, event_key::kUntilClock, text);
  const CalendarDate day = day_of(turn.model, form);
  if (what->day < day)
    return refused(turn, form, {}, "notice.no_entry_before",
                   {format_date(what->day), format_date(day)});
  write_no_entry(*what, {}, details);
  return true;
}

// No time is ever made up: how the label names it has to be said, if only that nobody knows.
bool add_no_entry(Turn& turn, EventForm& form, Details& details) {
  if (form.what != kSpray) return true;
  if (!form.no_entry) return refused(turn, form, {}, "notice.no_entry_choose");
  switch (*form.no_entry) {
    case NoEntryBy::kHours:
      return add_hours(turn, form, details);
    case NoEntryBy::kUntil:
      return add_until(turn, form, details);
    case NoEntryBy::kNone:
    case NoEntryBy::kNotKnown:
      break;
  }
  write_no_entry({.by = *form.no_entry}, {}, details);
  return true;
}

void add_no_entry_fact(const Record& event, std::vector<Words>& facts) {
  const auto what = no_entry_of(event);
  if (!what) return;
  const std::string until = until_text(*what, event.at.offset);
  switch (what->by) {
    case NoEntryBy::kHours:
      return facts.push_back({"event.fact.no_entry_hours", {until, what->hours}});
    case NoEntryBy::kUntil:
      return facts.push_back({"event.fact.no_entry_until", {until}});
    case NoEntryBy::kNone:
      return facts.push_back({"event.fact.no_entry_none"});
    case NoEntryBy::kNotKnown:
      return facts.push_back({"event.fact.no_entry_not_known"});
  }
}

}  // namespace

void stop_writing(EventForm& form) {
  if (form.writing.empty()) return;
  form.texts[form.writing] = form.keypad.text(Field::kNote);
  form.writing.clear();
}

void describe_event(Trials& trials, const DescribeEvent& intent) {
  auto* const form = std::get_if<EventForm>(&trials.page);
  if (form == nullptr) return;
  // The one that is chosen, tapped again, lets choose anew.
  if (has_event(intent.what)) form->what = form->what == intent.what ? std::string() : intent.what;
  if (intent.block) form->block = *intent.block;
  if (intent.no_entry) form->no_entry = intent.no_entry;
  if (std::ranges::find(kAnimals, intent.animals) != kAnimals.end()) {
    std::string& animals = form->texts[std::string(event_key::kAnimals)];
    animals = animals == intent.animals ? std::string() : intent.animals;
  }
  if (!intent.writing) return;
  if (intent.writing->empty()) return stop_writing(*form);
  // A kind of animal that is none of those offered is typed anew.
  if (*intent.writing == event_key::kAnimals) {
    std::string& animals = form->texts[*intent.writing];
    if (std::ranges::find(kAnimals, animals) != kAnimals.end()) animals.clear();
  }
  write_on(*form, *intent.writing);
}

void step_until(Trials& trials, int by) {
  auto* const form = std::get_if<EventForm>(&trials.page);
  if (form != nullptr)
    form->until_in = std::clamp(form->until_in + by, -kMostDaysAgo, kMostDaysAgo);
}

bool typed_event(Trials& trials, const Intent& intent) {
  auto* const form = std::get_if<EventForm>(&trials.page);
  if (form == nullptr || form->writing.empty()) return false;
  if (const auto* const text = std::get_if<KeyText>(&intent)) {
    form->keypad.type(text->text);
  } else if (std::holds_alternative<KeyErase>(intent)) {
    form->keypad.erase();
  } else if (std::holds_alternative<KeyDone>(intent)) {
    stop_writing(*form);
  } else {
    return false;
  }
  return true;
}

void keep_event(Turn& turn, Trials& trials) {
  auto* const form = std::get_if<EventForm>(&trials.page);
  const KnownTrial* const trial = trial_open(turn.model, trials);
  if (form == nullptr || trial == nullptr || !can_enter(turn.model)) return;
  if (form->what.empty()) return turn.notice("notice.choose_event");
  std::string words = text_of(*form, event_key::kWords);
  if (form->what == kOtherEvent && words.empty()) {
    static_cast<void>(refused(turn, *form, event_key::kWords, "notice.say_event"));
    return;
  }
  Details details{{"on", format_date(day_of(turn.model, *form))}};
  for (const EventField& field : kEventFields)
    if (field.what == form->what && !add_field(turn, *form, field.key, details)) return;
  if (!add_no_entry(turn, *form, details)) return;
  if (form->block > 0) details["block"] = std::to_string(form->block);
  Record record = about_trial(turn, *trial, kind::kEvent);
  record.entered = form->what;
  record.reason = std::move(words);
  record.details = details_text(details);
  trials.page = TrialPage{};
  trials.tab = TrialTab::kEvents;
  keep_about(turn, ActKind::kEvent, std::move(record));
}

void show_event_back(const Turn& turn, Trials& trials, RecordId id) {
  const TrialEvent* const event = event_with(trials, id);
  if (event == nullptr || !std::holds_alternative<TrialPage>(trials.page)) return;
  if (can_take_back(turn.model, *event)) trials.page = EventBackForm{id};
}

void take_event_back(Turn& turn, Trials& trials, const std::string& reason) {
  const auto* const form = std::get_if<EventBackForm>(&trials.page);
  const KnownTrial* const trial = trial_open(turn.model, trials);
  const TrialEvent* const event = form == nullptr ? nullptr : event_with(trials, form->event);
  if (trial == nullptr || event == nullptr || !can_take_back(turn.model, *event)) return;
  if (std::ranges::find(kEventBackReasons, reason) == kEventBackReasons.end()) return;
  Record record = about_trial(turn, *trial, kind::kWithdrawal);
  record.targets = {event->record.id};
  record.reason = reason;
  trials.page = TrialPage{};
  keep_about(turn, ActKind::kEvent, std::move(record));
}

void fold_event(Trials& trials, const Record& record) {
  if (record.kind == kind::kEvent)
    trials.events.insert(trials.events.begin(), TrialEvent{record, std::nullopt});
  if (!takes_event_back(record)) return;
  for (TrialEvent& event : trials.events)
    if (event.record.id == record.targets.front() && !event.taken_back) event.taken_back = record;
}

std::string height_unit(const Model& model) {
  const std::string& length = choices_of(model).length;
  return length.empty() ? "in" : length;
}

void heights_in_another_unit(Turn& turn, const std::string& before) {
  auto* const trials = std::get_if<Trials>(&turn.model.screen);
  auto* const form = trials == nullptr ? nullptr : std::get_if<EventForm>(&trials->page);
  const std::string unit = height_unit(turn.model);
  if (form == nullptr || unit == before) return;
  for (const std::string_view key : {event_key::kHeightBefore, event_key::kHeightAfter}) {
    const std::string text = text_of(*form, key);
    if (text.empty() || !is_bare_number(text)) continue;
    form->texts.erase(std::string(key));
    if (form->writing == key) form->keypad.clear(Field::kNote);
    turn.notice("notice.unit_changed", {before, unit});
  }
}

std::string no_entry_comes_to(const Model& model, const EventForm& form) {
  std::optional<NoEntry> what;
  if (form.no_entry == NoEntryBy::kHours) what = hours_on(model, form);
  if (form.no_entry == NoEntryBy::kUntil) what = until_on(model, form);
  return what ? until_text(*what, model.now.offset) : std::string();
}

std::vector<std::string> event_fields(const EventForm& form) {
  std::vector<std::string> keys;
  for (const EventField& field : kEventFields)
    if (field.what == form.what) keys.emplace_back(field.key);
  if (form.what == kSpray && form.no_entry == NoEntryBy::kHours) {
    keys.emplace_back(event_key::kHours);
    keys.emplace_back(event_key::kEnded);
  }
  if (form.what == kSpray && form.no_entry == NoEntryBy::kUntil)
    keys.emplace_back(event_key::kUntilClock);
  keys.emplace_back(event_key::kWords);
  return keys;
}

std::vector<Words> event_facts(const Record& event) {
  std::vector<Words> facts;
  if (event.entered == kWentIn && event.reason == kLabelAllows)
    facts.push_back({"event.fact.label_allows"});
  for (const std::string_view key :
       {event_key::kMaterial, event_key::kRate, event_key::kAnimals, event_key::kHead,
        event_key::kHeightBefore, event_key::kHeightAfter}) {
    std::string text = detail(event.details, std::string(key));
    if (!text.empty()) facts.push_back({"event.fact." + std::string(key), {std::move(text)}});
  }
  add_no_entry_fact(event, facts);
  return facts;
}

const TrialEvent* event_with(const Trials& trials, RecordId id) {
  const auto at = std::ranges::find_if(
      trials.events, [&](const TrialEvent& event) { return event.record.id == id; });
  return at == trials.events.end() ? nullptr : &*at;
}

bool can_take_back(const Model& model, const TrialEvent& event) {
  const bool under_way = std::ranges::any_of(model.pending, [&](const Act& act) {
    return std::ranges::any_of(act.records, [&](const Record& record) {
      return takes_event_back(record) && record.targets.front() == event.record.id;
    });
  });
  return !event.taken_back && !under_way && can_enter(model);
}

}  // namespace ligule::flow
