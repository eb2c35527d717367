// The window while the ledger is opened: every page of a large one is looked at, which takes
// seconds, and whoever tapped the program's sign must see at once that it was heard.
#pragma once

#include <atomic>
#include <cstdint>
#include <optional>

#include "app/platform/app.h"
#include "app/platform/clock.h"
#include "app/screens/screens.h"
#include "app/touch/ui.h"

namespace ligule::program {

// Finished once `opened` is true; whoever sets it wakes the window.
class Opening final : public platform::App {
 public:
  // All of them must outlive it.
  Opening(touch::Ui& ui, const platform::Clock& clock, const screens::Language& words,
          const std::atomic<bool>& opened)
      : ui_(ui), clock_(clock), words_(words), opened_(opened) {}

  void draw(const platform::InputFrame& input) override;
  bool poll() override { return false; }
  [[nodiscard]] bool effects_pending() const override { return !opened_; }
  [[nodiscard]] std::optional<std::int64_t> next_change_ms() const override { return std::nullopt; }
  [[nodiscard]] bool finished() const override { return opened_; }

 private:
  touch::Ui& ui_;
  const platform::Clock& clock_;
  const screens::Language& words_;
  const std::atomic<bool>& opened_;
  screens::Scratch scratch_;
};

}  // namespace ligule::program
