// How long a frame takes to build and to draw, against a bare frame of the drawing library, and how
// many frames are drawn while nothing happens; and how often a frame asks for memory.
//
// tests/bench/report.py pairs X with X:peer. The peer draws as many plain buttons as our screen has
// widgets, with the same window, fonts and rasteriser: what it costs is what any screen of that
// many keys must cost.
#include <benchmark/benchmark.h>
#include <imgui.h>

#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <new>
#include <thread>

#include "app/screens/screens.h"
#include "tests/app/program/live_tablet.h"
#include "tests/app/screens/sample_views.h"

namespace {

// By this program's own code and by the drawing library.
std::atomic<std::int64_t> allocations = 0;

void* counted(std::size_t size) {
  ++allocations;
  return std::malloc(size);  // NOLINT(cppcoreguidelines-no-malloc)
}

}  // namespace

void* operator new(std::size_t size) {
  if (void* const memory = counted(size)) return memory;
  throw std::bad_alloc();
}
void operator delete(void* memory) noexcept {
  std::free(memory);  // NOLINT(cppcoreguidelines-no-malloc)
}
void operator delete(void* memory, std::size_t /*size*/) noexcept {
  std::free(memory);  // NOLINT(cppcoreguidelines-no-malloc)
}

namespace {

using namespace ligule;
using Clock = std::chrono::steady_clock;

constexpr platform::Size kGlass{1920, 1200};
constexpr double kPpi = 226;

std::unique_ptr<platform::Window> window() {
  platform::WindowOptions options;
  options.headless = true;
  options.size = kGlass;
  options.ppi = kPpi;
  return program_test::need(platform::Window::open(options));
}

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

enum class Part { kBuild, kWhole };  // up to the triangles, or with their pixels

// Frames of one screen, by what draws it.
template <class Draw>
void frames(benchmark::State& state, platform::Window& glass, Part part, const Draw& draw) {
  std::int64_t asked = 0;
  for (auto _ : state) {
    const std::int64_t before = allocations;
    const auto start = Clock::now();
    if (!glass.begin_frame({}, 0.016)) state.SkipWithError(one_line(glass.error()).c_str());
    draw();
    const double built = seconds_since(start);
    asked += allocations - before;
    glass.keep_picture(part == Part::kWhole);
    glass.end_frame();
    state.SetIterationTime(part == Part::kBuild ? built : seconds_since(start));
  }
  state.counters["allocations"] =
      benchmark::Counter(static_cast<double>(asked), benchmark::Counter::kAvgIterations);
}

flow::View screen(const std::string& name) {
  if (name == "rate") return screens::tests::sample_rate(0);
  if (name == "review") return screens::tests::review_stand();
  return screens::tests::busy_today();
}

void ours(benchmark::State& state, const std::string& name, Part part) {
  const auto glass = window();
  touch::Ui ui(*glass, touch::Look{});
  screens::Scratch scratch;
  const flow::View view = screen(name);
  std::vector<flow::Intent> out;
  std::int64_t now = 0;
  const auto draw = [&] {
    ui.begin({}, now += 16);
    screens::draw(ui, screens::tests::english(), view, {}, scratch, out);
    ui.end();
  };
  // The first frames build fonts and learn sizes.
  for (int n = 0; n < 6 && glass->begin_frame({}, 0.016); ++n) {
    draw();
    glass->end_frame();
  }
  frames(state, *glass, part, draw);
  state.counters["widgets"] = static_cast<double>(ui.seen().widgets.size());
}

// As many keys as the screen of that name has widgets.
std::size_t widgets_of(const std::string& name) {
  const auto glass = window();
  touch::Ui ui(*glass, touch::Look{});
  screens::Scratch scratch;
  std::vector<flow::Intent> out;
  const flow::View view = screen(name);
  for (std::int64_t n = 1; n <= 6 && glass->begin_frame({}, 0.016); ++n) {
    ui.begin({}, 16 * n);
    screens::draw(ui, screens::tests::english(), view, {}, scratch, out);
    ui.end();
    glass->end_frame();
  }
  return ui.seen().widgets.size();
}

void bare(benchmark::State& state, const std::string& name, Part part) {
  const std::size_t keys = widgets_of(name);
  const auto glass = window();
  std::vector<std::string> labels;
  labels.reserve(keys);
  for (std::size_t n = 0; n < keys; ++n) labels.push_back(std::to_string(n));
  const auto columns =
      std::max<std::size_t>(1, static_cast<std::size_t>(std::sqrt(static_cast<double>(keys))));
  const ImVec2 key{static_cast<float>(kGlass.width) / static_cast<float>(columns) - 12, 90};
  const auto draw = [&] {
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize({static_cast<float>(kGlass.width), static_cast<float>(kGlass.height)});
    ImGui::Begin("keys", nullptr, ImGuiWindowFlags_NoDecoration);
    for (std::size_t n = 0; n < keys; ++n) {
      if (n % columns != 0) ImGui::SameLine();
      ImGui::Button(labels[n].c_str(), key);
    }
    ImGui::End();
  };
  frames(state, *glass, part, draw);
  state.counters["widgets"] = static_cast<double>(keys);
}

// The real program in a real ledger, left alone on the screen that some lines of a drive file lead
// to: frames in a second of the machine's own time. The clock on the screen may ask for one a
// minute.
void idle(benchmark::State& state, const std::string& lines) {
  const program_test::InventedSite site;
  site.enrol();
  program_test::LiveTablet tablet(site, kGlass, kPpi, false);
  if (const std::string fault = tablet.play(lines); !fault.empty())
    state.SkipWithError(fault.c_str());
  for (int n = 0; n < 20; ++n) {  // start, and whatever the first second still shows
    if (!tablet.loop().settle(5000)) state.SkipWithError("the program does not come to rest");
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  std::int64_t drawn = 0;
  for (auto _ : state) {
    const std::int64_t before = tablet.loop().frames();
    const auto start = Clock::now();
    while (seconds_since(start) < 1) {
      if (!tablet.loop().turn()) state.SkipWithError("the program stopped drawing");
      tablet.window().wait(20);
    }
    state.SetIterationTime(seconds_since(start));
    drawn += tablet.loop().frames() - before;
  }
  state.counters["frames"] =
      benchmark::Counter(static_cast<double>(drawn), benchmark::Counter::kIsRate);
}

void add(const std::string& name) {
  for (const auto& [part, title] :
       {std::pair{Part::kBuild, "build"}, std::pair{Part::kWhole, "draw"}}) {
    const std::string full = std::string("frame/") + title + "/" + name;
    benchmark::RegisterBenchmark(full.c_str(), [name, part](auto& state) {
      ours(state, name, part);
    })->UseManualTime();
    benchmark::RegisterBenchmark((full + ":peer").c_str(), [name, part](auto& state) {
      bare(state, name, part);
    })->UseManualTime();
  }
}

}  // namespace

int main(int count, char** words) {
  for (const char* name : {"today", "rate", "review"}) add(name);
  const std::string today = "type \"AB\\n\"\nexpect \"Today\"\n";
  const std::string rating = "tap \"STAND/2026-stand/Rate\"\ntap \"Stake/101\"\n";
  for (const auto& [name, more] : {std::pair<const char*, std::string>{"today", ""},
                                   {"rate", rating},
                                   {"review", "tap \"Review\"\n"},
                                   {"days_end", "tap \"Day's end\"\n"},
                                   {"trials", "tap \"Trials\"\n"},
                                   {"tablet", "tap \"Tablet\"\n"}}) {
    const std::string lines = today + more;
    benchmark::RegisterBenchmark((std::string("idle/") + name).c_str(),
                                 [lines](auto& state) { idle(state, lines); })
        ->UseManualTime()
        ->Iterations(3);
  }
  ImGui::SetAllocatorFunctions([](std::size_t size, void*) { return counted(size); },
                               [](void* memory, void*) { std::free(memory); });  // NOLINT
  benchmark::Initialize(&count, words);
  if (benchmark::ReportUnrecognizedArguments(count, words)) return 2;
  benchmark::RunSpecifiedBenchmarks();
}
