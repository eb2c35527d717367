// A screen that calls the drawing library itself would draw keys that no list, no drive file and no
// geometry check knows of.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <string>
#include <vector>

namespace ligule::touch_test {
namespace {

// What a screen's source may not hold: the drawing library's headers or any call into it.
std::vector<std::string> raw_uses(const std::string& source) {
  static const std::regex kRaw(
      R"(ImGui::\w+|#\s*include\s*[<"]imgui[^>"]*[>"]|\bIm(?:DrawList|Vec2|Vec4|Font)\b|#\s*include\s*[<"]SDL[^>"]*[>"])");
  std::vector<std::string> found;
  for (std::sregex_iterator at(source.begin(), source.end(), kRaw), end; at != end; ++at)
    found.push_back(at->str());
  return found;
}

TEST(RawWidgets, AreRecognised) {
  EXPECT_THAT(raw_uses("if (ImGui::Button(\"x\")) {}\nImGui::SmallButton(a);\n"
                       "#include <imgui.h>\n#include \"SDL.h\"\nImDrawList* l;"),
              testing::SizeIs(5));
  EXPECT_THAT(raw_uses("touch::key(ui, rect, {.label = \"x\"}); // ImGuiX"), testing::IsEmpty());
}

TEST(RawWidgets, NoScreenUsesThem) {
  const auto screens = std::filesystem::path(LIGULE_TEST_DATA).parent_path() / "app" / "screens";
  if (!std::filesystem::exists(screens)) GTEST_SKIP() << "SKIPPED: no screens in this tree";
  for (const auto& file : std::filesystem::recursive_directory_iterator(screens)) {
    if (file.path().extension() != ".cc" && file.path().extension() != ".h") continue;
    std::ifstream in(file.path());
    EXPECT_THAT(raw_uses({std::istreambuf_iterator<char>(in), {}}), testing::IsEmpty())
        << file.path();
  }
}

}  // namespace
}  // namespace ligule::touch_test
