// The code of the tablet's key, read from the program's own pictures by zbarimg (Debian
// zbar-tools), which knows nothing of us.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>

#include "sync/seal/keys.h"
#include "tests/app/program/invented_site.h"

namespace ligule::program_test {
namespace {

std::string output_of(const std::string& command) {
  std::string text;
  FILE* const pipe = popen(command.c_str(), "r");  // NOLINT(cert-env33-c): a tool by its name
  if (pipe == nullptr) return text;
  std::array<char, 512> piece{};
  while (std::fgets(piece.data(), static_cast<int>(piece.size()), pipe) != nullptr)
    text += piece.data();
  pclose(pipe);
  return text;
}

TEST(KeyCode, IsReadFromTheGlassAtEverySizeInBothThemes) {
  if (output_of("command -v zbarimg").empty())
    GTEST_SKIP() << "SKIPPED: zbarimg is not installed, no code was read";
  const InventedSite site;
  site.enrol();
  const auto stream = need(ledger::Ledger::open(site.ledger())).my_stream();
  ASSERT_TRUE(stream);
  const std::string expected = seal::key_line(stream->public_key, stream->device) + "\n";
  struct Glass {
    platform::Size size;
    double ppi;
  };
  const auto play = [&](const Glass& glass, const std::string& lines) {
    program::Arguments arguments =
        site.drive("type \"AB\\n\"\nexpect \"Today\"\ntap \"Today/Tablet\"\n" + lines);
    arguments.size = glass.size;
    arguments.ppi = glass.ppi;
    return run(arguments).errors;
  };
  const std::string picture = site.file("code.png");
  for (const std::string theme : {"Paper", "Dusk"}) {
    // The tablet's, and remembered.
    ASSERT_EQ(play({{1280, 800}, 189}, "tap \"Colors/" + theme + "\"\n"), "");
    for (const Glass& glass :
         {Glass{{1280, 800}, 189}, Glass{{800, 1280}, 189}, Glass{{1920, 1200}, 226},
          Glass{{1200, 1920}, 226}, Glass{{2160, 1440}, 216}, Glass{{1440, 2160}, 216}}) {
      // How far down the sheet it stands depends on the glass.
      std::string errors = "not run";
      std::string swipes;
      for (int n = 0; n < 4 && !errors.empty(); ++n, swipes += "swipe up\n")
        errors = play(glass, swipes + "tap \"Tablet/Code\"\nexpect \"The desk scans\"\nshot \"" +
                                 picture + "\"\n");
      ASSERT_EQ(errors, "");
      EXPECT_EQ(output_of("zbarimg --quiet --raw '" + picture + "' 2>/dev/null"), expected)
          << glass.size.width << " " << theme;
      std::filesystem::remove(picture);
    }
  }
}

}  // namespace
}  // namespace ligule::program_test
