// What a person sees when the ledger can't keep a value.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

// Fails the calls of these numbers, counted from 1.
work::AppendCall failing(std::set<int> which) {
  return [which = std::move(which), call = 0](ledger::Ledger& ledger,
                                              std::vector<Record> records) mutable -> Result<void> {
    if (which.contains(++call))
      return fail(ErrorKind::kIo, "no space is left where the ledger lies", {}, "make room");
    return work::plain_append()(ledger, std::move(records));
  };
}

// The value of a widget in a list file; "none" when there is no such widget.
std::string listed(const std::string& file, std::string_view group, std::string_view label) {
  std::ifstream in(file);
  for (const auto& widget : nlohmann::json::parse(in)) {
    if (widget["group"] == group && widget["label"] == label) return widget["value"];
  }
  return "none";
}

class NotSaved : public testing::Test {
 protected:
  // Signs in (call 1), keeps 101 (call 2), fails on 102 (call 3).
  Ran play(const std::string& then) {
    return run(site_.drive("type \"AB\\n\"\ntap \"Today/STAND/2026-stand/Rate\"\n"
                           "tap \"Stake/101\"\ntap \"Stand/80\"\ntap \"Stand/70\"\n"
                           "expect \"NOT SAVED\"\nexpect \"Plots 102.\"\nlist " +
                           site_.file("failed.json") + "\n" + then),
               failing({3}));
  }

  void SetUp() override { site_.enrol(); }
  InventedSite site_;
};

// Proves: the screen returns to the plot with its value, and nothing is said to be kept.
TEST_F(NotSaved, TheScreenReturnsToThePlotWithItsValue) {
  const Ran ran = play("");
  EXPECT_EQ(ran.errors, "");
  const std::string file = site_.file("failed.json");
  EXPECT_NE(listed(file, "Rate", "102"), "none") << "the card is that of plot 102";
  EXPECT_EQ(site_.kept(), (std::map<std::string, std::string>{{"101", "80"}}));
}

TEST_F(NotSaved, SavingAgainKeepsTheValue) {
  const Ran ran = play("tap \"Save again\"\nlist " + site_.file("again.json") +
                       "\ntap \"Rate/lane/103\"\ntap \"Stand/65\"\n");
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(listed(site_.file("again.json"), "Rate/lane", "102"), "kept");
  const auto kept = site_.kept();
  EXPECT_EQ(kept.at("102"), "70");
  EXPECT_EQ(kept.at("103"), "65");
  const auto ledger = need(ledger::Ledger::open(site_.ledger()));
  EXPECT_TRUE(need(ledger.check()).empty());
}

TEST_F(NotSaved, LettingItGoShowsWhatTheLedgerHolds) {
  const Ran ran = play("tap \"Let them go\"\nlist " + site_.file("let.json") + "\n");
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(listed(site_.file("let.json"), "Rate/lane", "102"), "open");
  EXPECT_EQ(site_.kept().size(), 1U);
}

// Proves: a ledger that fails again says so again, and loses nothing.
TEST_F(NotSaved, FailingAgainStaysNotSaved) {
  const Ran ran = run(site_.drive("type \"AB\\n\"\ntap \"Today/STAND/2026-stand/Rate\"\n"
                                  "tap \"Stake/101\"\ntap \"Stand/80\"\nexpect \"NOT SAVED\"\n"
                                  "tap \"Save again\"\nexpect \"NOT SAVED\"\n"
                                  "tap \"Save again\"\n"),
                      failing({2, 3}));
  EXPECT_EQ(ran.errors, "");
  EXPECT_EQ(site_.kept(), (std::map<std::string, std::string>{{"101", "80"}}));
}

}  // namespace
}  // namespace ligule::program_test
