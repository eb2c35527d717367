// The codes of printed labels, drawn by rsvg-convert and read by zbarimg (Debian librsvg2-bin and
// zbar-tools), which know nothing of us, and by the program's own reader of their text.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>

#include "storage/trial/stake_code.h"
#include "sync/print/label_sheets.h"
#include "sync/print/square_code.h"
#include "tests/storage/files/faulty_file_system.h"
#include "tests/sync/print/planted.h"

namespace ligule::print {
namespace {

std::string said_by(const std::string& command) {
  std::string text;
  FILE* const pipe = popen(command.c_str(), "r");  // NOLINT(cert-env33-c): a tool by its name
  if (pipe == nullptr) return text;
  std::array<char, 512> piece{};
  while (std::fgets(piece.data(), static_cast<int>(piece.size()), pipe) != nullptr)
    text += piece.data();
  pclose(pipe);
  return text;
}

// The drawings of a page, each as a file of its own would hold it.
std::vector<std::string> drawings(const std::string& page) {
  std::vector<std::string> found;
  for (auto at = page.find("<svg "); at != std::string::npos; at = page.find("<svg ", at + 1)) {
    std::string one = page.substr(at, page.find("</svg>", at) + 6 - at);
    found.push_back(one.insert(5, "xmlns=\"http://www.w3.org/2000/svg\" "));
  }
  return found;
}

TEST(LabelCodes, AreReadAsTheTabletTakesThem) {
  if (said_by("command -v zbarimg").empty() || said_by("command -v rsvg-convert").empty())
    GTEST_SKIP() << "SKIPPED: zbarimg or rsvg-convert is not installed, no code was read";
  const files::TestFolder folder;
  const std::string drawn = (folder / "code.svg").string();
  const std::string picture = (folder / "code.png").string();
  for (const char* const trial : {"TF24", "a.long-trial_code"}) {
    Plan plan = planted();
    plan.codes.trial = trial;
    const auto made = label_sheets(plan, sown(plan), {});
    ASSERT_TRUE(made);
    const std::vector<std::string> codes = drawings(made->page);
    const std::vector<PlanPlot> along = plan.along_path();
    ASSERT_EQ(codes.size(), along.size());
    for (std::size_t i = 0; i < codes.size(); ++i) {
      std::ofstream(drawn) << codes[i];
      // As at 8 dots a millimetre of a label of usual size.
      static_cast<void>(
          said_by("rsvg-convert --width 224 --output '" + picture + "' '" + drawn + "'"));
      const std::string read = said_by("zbarimg --quiet --raw '" + picture + "' 2>/dev/null");
      EXPECT_EQ(read, stake_text(trial, along[i].number) + "\n");
      EXPECT_EQ(parse_stake_text(read.substr(0, read.size() - 1)),
                (StakeCode{trial, along[i].number}));
    }
  }
}

// ISO/IEC 18004 (from memory): version 1 has 21 modules and at level Q takes 16 letters of the
// alphanumeric set (0-9 A-Z and nine signs, the stroke among them), version 2 has 25.
TEST(SquareCodes, AreAsSmallAsTheirStandardAllows) {
  EXPECT_EQ(square_code("TF24/107").value().side, 21U);
  EXPECT_EQ(square_code(std::string(14, 'A') + "/1").value().side, 21U);
  EXPECT_EQ(square_code(std::string(15, 'A') + "/1").value().side, 25U);
  EXPECT_EQ(square_code("").error().kind, ErrorKind::kInvalid);
  EXPECT_EQ(square_code(std::string(8000, 'x')).error().kind, ErrorKind::kInvalid);
}

// The same: four light modules all around; three corners with a finder pattern of 7 dark modules.
TEST(SquareCodes, AreDrawnWithTheirQuietZone) {
  const auto code = square_code("TF24/107").value();
  const std::string drawn = svg_of(code, "TF24/107");
  EXPECT_THAT(drawn, testing::HasSubstr("viewBox=\"0 0 29 29\""));
  EXPECT_THAT(drawn, testing::HasSubstr("<rect width=\"29\" height=\"29\" fill=\"#fff\"/>"));
  EXPECT_THAT(drawn, testing::HasSubstr("d=\"M4 4h7v1h-7z"));
  EXPECT_THAT(drawn, testing::HasSubstr("M18 4h7v1h-7z"));
  EXPECT_THAT(drawn, testing::HasSubstr("M4 24h7v1h-7z"));
  EXPECT_THAT(drawn, testing::HasSubstr("aria-label=\"TF24/107\""));
}

}  // namespace
}  // namespace ligule::print
