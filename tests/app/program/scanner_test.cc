// A code reader at the whole touch program: it types a stake's code letter by letter, each drawn in
// a frame of its own, and Enter behind it. Nothing of it is ever a weight or a bag's number.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <optional>

#include "app/flow/weighing.h"
#include "tests/app/program/live_tablet.h"
#include "tests/app/program/scale_crew.h"

namespace ligule::program_test {
namespace {

using testing::IsEmpty;

std::string open_field(std::string_view field) {
  return std::string("tap \"").append(field).append("\"\n");
}

Plan bagged_plots() {
  Plan plan = plots_of({"18", "ft"}, {"3", "ft"}, 6);
  plan.occasions.front().measures = {"gross_weight", "tare_weight", "bag_number", "sample_fresh",
                                     "sample_dry"};
  return plan;
}

class Scanner : public testing::Test {
 protected:
  void start(const std::string& lines) {
    site_.enrol(bagged_plots());
    tablet_.emplace(site_, platform::Size{1280, 800}, 150, true);
    ASSERT_EQ(tablet_->play(lines), "");
  }
  void play(const std::string& lines) { EXPECT_EQ(tablet_->play(lines), "") << lines; }
  // Letter by letter, so many milliseconds apart, then Enter.
  void scan(std::string_view code, std::int64_t ms = 5) {
    const auto turn = [&] {
      while (tablet_->loop().turn().value()) {
      }
      tablet_->clock().pass(ms);
    };
    for (const char letter : code) {
      platform::Window::push_text(std::string(1, letter));
      turn();
    }
    platform::Window::push_key(platform::HardKey::kEnter);
    turn();
    play("wait 1000\n");
  }
  [[nodiscard]] std::string plot() const {
    return flow::present_plot(std::get<flow::Harvest>(tablet_->model().screen)).number;
  }
  [[nodiscard]] std::vector<Record> readings() const {
    return need(need(ledger::Ledger::open(site_.ledger(), ledger::Access::kReadOnly))
                    .of_kind(kind::kReading));
  }
  // Fields that hold something, as the glass shows them.
  [[nodiscard]] std::vector<std::string> filled() const {
    std::vector<std::string> labels;
    for (const touch::Widget& widget : tablet_->seen().widgets)
      if (widget.kind == touch::Kind::kField && !widget.value.empty())
        labels.push_back(widget.label + " " + widget.value);
    return labels;
  }

  InventedSite site_;
  std::optional<LiveTablet> tablet_;
};

TEST_F(Scanner, LeadsToItsPlotFromEveryFieldOfAWeight) {
  start(begin_harvest() + "tap \"Stake/101\"\n");
  for (const char* const field : {"Gross", "Tare", "Bag", "Sample fresh"}) {
    // A slow one, and one that knows another keyboard.
    for (const auto& [code, ms] :
         {std::pair{"STAND/103", 5}, {"STAND/103", 90}, {"STAND-103", 5}}) {
      play(open_field(field));
      scan(code, ms);
      EXPECT_EQ(plot(), "103") << field << " " << code << " " << ms;
      EXPECT_THAT(filled(), IsEmpty()) << field << " " << code << " " << ms;
      play(open_field(field));
      scan("STAND/101");
      EXPECT_EQ(plot(), "101") << field;
    }
    play(open_field(field));
    scan("ZZ99/107");
    play("expect \"of trial ZZ99\"\n");
    EXPECT_EQ(plot(), "101");
    EXPECT_THAT(filled(), IsEmpty()) << field;
  }
  EXPECT_THAT(readings(), IsEmpty());
}

TEST_F(Scanner, EntersNoDriedWeightAndNoBag) {
  start(begin_harvest() +
        "tap \"Stake/101\"\ntype \"17.5\\n0.5\\n9\\n300\\n\"\ntap \"Back\"\n"
        "tap \"Stop here\"\ntap \"Dry weights\"\ntap \"Understood\"\n");
  const std::size_t before = readings().size();
  EXPECT_GT(before, 0U);
  scan("STAND/101");
  play("type \"9\\n\"\ntype \"120\"\nwait 1000\n");
  // What stands there is not kept by the Enter behind a code.
  scan("STAND/102");
  play("expect \"does not fit here\"\n");
  EXPECT_EQ(readings().size(), before);
  play("type \"\\n\"\n");
  EXPECT_EQ(readings().size(), before + 1) << "but by one of its own";
}

TEST_F(Scanner, TakesNoLoadThatStandsOnTheScale) {
  const Crew crew(site_, {{"101", "S N +  17.40 kg"}});
  plug_in(site_, crew.port());
  start(begin_harvest() + "tap \"Stake/101\"\nlist " + site_.file("101.json") +
        "\nexpect \"Stands still\"\n");
  scan("ZZ99/107");
  play("expect \"of trial ZZ99\"\n");
  EXPECT_EQ(plot(), "101");
  scan("STAND/103");
  EXPECT_EQ(plot(), "103");
  EXPECT_THAT(readings(), IsEmpty()) << "somebody only scanned";
  scan("STAND/101");
  play("expect \"Stands still\"\ntype \"\\n\"\n");
  ASSERT_FALSE(readings().empty()) << "an Enter of its own takes it";
  EXPECT_EQ(readings().front().entered, "17.40");
}

TEST_F(Scanner, IsTheWayToAPlotWhereAnotherNumberIsTyped) {
  site_.enrol();
  tablet_.emplace(site_, platform::Size{1280, 800}, 150, true);
  play("type \"AB\\n\"\ntap \"Today/STAND/2026-stand/Rate\"\ntap \"Another number\"\n");
  scan("STAND/105");
  play("expect \"105\"\n");
  EXPECT_THAT(readings(), IsEmpty());
}

}  // namespace
}  // namespace ligule::program_test
