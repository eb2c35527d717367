// Where letters and digits go, from a pad, a keyboard or a scanner.
#include <chrono>
#include <cstdint>
#include <string>
#include <utility>
#include <variant>

#include "app/flow/named_plot.h"
#include "app/flow/stake.h"
#include "app/flow/turn.h"
#include "app/flow/weighing.h"

namespace ligule::flow {
namespace {

// Whether a page of the plot being weighed has fields of its own.
bool types_aside(PlotPage page) {
  return page == PlotPage::kSwath || page == PlotPage::kWeeds;
}

// The texts that keys go to now; null where nothing is typed.
Keypad* active_keypad(Turn& turn) {
  return std::visit(
      Overloaded{
          [](SignIn& screen) { return &screen.keypad; },
          [](Rating& screen) {
            auto* const note = std::get_if<PadNote>(&screen.pad);
            return note == nullptr ? &screen.amount : &note->keypad;
          },
          [](Harvest& screen) {
            auto* const weighing = std::get_if<Weighing>(&screen.step);
            if (weighing != nullptr && weighing->checking) return &weighing->checking->keypad;
            if (weighing != nullptr && types_aside(weighing->page)) return &weighing->swath;
            return std::visit([](auto& step) { return &step.keypad; }, screen.step);
          },
          [](DryWeights& screen) { return screen.oven ? &screen.oven->keypad : &screen.keypad; },
          [](Sorting& screen) { return &screen.keypad; },
          [](Review& screen) {
            auto* const history = std::get_if<PlotHistory>(&screen.page);
            const bool open = history != nullptr && history->mending;
            return open ? &history->mending->keypad : nullptr;
          },
          [](auto&) { return static_cast<Keypad*>(nullptr); },
      },
      turn.model.screen);
}

// A scanner sends a stake within this time a letter; nobody types so fast.
constexpr std::chrono::milliseconds kScannedLetter{40};
// Letters that follow each other within this time belong together, of a slow scanner too.
constexpr std::chrono::milliseconds kOnePiece{250};

bool as_scanned(UtcInstant from, UtcInstant to, std::size_t letters) {
  return to - from <= kScannedLetter * static_cast<std::int64_t>(letters);
}

bool was_scanned(const Turn& turn, const Rating& rating, const std::string& text) {
  return text.size() > 1 && as_scanned(rating.typed_from, turn.at.utc, text.size());
}

bool is_value(const Turn& turn, const Rating& rating, const std::string& text) {
  const Book& book = rating.book;
  if (rating.focus.empty()) return false;
  const Scale* const scale =
      scale_of(turn.model, trial_of(turn.model, book), book.plots.at(book.present), rating.focus);
  return scale != nullptr && read_entered(*scale, text, "").has_value();
}

// Typed on the card and ended with Enter: a stake that was scanned, else a value of the open
// measure, else a stake. Plots may be numbered like percents, so how fast it came decides what a
// number is.
void card_done(Turn& turn, Rating& rating) {
  const std::string text = rating.amount.text(Field::kAmount);
  if (text.empty() || rating.book.plots.empty()) return;
  const NamedPlot named = named_plot(turn.model, rating.book, text);
  const auto place = place_of(turn.model, rating.book, named);
  const bool stake = was_scanned(turn, rating, text) || !is_value(turn, rating, text);
  if (place && stake) {
    rating.amount.clear(Field::kAmount);
    return go_to(turn, rating.book, *place);
  }
  const bool takes_no_part = stake && is_in_plan(turn.model, rating.book, named);
  if (rating.focus.empty() || !named.trial.empty() || takes_no_part) {
    rating.amount.clear(Field::kAmount);
    tell_no_place(turn, rating.book, named);
    return turn.run(Cue{CueKind::kRefused});
  }
  keep_amount(turn, rating);
}

bool on_card(const Rating* rating) {
  return rating != nullptr && !std::holds_alternative<PadNote>(rating->pad);
}

// The book whose stake question, or what came of it, stands where values are entered.
Book* asking_book(Turn& turn) {
  return stake_in_the_way(turn.model) ? entry_book(turn.model.screen) : nullptr;
}

// A phrase of a note goes in as one piece and is taken out as one: where "[code] " ends the text.
bool erase_phrase(Keypad& keypad) {
  const std::string& text = keypad.text(Field::kNote);
  const std::size_t open = text.rfind('[');
  if (open == std::string::npos) return false;
  const std::size_t close = text.find(']', open);
  if (close == std::string::npos || text.size() - close > 2) return false;
  if (close + 1 < text.size() && text.back() != ' ') return false;
  const std::string before = text.substr(0, open);
  keypad.set(Field::kNote, before);
  keypad.go_on();
  return true;
}

// Fields of numbers and of bags, which a stake may be scanned into.
bool holds_no_stake(Field field) {
  const FieldKind kind = kind_of(field);
  return (kind == FieldKind::kNumber || kind == FieldKind::kLabel) && !takes_stakes(field);
}

// Whether a number, or a bag's, may have such letters.
bool may_stand_in(Field field, const std::string& text) {
  const bool number = kind_of(field) == FieldKind::kNumber;
  return text.find_first_not_of("0123456789.,-") == std::string::npos ||
         (!number && text.find('/') == std::string::npos);
}

void set_by_hand(Turn& turn, bool by_hand) {
  if (Weighing* const weighing = weighing_on(turn)) weighing->by_hand = by_hand;
}

// A stake is never a weight: once what a scanner sends can't be what is asked for, nothing of it
// stays in the field, and what comes of it later goes nowhere. False: it is typed like anything.
bool hold_scan(Turn& turn, Keypad& keypad, const std::string& piece) {
  Scanned& scan = turn.model.scanned;
  const bool goes_on =
      scan.before.active() == keypad.active() && turn.at.utc - scan.last <= kOnePiece;
  if (scan.text.empty() || !goes_on) {
    const Weighing* const weighing = weighing_on(turn);
    scan = {turn.at.utc, {}, {}, keypad, weighing != nullptr && weighing->by_hand};
  }
  scan.last = turn.at.utc;
  scan.text += piece;
  if (!scan.held) {
    if (scan.text.size() < 2 || may_stand_in(keypad.active(), scan.text)) return false;
    scan.held = true;
    keypad = scan.before;
    if (auto* const dry = on<DryWeights>(turn);
        dry != nullptr && keypad.active() == Field::kDryBag) {
      keypad.clear(Field::kDryBag);  // another bag was meant
      dry->chosen.reset();
    }
    set_by_hand(turn, scan.by_hand);
    turn.run(Cue{CueKind::kRefused});
  }
  turn.notice("notice.not_taken", {scan.text});
  return true;
}

// Enter behind what a scanner sent into a field of a number or a bag. True: it was no value, and
// what was to be done about it is done.
bool scan_done(Turn& turn) {
  const Scanned scan = std::exchange(turn.model.scanned, {});
  Keypad* const keypad = active_keypad(turn);
  if (keypad == nullptr || scan.text.size() < 2 || scan.before.active() != keypad->active())
    return false;
  // What fits the field may have been typed.
  const bool behind = scan.held ? turn.at.utc - scan.last <= kOnePiece
                                : as_scanned(scan.from, turn.at.utc, scan.text.size() + 1);
  if (!behind) return false;
  auto* const harvest = on<Harvest>(turn);
  auto* const sorting = on<Sorting>(turn);
  Weighing* const weighing = weighing_on(turn);
  const bool weighs = weighing != nullptr && keypad == &weighing->keypad;
  const auto not_taken = [&] {
    turn.notice("notice.not_taken", {scan.text});
    turn.run(Cue{CueKind::kRefused});
    return true;
  };
  if (!weighs && sorting == nullptr) return scan.held && not_taken();  // no plot can be gone to
  Book& book = weighs ? harvest->book : sorting->book;
  const NamedPlot named = named_plot(turn.model, book, scan.text);
  // A plot's bare number is what it looks like; a code says its trial.
  if (!scan.held && named.trial.empty()) return false;
  *keypad = scan.before;
  set_by_hand(turn, scan.by_hand);
  if (const auto place = place_of(turn.model, book, named)) {
    if (!weighs) {
      sort_plot(turn, *sorting, named.number);
      return true;
    }
    went_to_stake(turn, book, named.number);
    go_to(turn, book, *place);
    return true;
  }
  if (named.trial.empty()) return not_taken();
  tell_no_place(turn, book, named);
  turn.run(Cue{CueKind::kRefused});
  return true;
}

bool belongs(const Turn& turn, Field field) {
  if (const auto* const harvest = std::get_if<Harvest>(&turn.model.screen)) {
    const bool head =
        field == Field::kMachine || field == Field::kCutWidth || field == Field::kStubble;
    const auto* const weighing = std::get_if<Weighing>(&harvest->step);
    if (weighing != nullptr && weighing->checking)
      return field == Field::kCheckMass || field == Field::kCheckAllowance ||
             field == Field::kGross;
    if (weighing != nullptr && weighing->page == PlotPage::kSwath)
      return field == Field::kSwathLength || field == Field::kSwathWidth;
    if (weighing != nullptr && weighing->page == PlotPage::kWeeds)
      return field == Field::kWeedsByEye;
    const bool form = field == Field::kPlot || field == Field::kGross || field == Field::kTare ||
                      field == Field::kBag || field == Field::kSampleFresh;
    return std::holds_alternative<RunHead>(harvest->step) ? head : form;
  }
  if (const auto* const sorting = std::get_if<Sorting>(&turn.model.screen)) {
    if (sorting->plot.empty()) return field == Field::kSortPlot;
    if (!sorting->part) return false;
    if (*sorting->part == 0) return field == Field::kSortWhole;
    return field == Field::kSortBag || field == Field::kSortFresh;
  }
  const auto* const dry = std::get_if<DryWeights>(&turn.model.screen);
  if (dry == nullptr) return false;
  if (dry->oven) return field == Field::kOvenCelsius || field == Field::kOvenHours;
  return field == Field::kDryBag || field == Field::kDryFresh || field == Field::kDryWeight;
}

}  // namespace

void key_text(Turn& turn, const KeyText& intent) {
  if (Book* const book = asking_book(turn)) {
    if (book->slipped) return;
    if (book->stake.keypad.type(intent.text)) book->stake.other = true;
    return;
  }
  Keypad* const keypad = active_keypad(turn);
  if (keypad == nullptr || intent.text.empty()) return;
  if (auto* const rating = on<Rating>(turn); on_card(rating) && keypad->begins()) {
    rating->typed_from = turn.at.utc;
  }
  if (holds_no_stake(keypad->active()) && hold_scan(turn, *keypad, intent.text)) return;
  // A phrase stands apart from the word before it.
  const std::string& note = keypad->text(Field::kNote);
  const bool sticks = keypad->active() == Field::kNote && intent.text.starts_with('[') &&
                      !note.empty() && note.back() != ' ';
  if (!keypad->type(sticks ? " " + intent.text : intent.text)) {
    // Whoever types or scans without looking must not believe that it stands there.
    turn.notice("notice.not_taken", {intent.text});
    return turn.run(Cue{CueKind::kRefused});
  }
  if (auto* const harvest = on<Harvest>(turn); harvest != nullptr) {
    auto* const weighing = std::get_if<Weighing>(&harvest->step);
    if (weighing != nullptr && keypad->active() == Field::kGross) weighing->by_hand = true;
  }
  auto* const dry = on<DryWeights>(turn);
  // Another number is another bag: the weight being typed belongs to neither.
  if (dry != nullptr && keypad->active() == Field::kDryBag) dry->chosen.reset();
}

void key_erase(Turn& turn) {
  if (Book* const book = asking_book(turn)) {
    book->stake.keypad.erase();
    return;
  }
  auto* const rating = on<Rating>(turn);
  if (on_card(rating)) return erase_amount(turn, *rating);
  Keypad* const keypad = active_keypad(turn);
  if (keypad == nullptr) return;
  if (keypad->active() == Field::kNote && erase_phrase(*keypad)) return;
  keypad->erase();
  auto* const dry = on<DryWeights>(turn);
  if (dry != nullptr && keypad->active() == Field::kDryBag) dry->chosen.reset();
}

void key_done(Turn& turn) {
  if (Book* const book = asking_book(turn)) {
    // Without a number Enter says nothing: the stake is to be looked at.
    const std::string typed = book->stake.keypad.text(Field::kPlot);
    if (!typed.empty()) name_stake(turn, *book, typed);
    return;
  }
  if (scan_done(turn)) return;
  if (const auto* const screen = on<SignIn>(turn)) {
    const std::string typed = screen->keypad.text(Field::kInitials);
    return sign_in(turn, typed);
  }
  if (auto* const rating = on<Rating>(turn)) {
    if (std::holds_alternative<PadNote>(rating->pad)) return keep_note(turn, *rating);
    return card_done(turn, *rating);
  }
  if (auto* const harvest = on<Harvest>(turn)) return harvest_done(turn, *harvest);
  if (auto* const dry = on<DryWeights>(turn)) return dry_done(turn, *dry);
  if (auto* const sorting = on<Sorting>(turn)) return sort_done(turn, *sorting);
}

void focus_field(Turn& turn, Field field) {
  if (Book* const book = asking_book(turn)) {
    if (field == Field::kPlot) other_stake(turn, *book, true);
    return;
  }
  if (!belongs(turn, field)) return;
  active_keypad(turn)->focus(field);
  auto* const dry = on<DryWeights>(turn);
  if (dry != nullptr && (field == Field::kDryFresh || field == Field::kDryWeight))
    dry->weighing = field;
}

}  // namespace ligule::flow
