#include "app/program/application.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "app/flow/views.h"

namespace ligule::program {
namespace {

constexpr std::int64_t kMinuteMs = 60'000;

}  // namespace

touch::Look touch_look(const flow::LookView& look) {
  return {.dusk = look.dusk,
          .gloves = look.gloves,
          .large_text = look.large_text,
          .hand = look.left_handed ? touch::Hand::kLeft : touch::Hand::kRight};
}

Application::Application(const Parts& parts) : parts_(parts), minute_(minute()) {
  apply(parts_.preferences);
  take_look();
  parts_.worker.load_start();
  tell_supply();
}

void Application::tell_supply() {
  if (parts_.supply) apply(flow::SupplyTold{parts_.supply()});
}

// The present look, from the next frame on.
void Application::take_look() {
  const flow::LookView look = flow::look_of(model_);
  parts_.ui.set_look(touch_look(look));
  parts_.window.set_ppi(look.ppi);
}

std::int64_t Application::minute() const {
  return parts_.clock.utc_ms() / kMinuteMs;
}

void Application::draw(const platform::InputFrame& input) {
  const flow::View view = flow::view_of(model_);
  const flow::Overlay overlay = flow::overlay_of(model_);
  std::vector<flow::Intent> asked;
  parts_.ui.begin(input, parts_.clock.steady_ms());
  for (const touch::Flash flash : std::exchange(flashes_, {})) parts_.ui.flash(flash);
  // A language that has no words any more is read in English.
  auto words = parts_.languages.find(flow::look_of(model_).language);
  if (words == parts_.languages.end()) words = parts_.languages.find("en");
  screens::draw(parts_.ui, words->second, view, overlay, scratch_, asked);
  // What was tapped before the frame ends: a change of the look shows in the next one.
  for (flow::Intent& intent : asked) apply(std::move(intent));
  take_look();
  parts_.ui.end();
}

bool Application::poll() {
  std::vector<flow::Intent> outcomes = parts_.worker.take();
  if (const std::int64_t now = minute(); now != minute_) {
    minute_ = now;
    tell_supply();
    outcomes.emplace_back(flow::Tick{});
  }
  // A load that nobody looks at draws no frame.
  const bool news = std::ranges::any_of(outcomes, [](const flow::Intent& outcome) {
    return !std::holds_alternative<flow::LoadTold>(outcome);
  });
  const bool any = news || (!outcomes.empty() && flow::shows_load(model_));
  for (flow::Intent& outcome : outcomes) apply(std::move(outcome));
  return any;
}

std::optional<std::int64_t> Application::next_change_ms() const {
  // The clock on the screen shows minutes.
  const std::int64_t to_next = kMinuteMs - parts_.clock.utc_ms() % kMinuteMs;
  const std::int64_t turn = parts_.clock.steady_ms() + to_next;
  const auto flash = parts_.ui.next_change_ms();
  return flash ? std::min(*flash, turn) : turn;
}

void Application::apply(flow::Intent intent) {
  const flow::Effects effects =
      flow::update(model_, {parts_.now(), std::move(intent)}, parts_.worker.ids());
  for (const flow::Effect& effect : effects) {
    if (const auto* asked = std::get_if<flow::Cue>(&effect)) cue(asked->kind);
  }
  parts_.worker.run(effects);
}

void Application::cue(flow::CueKind kind) {
  switch (kind) {
    case flow::CueKind::kKept:
      flashes_.push_back(touch::Flash::kKept);
      parts_.sound.play(platform::Tone::kKept);
      break;
    case flow::CueKind::kQuestioned:
    case flow::CueKind::kRefused:
      flashes_.push_back(touch::Flash::kQuestioned);
      parts_.sound.play(platform::Tone::kQuestioned);
      break;
    case flow::CueKind::kNotSaved:
      flashes_.push_back(touch::Flash::kNotSaved);
      parts_.sound.play(platform::Tone::kQuestioned);
      break;
  }
}

}  // namespace ligule::program
