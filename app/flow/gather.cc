// Several numbers that become one act: heights, frames of cells, shares, counted stages.
#include "app/flow/gather.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "app/flow/hand_over.h"
#include "app/flow/season.h"
#include "storage/trial/composite.h"
#include "storage/trial/details.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

constexpr int kWhole = 100;
constexpr std::size_t kMostCounted = 400;  // taps of one sample

// The measure whose pad is open, where it is of that kind.
struct Open {
  const PlanPlot* plot = nullptr;
  const Scale* scale = nullptr;
  explicit operator bool() const { return scale != nullptr; }
};
Open open_pad(const Turn& turn, const Rating& rating) {
  const Book& book = rating.book;
  if (book.plots.empty() || rating.focus.empty() || !can_enter(turn.model)) return {};
  const PlanPlot& plot = book.plots.at(book.present);
  return {&plot, scale_of(turn.model, trial_of(turn.model, book), plot, rating.focus)};
}
Open open_pad(const Turn& turn, const Rating& rating, ScaleKind kind) {
  const Open open = open_pad(turn, rating);
  return open && open.scale->kind == kind ? open : Open{};
}

std::vector<Piece>& pieces_of(Rating& rating, const PlanPlot& plot) {
  return rating.begun[{plot.number, rating.focus}];
}

const Record* standing_record(const Turn& turn, const Rating& rating, const PlanPlot& plot,
                              Cell& cell) {
  cell = cell_of(turn.model, rating.book, plot, rating.focus);
  return cell.claim && !cell.open() ? &cell.claim->record : nullptr;
}

// What stands is what is changed: its numbers as pieces, where nothing is begun yet.
std::vector<Piece>& pieces_from_standing(const Turn& turn, Rating& rating, const Open& open) {
  std::vector<Piece>& pieces = pieces_of(rating, *open.plot);
  if (!pieces.empty()) return pieces;
  Cell cell;
  const Record* const record = standing_record(turn, rating, *open.plot, cell);
  if (record == nullptr) return pieces;
  const auto numbers = composite_numbers(*open.scale, record->entered);
  if (!numbers) return pieces;
  for (std::size_t n = 0; n < numbers->size(); ++n) {
    const std::string& code = open.scale->steps[n].code;
    const bool shares = open.scale->kind == ScaleKind::kShares;
    const auto times = shares ? 1 : std::llround((*numbers)[n]);
    for (long long at = 0; at < times; ++at)
      pieces.push_back(
          {shares ? code + "=" + format_number((*numbers)[n]) : code, Source::kTapped});
  }
  // Of shares the last is what is left.
  if (open.scale->kind == ScaleKind::kShares && !pieces.empty()) pieces.pop_back();
  return pieces;
}

// part: of several readings, 0 while they are still being given; who rated there before is asked
// with the first.
checks::Verdict judged(const Turn& turn, const Rating& rating, const Scale& scale, int part,
                       const std::string& entered, const std::string& unit) {
  const Book& book = rating.book;
  const PlanPlot& plot = book.plots.at(book.present);
  checks::History history = history_of(turn, book, plot, rating.focus);
  if (part == 1) {
    const Slot slot{plot_subject(turn.model, book, plot), rating.focus, part};
    add_raters(turn, book, plot, cell_at(turn.model, book, slot), history);
  }
  return checks::judge({rating.focus, &scale, entered, unit, std::nullopt},
                       trial_of(turn.model, book).plan, history);
}

// One part of the act: a first value, or a correction of what stands there.
Draft part_draft(const Turn& turn, const Rating& rating, const Open& open, int part,
                 checks::Verdict verdict, Source source) {
  const Book& book = rating.book;
  const KnownTrial& trial = trial_of(turn.model, book);
  const Slot slot{plot_subject(turn.model, book, *open.plot), rating.focus, part};
  const Cell cell = cell_at(turn.model, book, slot);
  const std::string reason = cell.claim && cell.open() ? "after_later" : "looked_again";
  const About about{&trial, book.id, slot, std::nullopt, open.scale};
  Draft draft =
      value_draft(turn, about, verdict.value, ValueState::kValue, source, cell.claim, reason);
  draft.record.answers = std::move(verdict.answered);
  draft.open = std::move(verdict.findings);
  return draft;
}

