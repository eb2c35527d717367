// Joins model, screens and work: draws what the model says, hands taps to update(), effects to the
// worker, and outcomes back.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "app/flow/model.h"
#include "app/flow/update.h"
#include "app/platform/app.h"
#include "app/platform/clock.h"
#include "app/platform/sound.h"
#include "app/platform/window.h"
#include "app/screens/screens.h"
#include "app/touch/ui.h"
#include "app/work/worker.h"

namespace ligule::program {

// The words of every language there is, by its code; English is always among them.
using Languages = std::map<std::string, screens::Language, std::less<>>;

// What flow says of the look, as widgets take it.
[[nodiscard]] touch::Look touch_look(const flow::LookView& look);

class Application final : public platform::App {
 public:
  struct Parts {
    platform::Window& window;
    touch::Ui& ui;
    platform::Clock& clock;
    platform::Sound& sound;
    work::Worker& worker;
    const Languages& languages;
    std::function<Stamp()> now;
    flow::PreferencesRead preferences;     // and the display they are for
    std::function<flow::Supply()> supply;  // battery and storage; empty: nobody tells
  };
  explicit Application(const Parts& parts);

  void draw(const platform::InputFrame& input) override;
  bool poll() override;
  [[nodiscard]] bool effects_pending() const override { return parts_.worker.pending(); }
  [[nodiscard]] bool outside_moves() const override { return parts_.worker.scale_in_use(); }
  [[nodiscard]] std::optional<std::int64_t> next_change_ms() const override;
  [[nodiscard]] bool finished() const override { return false; }  // the window is closed

  [[nodiscard]] const flow::Model& model() const { return model_; }

 private:
  void apply(flow::Intent intent);
  void cue(flow::CueKind kind);
  void take_look();
  void tell_supply();
  [[nodiscard]] std::int64_t minute() const;

  Parts parts_;
  flow::Model model_;
  screens::Scratch scratch_;
  std::vector<touch::Flash> flashes_;  // for the next frame
  std::int64_t minute_;                // last one the model was told of
};

}  // namespace ligule::program
