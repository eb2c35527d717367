// The whole touch program in this process, on an invented site's ledger, for what a drive file
// cannot do: turning the glass, counting frames.
#pragma once

#include <memory>
#include <string_view>

#include "app/platform/loop.h"
#include "app/program/application.h"
#include "app/program/station.h"
#include "tests/app/program/invented_site.h"

namespace ligule::program_test {

class LiveTablet {
 public:
  // Headless on a glass of that size and dots per inch. still: time moves only as a drive file lets
  // it. append: how records reach the ledger. Sticks, ports and plans are found as the program
  // finds them.
  LiveTablet(const InventedSite& site, platform::Size size, double ppi, bool still,
             work::AppendCall append = work::plain_append());
  LiveTablet(const LiveTablet&) = delete;
  LiveTablet& operator=(const LiveTablet&) = delete;
  LiveTablet(LiveTablet&&) = delete;
  LiveTablet& operator=(LiveTablet&&) = delete;
  ~LiveTablet();

  // Lines of a drive file; an action that can't be done gives its words, else nothing.
  [[nodiscard]] std::string play(std::string_view lines);
  [[nodiscard]] platform::Window& window() { return *window_; }
  [[nodiscard]] platform::Loop& loop() { return *loop_; }
  [[nodiscard]] platform::Clock& clock() { return *station_.clock; }
  [[nodiscard]] const touch::Register& seen() const { return ui_->seen(); }
  [[nodiscard]] const flow::Model& model() const { return application_->model(); }
  // Whether effects are still to come back.
  [[nodiscard]] bool at_work() const { return worker_->pending(); }

 private:
  std::unique_ptr<files::FileSystem> files_;
  program::Station station_;
  std::unique_ptr<platform::Window> window_;
  program::Languages languages_;
  std::unique_ptr<work::Worker> worker_;
  std::unique_ptr<touch::Ui> ui_;
  platform::Sound sound_{true};
  std::unique_ptr<program::Application> application_;
  std::unique_ptr<platform::Loop> loop_;
};

}  // namespace ligule::program_test