// The numbers as one record.
void keep_numbers(Turn& turn, Rating& rating, const Open& open, const std::string& entered,
                  const std::string& details) {
  const std::string unit = open.scale->units.empty() ? std::string() : open.scale->units.front();
  checks::Verdict verdict = judged(turn, rating, *open.scale, 1, entered, unit);
  if (verdict.outcome == checks::Outcome::kRefuse) return refuse(turn, verdict.findings.front());
  Cell cell;
  const Record* const record = standing_record(turn, rating, *open.plot, cell);
  if (record != nullptr && record->entered == entered) {  // says nothing new
    rating.begun.erase({open.plot->number, rating.focus});
    return settle_focus(turn, rating);
  }
  std::vector<Draft> drafts;
  drafts.push_back(part_draft(turn, rating, open, 1, std::move(verdict), Source::kTapped));
  drafts.front().record.details = details;
  keep_or_ask(turn, ActKind::kValues, open.plot->number, std::move(drafts));
}

void keep_readings(Turn& turn, Rating& rating, const Open& open, const std::string& unit) {
  std::vector<Draft> drafts;
  int part = 0;
  for (const Piece& piece : begun_of(rating, open.plot->number, rating.focus)) {
    checks::Verdict verdict = judged(turn, rating, *open.scale, ++part, piece.text, unit);
    if (verdict.outcome == checks::Outcome::kRefuse) return refuse(turn, verdict.findings.front());
    drafts.push_back(part_draft(turn, rating, open, part, std::move(verdict), piece.source));
  }
  keep_or_ask(turn, ActKind::kValues, open.plot->number, std::move(drafts));
}

void keep_cells(Turn& turn, Rating& rating, const Open& open, std::span<const Piece> pieces) {
  std::vector<double> numbers;
  std::string pattern;
  for (const Piece& piece : pieces) {
    numbers.push_back(held(piece.text));
    if (!pattern.empty()) pattern += ' ';
    pattern += piece.text;
  }
  keep_numbers(turn, rating, open, composite_text(*open.scale, numbers),
               details_text({{"cells", pattern}}));
}

std::vector<double> numbers_of(const std::vector<Share>& shares) {
  std::vector<double> numbers;
  numbers.reserve(shares.size());
  for (const Share& share : shares) numbers.push_back(share.percent);
  return numbers;
}

struct Stated {
  std::string part;
  int percent = 0;
};
Stated stated(const Piece& piece) {
  const std::size_t equals = piece.text.find('=');
  const auto number = parse_number(std::string_view(piece.text).substr(equals + 1));
  return {piece.text.substr(0, equals), number ? static_cast<int>(*number) : 0};
}

int sum_of(std::span<const Piece> pieces, std::string_view without = {}) {
  int sum = 0;
  for (const Piece& piece : pieces) {
    const Stated share = stated(piece);
    if (share.part != without) sum += share.percent;
  }
  return sum;
}

}  // namespace

std::vector<Piece> begun_of(const Rating& rating, const std::string& plot,
                            const std::string& measure) {
  const auto at = rating.begun.find({plot, measure});
  return at == rating.begun.end() ? std::vector<Piece>() : at->second;
}

void forget_begun(Rating& rating, const Act& act) {
  for (const Record& record : act.records) rating.begun.erase({act.plot, record.measure});
}

// --- numbers

std::vector<Share> shares_of(const Scale& scale, std::span<const Piece> pieces) {
  std::vector<Share> shares(scale.steps.size());
  for (const Piece& piece : pieces) {
    const Stated one = stated(piece);
    const auto step = std::ranges::find(scale.steps, one.part, &ScaleStep::code);
    if (step == scale.steps.end()) continue;
    shares[static_cast<std::size_t>(step - scale.steps.begin())] = {one.percent, true, false};
  }
  const auto open = std::ranges::count(shares, false, &Share::known);
  const int rest = kWhole - sum_of(pieces);
  if (open == 1 || (rest == 0 && !pieces.empty())) {
    bool given = false;
    for (Share& share : shares) {
      if (share.known) continue;
      share = {given ? 0 : rest, true, true};
      given = true;
    }
  }
  return shares;
}

