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
#include "storage/files/file_system.h"
#include "storage/ledger/file_form.h"

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

// Where the ledger is copied to before it is brought to this version: beside it, under the first
// name that nothing has, or that a copy of the same records has from before (somebody went on with
// the older program since another one was made). Errors of looking there.
[[nodiscard]] Result<files::Path> copy_before(files::FileSystem& files, const files::Path& ledger,
                                              const ledger::FileForm& form);
// Copies it there as it is, read back; one that is there stays. Errors of Ledger::backup_to().
[[nodiscard]] Result<void> keep_copy(files::FileSystem& files, const files::Path& ledger,
                                     const files::Path& copy);

}  // namespace ligule::program
