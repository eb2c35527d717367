// Random taps from every screen, while commits take their time and one in fifty fails: the program
// stands, and no value is lost or shown as kept before it is.
//
// LIGULE_TAPS: how many taps (5,000 without it). LIGULE_SEED: another seed.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <iostream>
#include <optional>
#include <variant>

#include "storage/trial/number.h"
#include "tests/faults/monkey.h"

namespace ligule::faults {
namespace {

std::int64_t number_said(const char* variable, std::int64_t otherwise) {
  const char* const said = std::getenv(variable);  // NOLINT(concurrency-mt-unsafe)
  const auto number = said == nullptr ? std::optional<std::int64_t>() : parse_integer(said).value();
  return number.value_or(otherwise);
}

#define LIGULE_AB "type \"AB\\n\"\nexpect \"Today\"\n"
#define LIGULE_CARD LIGULE_AB "tap \"Today/STAND/2026-stand/Rate\"\ntap \"Stake/101\"\n"
#define LIGULE_MOWER                                                                        \
  LIGULE_AB                                                                                 \
  "swipe up\ntap \"Today/STAND/cut-1/Weigh\"\ntap \"Understood\"\ntype \"Mower\\n3 ft\\n4 " \
  "in\\n\"\n"

#define LIGULE_DRY                                                                         \
  LIGULE_MOWER                                                                             \
  "tap \"Stake/101\"\ntype \"17.5\\n0.5\\n1\\n300\\n\"\ntap \"Back\"\ntap \"Stop here\"\n" \
  "tap \"Dry weights\"\ntap \"Understood\"\n"

// Each kind of screen that the program has, and pages of them that lie far from it.
constexpr Start kStarts[] = {
    {"sign in", "expect \"Who has the tablet?\"\n"},
    {"today", LIGULE_AB},
    {"rate", LIGULE_CARD},
    {"pads of several numbers",
     LIGULE_AB "tap \"Today/STAND/2026-more/Rate\"\ntap \"Stake/101\"\n"},
    {"note", LIGULE_CARD "tap \"Note\"\n"},
    {"locked", LIGULE_CARD "tap \"Lock\"\n"},
    {"hand over", LIGULE_CARD "tap \"Stand/80\"\ntap \"Hand over/AB\"\n"},
    {"run's head", LIGULE_AB "swipe up\ntap \"Today/STAND/cut-1/Weigh\"\ntap \"Understood\"\n"},
    {"harvest", LIGULE_MOWER "tap \"Stake/101\"\n"},
    {"harvest with a scale", LIGULE_MOWER "tap \"Stake/101\"\n", true},
    {"dry weights", LIGULE_DRY},
    {"samples", LIGULE_DRY "tap \"Sort/Sort\"\n"},
    {"review", LIGULE_CARD "tap \"Stand/80\"\ntap \"Back\"\ntap \"Review\"\n"},
    {"slide", LIGULE_CARD "tap \"Stand/80\"\ntap \"Back\"\ntap \"Review\"\ntap \"Review/Slide\"\n"},
    {"trials", LIGULE_AB "tap \"Trials\"\n"},
    {"a trial", LIGULE_AB "tap \"Trials\"\ntap \"STAND/Open\"\ntap \"Plots/102\"\n"},
    {"an event", LIGULE_AB "tap \"Trials\"\ntap \"STAND/Open\"\ntap \"Tab/Events\"\n"
                           "tap \"Write down an event\"\n"},
    {"a stick", LIGULE_AB "tap \"Trials\"\ntap \"From a stick or card\"\n"},
    {"day's end", LIGULE_CARD "tap \"Stand/80\"\ntap \"Back\"\ntap \"Day's end\"\n"},
    {"tablet", LIGULE_AB "tap \"Tablet\"\n"},
    {"practice", LIGULE_AB "tap \"Tablet\"\ntap \"Practice\"\n"},
};

TEST(Monkey, NothingIsLostWhateverIsTapped) {
  const std::int64_t taps = number_said("LIGULE_TAPS", 5'000);
  const auto seed = static_cast<std::uint64_t>(number_said("LIGULE_SEED", 20261128));
  const std::int64_t rounds = std::max<std::int64_t>(1, taps / 5'000);
  const auto each = static_cast<int>(taps / rounds / std::ssize(kStarts) + 1);
  Monkey::Counts all;
  std::uint64_t n = seed;
  for (std::int64_t round = 0; round < rounds; ++round) {
    for (const Start& start : kStarts) {
      Monkey monkey(start, n++);
      ASSERT_EQ(monkey.play(each), "");
      ASSERT_EQ(monkey.end(), "");
      const Monkey::Counts counts = monkey.counts();
      all.kept += counts.kept;
      all.failed += counts.failed;
      all.let_go += counts.let_go;
      all.seen_unsaved += counts.seen_unsaved;
      all.most_pending = std::max(all.most_pending, counts.most_pending);
      all.screens.insert(counts.screens.begin(), counts.screens.end());
    }
  }
  std::cout << taps << " taps from " << std::size(kStarts) << " starts, seeds from " << seed << ": "
            << all.kept << " acts kept, " << all.failed << " commits failed, " << all.let_go
            << " acts let go, " << all.most_pending << " under way at most, NOT SAVED shown in "
            << all.seen_unsaved << " looks, " << all.screens.size() << " of "
            << std::variant_size_v<flow::Screen> << " kinds of screen seen\n";
  EXPECT_GT(all.kept, static_cast<std::uint64_t>(taps / 20));
  EXPECT_GT(all.failed, 0U);
  EXPECT_GT(all.seen_unsaved, 0);
  EXPECT_GT(all.most_pending, 2U);
}

}  // namespace
}  // namespace ligule::faults