std::vector<Share> shares_in(const Scale& scale, std::string_view entered) {
  std::vector<Share> shares(scale.steps.size());
  const auto numbers = composite_numbers(scale, entered);
  if (!numbers) return shares;
  for (std::size_t n = 0; n < shares.size() && n < numbers->size(); ++n)
    shares[n] = {static_cast<int>(std::lround((*numbers)[n])), true, false};
  return shares;
}

int most_of(const Scale& scale, std::span<const Piece> pieces, std::string_view part) {
  const auto others =
      std::ranges::count_if(pieces, [&](const Piece& piece) { return stated(piece).part != part; });
  // Once all but one are stated another statement gives the oldest one free.
  if (static_cast<std::size_t>(others) + 1 >= scale.steps.size()) return kWhole;
  return kWhole - sum_of(pieces, part);
}

std::vector<double> counts_of(const Scale& scale, std::span<const Piece> pieces) {
  std::vector<double> counts(scale.steps.size(), 0.0);
  for (const Piece& piece : pieces) {
    const auto step = std::ranges::find(scale.steps, piece.text, &ScaleStep::code);
    if (step != scale.steps.end()) ++counts[static_cast<std::size_t>(step - scale.steps.begin())];
  }
  return counts;
}

int held(std::string_view placement) {
  return static_cast<int>(std::ranges::count(placement, '1'));
}

std::size_t cells_of(const Scale& scale) {
  return static_cast<std::size_t>(std::lround(scale.maximum.value_or(0)));
}

std::string part_shown(const Rating& rating, const Scale& scale, std::span<const Piece> pieces) {
  if (!rating.part.empty()) return rating.part;
  const std::vector<Share> shares = shares_of(scale, pieces);
  for (std::size_t n = 0; n < shares.size(); ++n)
    if (!shares[n].known) return scale.steps[n].code;
  return scale.steps.empty() ? std::string() : scale.steps.front().code;
}

int block_shown(const Rating& rating) {
  if (rating.block != 0 || rating.book.plots.empty()) return rating.block;
  return rating.book.plots.at(rating.book.present).block;
}

// --- what a person does

void add_reading(Turn& turn, Rating& rating, const ChooseValue& intent, Source source) {
  if (rating.focus != intent.measure) rating.focus = intent.measure;
  const Open open = open_pad(turn, rating);
  if (!open) return;
  const Cell cell = cell_of(turn.model, rating.book, *open.plot, rating.focus);
  const std::string unit = unit_for(turn.model.setup, rating.focus, *open.scale, cell);
  const checks::Verdict verdict = judged(turn, rating, *open.scale, 0, intent.entered, unit);
  if (verdict.outcome == checks::Outcome::kRefuse) return refuse(turn, verdict.findings.front());
  std::vector<Piece>& pieces = pieces_of(rating, *open.plot);
  pieces.push_back({intent.entered, source});
  rating.amount = Keypad(Field::kAmount);
  if (pieces.size() < static_cast<std::size_t>(open.scale->readings)) return;
  keep_readings(turn, rating, open, unit);
  // Asked about and entered again: the last one is open once more.
  if (turn.model.asking) pieces_of(rating, *open.plot).pop_back();
}

void use_pad(Turn& turn, Rating& rating, const TapCell& intent) {
  const int cell = intent.cell;
  const Open open = open_pad(turn, rating, ScaleKind::kCells);
  const auto at = static_cast<std::size_t>(std::max(cell, 0));
  if (!open || cell < 0 || at >= cells_of(*open.scale)) return;
  std::vector<Piece>& pieces = pieces_of(rating, *open.plot);
  if (pieces.empty()) pieces.push_back({std::string(cells_of(*open.scale), '0'), Source::kTapped});
  char& sign = pieces.back().text.at(at);
  sign = sign == '1' ? '0' : '1';
}

void use_pad(Turn& turn, Rating& rating, const NextPlacement& /*intent*/) {
  const Open open = open_pad(turn, rating, ScaleKind::kCells);
  if (!open) return;
  std::vector<Piece>& pieces = pieces_of(rating, *open.plot);
  if (pieces.size() >= static_cast<std::size_t>(open.scale->readings)) {
    const std::vector<Piece> all = pieces;
    return keep_cells(turn, rating, open, all);
  }
  // A placement without a plant is a count as well.
  if (pieces.empty()) {
    Cell cell;
    const bool again = standing_record(turn, rating, *open.plot, cell) != nullptr;
    pieces.push_back({std::string(cells_of(*open.scale), '0'), Source::kTapped});
    if (again) return;
  }
  pieces.push_back({std::string(cells_of(*open.scale), '0'), Source::kTapped});
}

