// A disk that fails under the whole touch program: what a person sees, and that the value is not
// lost.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cerrno>

#include "tests/app/program/live_tablet.h"
#include "tests/faults/failing_disk.h"

namespace ligule::faults {
namespace {

using program_test::InventedSite;
using program_test::LiveTablet;
using program_test::need;
using program_test::on_the_card;

// The card shows the percent as given.
bool is_shown(const touch::Register& seen, const std::string& percent) {
  return std::ranges::any_of(seen.widgets, [&](const touch::Widget& widget) {
    return widget.value == percent || (widget.label == percent && widget.selected);
  });
}

TEST(FailingTablet, SaysNotSavedShowsTheValueAndKeepsItOnceTheDiskWorks) {
  const InventedSite site;
  site.enrol();
  LiveTablet tablet(site, {1280, 800}, 189, true);
  ASSERT_EQ(tablet.play(on_the_card("tap \"Stand/80\"\n")), "");
  struct Way {
    int code;
    const std::set<Call>& calls;
    const char* says;
  };
  int plot = 102;
  for (const Way& kind :
       {Way{ENOSPC, kNeedsRoom, "no space is left"}, Way{EIO, kChanges, "the disk failed"},
        Way{EROFS, kWriting, "Save again"}}) {
    const std::string number = std::to_string(plot++);
    ASSERT_EQ(tablet.play("tap \"Rate/lane/" + number + "\"\n"), "");
    {
      const FailingDisk disk(std::filesystem::path(site.ledger()).parent_path().string(),
                             {kind.code, kind.calls, 1, true});
      std::string lines = "expect \"";
      lines.append(number).append("\"\ntap \"Stand/70\"\nexpect \"NOT SAVED\"\n");
      lines.append("expect \"Plots ").append(number).append(".\"\nexpect \"").append(kind.says);
      lines.append("\"\nexpect \"").append(number).append("\"\n");
      EXPECT_EQ(tablet.play(lines), "") << kind.code;
      EXPECT_GT(disk.failed(), 0U);
      EXPECT_TRUE(is_shown(tablet.seen(), "70")) << "the value is gone from the card";
      EXPECT_EQ(tablet.play("tap \"Save again\"\nexpect \"NOT SAVED\"\n"), "")
          << "it fails still: " << kind.code;
    }
    EXPECT_EQ(tablet.play("tap \"Save again\"\nexpect \"This plot is rated\"\n"), "");
    EXPECT_EQ(site.kept()[number], "70") << kind.code;
  }
  EXPECT_TRUE(
      need(need(ledger::Ledger::open(site.ledger(), ledger::Access::kReadOnly)).check()).empty());
}

}  // namespace
}  // namespace ligule::faults
