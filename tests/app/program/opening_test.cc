// The window while the ledger is opened.
#include "app/program/opening.h"

#include <gtest/gtest.h>

#include <future>
#include <thread>

#include "app/platform/loop.h"
#include "storage/files/words.h"
#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

TEST(Opening, SaysOneMomentUntilTheLedgerIsOpen) {
  platform::WindowOptions options;
  options.headless = true;
  const auto window = need(platform::Window::open(options));
  touch::Ui ui(*window, touch::Look{});
  platform::RealClock clock;
  const auto files = files::real_file_system();
  const screens::Language english(
      files::load_words(*files, LIGULE_SOURCE_ASSETS, "en").value().texts);
  std::atomic<bool> opened = false;
  program::Opening page(ui, clock, english, opened);
  platform::Loop loop(*window, page, clock);

  ASSERT_TRUE(loop.turn().value_or(false));  // a frame at once
  EXPECT_TRUE(touch::shows(ui.seen(), "One moment"));
  EXPECT_FALSE(page.finished());

  const auto opening = std::async(std::launch::async, [&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(30));
    opened = true;
    platform::Window::wake();
  });
  EXPECT_TRUE(loop.run());  // ends by itself
  EXPECT_TRUE(page.finished());
  EXPECT_LE(loop.frames(), 3) << "it stands still while it waits";
}

}  // namespace
}  // namespace ligule::program_test