void use_pad(Turn& turn, Rating& rating, const FocusShare& intent) {
  const std::string& part = intent.part;
  const Open open = open_pad(turn, rating, ScaleKind::kShares);
  if (!open) return;
  if (std::ranges::find(open.scale->steps, part, &ScaleStep::code) == open.scale->steps.end())
    return;
  rating.part = part;
}

void use_pad(Turn& turn, Rating& rating, const SetShare& intent) {
  const std::string& entered = intent.entered;
  const Open open = open_pad(turn, rating, ScaleKind::kShares);
  const auto percent = parse_number(entered);
  if (!open || !percent) return;
  std::vector<Piece>& pieces = pieces_from_standing(turn, rating, open);
  const std::string part = part_shown(rating, *open.scale, pieces);
  if (*percent < 0 || *percent > most_of(*open.scale, pieces, part)) {
    turn.notice("notice.over_the_whole", {std::to_string(most_of(*open.scale, pieces, part))});
    return turn.run(Cue{CueKind::kRefused});
  }
  std::erase_if(pieces, [&](const Piece& piece) { return stated(piece).part == part; });
  pieces.push_back({part + "=" + entered, Source::kTapped});
  // The oldest statements give way: one part is always what is left of 100.
  while (pieces.size() >= open.scale->steps.size() || sum_of(pieces) > kWhole)
    pieces.erase(pieces.begin());
  rating.part.clear();
}

void use_pad(Turn& turn, Rating& rating, const StepShare& intent) {
  const Open open = open_pad(turn, rating, ScaleKind::kShares);
  if (!open) return;
  const std::vector<Piece>& pieces = pieces_from_standing(turn, rating, open);
  if (pieces.empty()) return;
  const Stated last = stated(pieces.back());
  const int step = static_cast<int>(open.scale->step);
  rating.part = last.part;
  use_pad(turn, rating, SetShare{std::to_string(std::max(0, last.percent + intent.by * step))});
}

void use_pad(Turn& turn, Rating& rating, const CountStage& intent) {
  const std::string& stage = intent.stage;
  const Open open = open_pad(turn, rating, ScaleKind::kCounts);
  if (!open) return;
  if (std::ranges::find(open.scale->steps, stage, &ScaleStep::code) == open.scale->steps.end())
    return;
  std::vector<Piece>& pieces = pieces_from_standing(turn, rating, open);
  if (pieces.size() < kMostCounted) pieces.push_back({stage, Source::kTapped});
}

void use_pad(Turn& turn, Rating& rating, const DropLast& /*intent*/) {
  const Open open = open_pad(turn, rating);
  if (!open) return;
  std::vector<Piece>& pieces = open.scale->kind == ScaleKind::kCounts
                                   ? pieces_from_standing(turn, rating, open)
                                   : pieces_of(rating, *open.plot);
  if (!pieces.empty()) pieces.pop_back();
  if (pieces.empty()) rating.begun.erase({open.plot->number, rating.focus});
}

void use_pad(Turn& turn, Rating& rating, const KeepGathered& /*intent*/) {
  const Open open = open_pad(turn, rating);
  if (!open) return;
  const std::vector<Piece> pieces = begun_of(rating, open.plot->number, rating.focus);
  if (open.scale->kind == ScaleKind::kCounts) {
    if (pieces.empty()) return turn.notice("notice.nothing_counted");
    return keep_numbers(turn, rating, open,
                        composite_text(*open.scale, counts_of(*open.scale, pieces)), "");
  }
  if (open.scale->kind == ScaleKind::kShares) {
    const std::vector<Share> shares = shares_of(*open.scale, pieces);
    if (!std::ranges::all_of(shares, &Share::known)) return turn.notice("notice.shares_open");
    return keep_numbers(turn, rating, open, composite_text(*open.scale, numbers_of(shares)), "");
  }
}

}  // namespace ligule::flow
