// A disk that fails under the whole touch program: what a person sees, and that the value is not
// lost.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cerrno>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

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
        Way{EROFS, kWriting, "the disk failed"}}) {
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

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::vector<std::string> names_in(const std::string& folder) {
  std::vector<std::string> names;
  for (const auto& each : std::filesystem::directory_iterator(folder))
    names.push_back(each.path().filename().string());
  return names;
}

// Day's end's copy, on a stick that is pulled out at one of its calls, full, or locked.
TEST(FailingTablet, SaysWhyACopyFailedGoesOnAndCopiesOnceTheStickWorks) {
  const InventedSite site;
  site.enrol();
  const std::string stick = site.file("media/STICK");
  std::filesystem::create_directories(stick);
  const program_test::Variable media("LIGULE_MEDIA", site.file("media"));
  LiveTablet tablet(site, {1280, 800}, 189, true);
  ASSERT_EQ(tablet.play(on_the_card("tap \"Stand/80\"\n")), "");
  struct Way {
    Fault fault;
    const char* mend;
  };
  const char* const pulled_out = "put it in again, or take another one";
  bool half_there = false;
  for (const Way& way : {Way{{ENODEV, kEverything, 1, true}, pulled_out},
                         Way{{ENODEV, kEverything, 4, true}, pulled_out},
                         Way{{ENODEV, kEverything, 7, true}, pulled_out},
                         Way{{ENOSPC, kNeedsRoom, 1, true}, "free some space, then try again"},
                         Way{{ENOSPC, {Call::kWrite}, 1, true}, "free some space, then try again"},
                         Way{{EROFS, kWriting, 1, true}, "take off the write protection"}}) {
    SCOPED_TRACE(std::string(way.mend) + ", call " + std::to_string(way.fault.at));
    ASSERT_EQ(tablet.play("tap \"Back\"\ntap \"Day's end\"\ntap \"Seal the day\"\n"
                          "expect \"Sealed and read back\"\n"),
              "");
    {
      const FailingDisk disk(stick, way.fault);
      const std::string told = std::string("expect \"").append(way.mend).append("\"\n");
      EXPECT_EQ(tablet.play("tap \"Copy to STICK\"\nexpect \"Not copied to STICK\"\n" + told), "");
      EXPECT_GT(disk.failed(), 0U);
      EXPECT_EQ(tablet.play("tap \"Copy to STICK\"\n" + told), "") << "it fails still";
    }
    for (const std::string& name : names_in(stick)) half_there |= !name.ends_with(".zip");
    EXPECT_EQ(tablet.play("tap \"Copy to STICK\"\nexpect \"Copied to STICK and read back\"\n"), "");
    // The program goes on.
    ASSERT_EQ(tablet.play("tap \"Back\"\ntap \"Today/STAND/2026-stand/Go on\"\n"
                          "tap \"Stand/75\"\n"),
              "");
  }
  EXPECT_TRUE(half_there) << "no stick was pulled out in the middle of a copy";
  const auto sealed = names_in(site.file("season-files"));
  EXPECT_EQ(sealed.size(), 6U);
  for (const std::string& name : sealed)
    EXPECT_EQ(bytes_of(std::filesystem::path(stick) / name),
              bytes_of(std::filesystem::path(site.file("season-files")) / name));
  EXPECT_EQ(site.kept().size(), 7U);
}

}  // namespace
}  // namespace ligule::faults
