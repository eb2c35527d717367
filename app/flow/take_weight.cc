// A weight from the scale: still loads by one tap, moving ones after a question.
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/flow/scale_choice.h"
#include "app/flow/views.h"
#include "app/flow/weighing.h"
#include "storage/trial/decimal.h"
#include "storage/trial/number.h"
#include "storage/trial/scale_check.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

// The plot's weight from the scale, with the tare that was typed or remembered. Where the indicator
// takes its own tare off, no other is taken off again.
void keep_load(Turn& turn, LineEntry gross, bool net) {
  auto& harvest = std::get<Harvest>(turn.model.screen);
  auto& weighing = std::get<Weighing>(harvest.step);
  if (harvest.book.plots.empty() || !can_enter(turn.model)) return;
  const auto mass = mass_in(parse_number(gross.text).value_or(0), gross.unit);
  checks::History history = history_of(turn, harvest, weighing);
  if (mass) history.gross = *mass;
  std::vector<LineEntry> entries;
  if (net) {
    gross.details["load"] = "net";
    history.tare = Kilograms{};
    history.tare_to_come = false;
    entries.push_back({Field::kTare,
                       measure::kTareWeight,
                       "0",
                       gross.unit,
                       Source::kScale,
                       gross.raw,
                       {{"load", "net"}}});
  } else if (std::string tare = weighing.keypad.text(Field::kTare); !tare.empty()) {
    entries.push_back({Field::kTare, measure::kTareWeight, std::move(tare)});
    entries.back().details = said_with(weighing, Field::kTare);
  }
  gross.details.merge(said_with(weighing, Field::kGross));
  entries.insert(entries.begin(), std::move(gross));
  std::vector<Draft> drafts;
  if (!draft_lines(turn, harvest, weighing, entries, std::move(history), drafts)) return;
  const std::string plot = harvest.book.plots.at(harvest.book.present).number;
  // From the tap on, so that nothing takes the same load twice.
  mark_load(turn, true);
  if (drafts.empty()) return turn.notice("notice.weight_stands", {plot});
  keep_or_ask(turn, ActKind::kValues, plot, std::move(drafts));
}

// With the port it came from, so that a check weight finds it.
LineEntry gross_of(const Model& model, std::string entered, std::string unit, std::string raw) {
  return {Field::kGross,
          measure::kGrossWeight,
          std::move(entered),
          std::move(unit),
          Source::kScale,
          std::move(raw),
          {{std::string(scale_check::kPort), port_name(model.preferences.scale.port)}}};
}

void keep_mean(Turn& turn, AveragedLoad mean) {
  LineEntry gross =
      gross_of(turn.model, std::move(mean.entered), std::move(mean.unit), std::move(mean.raw));
  gross.details.merge(Details{{"averaged_ms", std::to_string(kAverageFor.count())},
                              {"lowest", std::move(mean.lowest)},
                              {"highest", std::move(mean.highest)},
                              {"readings", std::to_string(mean.readings)}});
  keep_load(turn, std::move(gross), mean.net);
}

// Common practice, no source.
constexpr double kWideShare = 0.02;  // of the mean
constexpr int kWideDivisions = 4;

// Whether the readings of a mean lie further apart than a machine that shakes explains.
bool lies_wide(const AveragedLoad& mean, int interval) {
  const std::size_t point = mean.entered.find('.');
  const std::size_t decimals = point == std::string::npos ? 0 : mean.entered.size() - point - 1;
  const double division =
      static_cast<double>(interval) / std::pow(10.0, static_cast<double>(decimals));
  const double middle = parse_number(mean.entered).value_or(0);
  const auto apart = difference(mean.highest, mean.lowest);
  const double spread = apart ? parse_number(*apart).value_or(0) : 0;
  return spread > std::max(kWideDivisions * division, kWideShare * middle);
}

}  // namespace

void mark_load(Turn& turn, bool taken) {
  LoadSeen& load = turn.model.load;
  if (taken && (load.state == LoadState::kStill || load.state == LoadState::kMoving))
    load.state = LoadState::kNotLifted;
  turn.run(LoadTaken{taken});
}

bool from_scale(const Record& record) {
  return record.measure == measure::kGrossWeight && record.source == Source::kScale;
}

bool weighs(const Model& model, const Harvest& harvest, const Weighing& weighing) {
  return !model.preferences.scale.port.empty() && !harvest.book.plots.empty() &&
         weighing.keypad.active() == Field::kGross && !weighing.by_hand;
}

bool shows_load(const Model& model) {
  if (model.moving) return true;
  if (const auto* const tablet = std::get_if<OnTablet>(&model.screen)) return tablet->scale;
  if (model.standing) return false;
  const auto* const harvest = std::get_if<Harvest>(&model.screen);
  const auto* const weighing = harvest == nullptr ? nullptr : std::get_if<Weighing>(&harvest->step);
  return weighing != nullptr && weighs(model, *harvest, *weighing);
}

void load_told(Turn& turn, LoadTold outcome) {
  Model& model = turn.model;
  model.load = std::move(outcome.seen);
  if (!outcome.average || !model.moving || !model.moving->averaging) return;
  model.moving.reset();
  if (weighing_on(turn) == nullptr) return;
  if (auto& mean = outcome.average->mean) {
    if (!lies_wide(*mean, model.preferences.scale.interval))
      return keep_mean(turn, *std::move(mean));
    model.moving = MovingLoad{false, std::move(mean)};
    return turn.run(Cue{CueKind::kQuestioned});
  }
  turn.notice("notice.no_average");
  turn.run(Cue{CueKind::kRefused});
}

void take_weight(Turn& turn, bool more) {
  Model& model = turn.model;
  Weighing* const weighing = weighing_on(turn);
  if (weighing == nullptr || !can_enter(model)) return;
  weighing->more = more;
  if (model.load.state == LoadState::kMoving) {
    model.moving = MovingLoad{};
    return turn.run(Cue{CueKind::kQuestioned});
  }
  if (model.load.state != LoadState::kStill) return turn.run(Cue{CueKind::kRefused});
  keep_load(turn, gross_of(model, model.load.entered, model.load.unit, model.load.raw),
            model.load.net);
}

void type_weight(Turn& turn, bool by_hand) {
  if (Weighing* const weighing = weighing_on(turn)) {
    weighing->by_hand = by_hand;
    weighing->keypad.focus(Field::kGross);
  }
}

void answer_moving(Turn& turn, bool average) {
  Model& model = turn.model;
  if (!model.moving) return;
  if (model.moving->wide && average && !can_enter(model)) {
    // Nothing can be kept now: the question waits with its mean.
    turn.run(Cue{CueKind::kRefused});
    return;
  }
  if (auto wide = std::exchange(model.moving->wide, std::nullopt)) {
    model.moving.reset();
    if (average && weighing_on(turn) != nullptr) keep_mean(turn, *std::move(wide));
    return;
  }
  if (!average || model.moving->averaging) return model.moving.reset();
  model.moving->averaging = true;
  turn.run(AverageLoad{});
}

}  // namespace ligule::flow
