#include "tests/app/touch/bench_app.h"

#include <gtest/gtest.h>

namespace ligule::touch_test {

using platform::FingerMove;
using platform::Window;

Bench::Bench(DrawApp::Draw draw, const Glass& glass, const touch::Look& look, bool sdl_triangles,
             bool pixels) {
  platform::WindowOptions options;
  options.headless = true;
  options.size = glass.size;
  options.ppi = glass.ppi;
  options.sdl_triangles = sdl_triangles;
  auto opened = Window::open(options);
  if (!opened) throw std::runtime_error(one_line(opened.error()));
  window = std::move(*opened);
  window->keep_picture(pixels);
  app = std::make_unique<DrawApp>(*window, clock, look, std::move(draw));
  loop = std::make_unique<platform::Loop>(*window, *app, clock);
  settle();
}

void Bench::settle() {
  const auto calm = loop->settle(60'000);
  ASSERT_TRUE(calm.has_value()) << one_line(calm.error());
  ASSERT_TRUE(*calm) << "still drawing after 60 s";
}

void Bench::tap(platform::Point at) {
  Window::push_finger(FingerMove::kDown, at, window->size());
  Window::push_finger(FingerMove::kUp, at, window->size());
  settle();
}

platform::Point Bench::middle_of(const std::string& label) {
  const auto found = touch::find(seen(), label);
  EXPECT_EQ(found.size(), 1U) << label;
  return found.empty() ? platform::Point{} : touch::visible_part(*found.front()).centre();
}

}  // namespace ligule::touch_test
