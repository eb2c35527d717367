// A harvest crew at a simulated scale, and a trial whose plots they weigh: for tests that run the
// whole touch program with a scale plugged in.
#pragma once

#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <map>
#include <set>
#include <string>
#include <thread>

#include "app/work/preferences.h"
#include "tests/app/program/invented_site.h"
#include "tests/app/scale/fake_scale.h"

namespace ligule::program_test {

// Puts on the load of a plot whenever the drive has listed the screen as PLOT.json, and streams
// lines all the while.
class Crew {
 public:
  Crew(const InventedSite& site, std::map<std::string, std::string> lines)
      : site_(site), lines_(std::move(lines)), thread_([this] { work(); }) {}
  Crew(const Crew&) = delete;
  Crew& operator=(const Crew&) = delete;
  Crew(Crew&&) = delete;
  Crew& operator=(Crew&&) = delete;
  ~Crew() {
    over_ = true;
    thread_.join();
  }
  [[nodiscard]] std::string port() const { return scale_.path(); }

 private:
  void work() {
    std::string line = "S G + 0.00 kg";
    std::set<std::string> loaded;
    while (!over_) {
      for (const auto& [plot, load] : lines_) {
        if (loaded.contains(plot) || !std::filesystem::exists(site_.file(plot + ".json"))) continue;
        loaded.insert(plot);
        // The bin is empty between two plots, and a load swings before it stands.
        scale_.send("S G + 0.00 kg\r\nD G + 0.50 kg\r\n");
        line = load;
      }
      scale_.send(line + "\r\n");
      std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
  }

  const InventedSite& site_;
  std::map<std::string, std::string> lines_;
  scale::FakeScale scale_;
  std::atomic<bool> over_ = false;
  std::thread thread_;
};

inline void plug_in(const InventedSite& site, const std::string& port) {
  const auto files = files::real_file_system();
  flow::Preferences preferences;
  preferences.scale = {port, "flags_first", 9600, "8N1", 1};
  ASSERT_TRUE(work::keep_preferences(*files, work::preferences_path(site.ledger()), preferences)
                  .has_value());
}

// One entry a plot, all in one block: each plot's yield is an entry's mean.
inline Plan plots_of(const StatedLength& length, const StatedLength& width, int plots) {
  Plan plan = InventedSite::plan();
  plan.plots.resize(0);
  plan.entries.resize(static_cast<std::size_t>(plots));
  for (int n = 1; n <= plots; ++n)
    plan.plots.push_back(
        {std::to_string(100 + n), 1, plan.entries[static_cast<std::size_t>(n) - 1].code, 1, n, n});
  plan.plot_length = {"20", "ft"};
  plan.plot_width = {"20", "ft"};
  plan.swath_length = length;
  plan.swath_width = width;
  plan.bag_tare = {"30", "g"};
  plan.occasions = {{"cut-1",
                     Job::kHarvest,
                     2026,
                     1,
                     {"gross_weight", "bag_number", "sample_fresh"},
                     std::nullopt}};
  return plan;
}

inline std::string begin_harvest() {
  return "type \"AB\\n\"\ntap \"Today/STAND/cut-1/Weigh\"\ntap \"Understood\"\n"
         "type \"Mower\\n\\n\\n\"\n";
}

}  // namespace ligule::program_test
