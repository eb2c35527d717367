#include "tests/app/screens/glass.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>

namespace ligule::screens::tests {

Glass::Glass(const Device& device, const touch::Look& look) {
  platform::WindowOptions options;
  options.headless = true;
  options.size = device.size;
  options.ppi = device.ppi;
  auto window = platform::Window::open(options);
  if (!window) {
    ADD_FAILURE() << one_line(window.error());
    std::abort();
  }
  window_ = std::move(*window);
  ui_ = std::make_unique<touch::Ui>(*window_, look);
}

void Glass::frame(const platform::InputFrame& input, const Draw& draw) {
  now_ms_ += 16;
  if (!window_->begin_frame(input, 0.016)) {
    ADD_FAILURE() << one_line(window_->error());
    std::abort();
  }
  ui_->begin(input, now_ms_);
  draw(*ui_);
  ui_->end();
  window_->end_frame();
}

const touch::Register& Glass::show(const Draw& draw) {
  last_ = draw;
  for (int n = 0; n < 6; ++n) {
    frame({}, draw);
    const auto next = ui_->next_change_ms();
    if (n > 1 && (!next || *next > now_ms_)) break;
  }
  return ui_->seen();
}

void Glass::tap(std::string_view label, const Draw& draw) {
  show(draw);
  now_ms_ += touch::kUnreadMs;  // a panel answers whoever could have read it
  const auto found = touch::find(ui_->seen(), label);
  ASSERT_EQ(found.size(), 1U) << "tap \"" << label << "\"";
  const touch::Point at = touch::visible_part(*found.front()).centre();
  platform::InputFrame down;
  down.touching = true;
  down.pressed = true;
  down.position = at;
  down.path = {at};
  frame(down, draw);
  platform::InputFrame up;
  up.released = true;
  up.position = at;
  up.path = {at};
  frame(up, draw);
}

const platform::Picture& Glass::picture() {
  window_->keep_picture(true);
  frame({}, last_);
  window_->keep_picture(false);
  return window_->picture();
}

void Glass::save(const std::string& name) {
  const char* const wanted = std::getenv("LIGULE_PICTURES");  // NOLINT(concurrency-mt-unsafe)
  if (wanted == nullptr) return;
  const std::filesystem::path folder = std::filesystem::path(LIGULE_BUILD_DIR) / "pictures";
  std::filesystem::create_directories(folder);
  const auto written = platform::write_png(folder / (name + ".png"), picture());
  ASSERT_TRUE(written) << one_line(written.error());
}

}  // namespace ligule::screens::tests
