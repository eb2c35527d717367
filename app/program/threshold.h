// What a person reads before the tablet's own screens: that its data is of an older version and
// what will be done to it, or why it can't be opened.
#pragma once

#include <optional>
#include <vector>

#include "app/platform/app.h"
#include "app/platform/clock.h"
#include "app/platform/window.h"
#include "app/program/drive.h"
#include "app/screens/before.h"
#include "app/touch/ui.h"

namespace ligule::program {

// One page with keys; finished once one was tapped.
class Threshold final : public platform::App {
 public:
  // ui and clock must outlive it.
  Threshold(touch::Ui& ui, const platform::Clock& clock, screens::BeforePage page);

  void draw(const platform::InputFrame& input) override;
  bool poll() override { return false; }
  [[nodiscard]] bool effects_pending() const override { return false; }
  [[nodiscard]] std::optional<std::int64_t> next_change_ms() const override { return std::nullopt; }
  [[nodiscard]] bool finished() const override { return tapped_.has_value(); }

  // The key that was tapped, by its place; empty: none was, the window was closed.
  [[nodiscard]] std::optional<std::size_t> tapped() const { return tapped_; }

 private:
  touch::Ui& ui_;
  const platform::Clock& clock_;
  screens::BeforePage page_;
  std::optional<std::size_t> tapped_;
};

}  // namespace ligule::program
