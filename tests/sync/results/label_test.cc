#include "sync/results/label.h"

#include <gtest/gtest.h>

#include <future>
#include <string>
#include <vector>

namespace ligule::results {
namespace {

TEST(Label, IsItsText) {
  const std::string text = "tall fescue";
  const Label label(text);
  EXPECT_EQ(label, text);
  EXPECT_EQ(label, "tall fescue");
  EXPECT_FALSE(label == "tall");
  EXPECT_EQ(std::string(label), text);
  EXPECT_EQ(Label(), "");
  EXPECT_TRUE(Label("").empty());
  EXPECT_EQ(Label(""), Label());
}

TEST(Label, EqualOnesAreOneAndOthersStandByByte) {
  EXPECT_EQ(Label("A"), Label(std::string("A")));
  EXPECT_EQ(&Label("A").text(), &Label(std::string("A")).text());
  EXPECT_NE(Label("A"), Label("a"));
  EXPECT_LT(Label("10"), Label("2"));
  EXPECT_LT(Label(), Label("2"));
}

TEST(Label, MayBeMadeOnSeveralThreads) {
  const auto make = [] {
    std::vector<Label> labels;
    for (int i = 0; i < 2000; ++i) labels.emplace_back("made " + std::to_string(i));
    return labels;
  };
  auto other = std::async(std::launch::async, make);
  const std::vector<Label> own = make();
  EXPECT_EQ(own, other.get());
}

}  // namespace
}  // namespace ligule::results
