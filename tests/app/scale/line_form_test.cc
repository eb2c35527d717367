#include "app/scale/line_form.h"

#include <gmock/gmock.h>

#include "app/scale/load_watch.h"
#include "storage/trial/number.h"
#include "tests/app/scale/forms.h"

namespace ligule::scale {
namespace {

using ::testing::HasSubstr;

LineForm form(std::string_view code) {
  return form_named(LIGULE_SOURCE_ASSETS, code);
}

Reading reading(const Line& line) {
  const auto* const found = std::get_if<Reading>(&line);
  if (found == nullptr) {
    const auto* const garbled = std::get_if<Garbled>(&line);
    ADD_FAILURE() << "no reading: " << (garbled == nullptr ? "a limit" : garbled->why);
    return {};
  }
  return *found;
}
std::string why(const Line& line) {
  const auto* const garbled = std::get_if<Garbled>(&line);
  return garbled == nullptr ? "" : garbled->why;
}

TEST(LineForms, FlagsNumberAndUnitAreRead) {
  const Reading net = reading(read_line(form("flags_first"), "S N +   12.345 kg"));
  EXPECT_EQ(net.entered, "12.345");
  EXPECT_EQ(net.value, 12.345);
  EXPECT_EQ(net.decimals, 3);
  EXPECT_EQ(net.unit, "kg");
  EXPECT_TRUE(net.unit_said);
  EXPECT_EQ(net.stability, Stability::kStable);
  EXPECT_EQ(net.load, Load::kNet);
  EXPECT_EQ(net.raw, "S N +   12.345 kg");
  const Reading below = reading(read_line(form("flags_first"), "D G -    0.020 kg"));
  EXPECT_EQ(below.entered, "-0.020");
  EXPECT_EQ(below.stability, Stability::kMoving);
  EXPECT_EQ(below.load, Load::kGross);
}

TEST(LineForms, TheSignStandsAnywhereBeforeTheDigitsAndPaddingIsReadOver) {
  for (const std::string_view line : {"+12.40kg", "+ 12.40 kg", "  0012.40  kg ", "12.40 kg"})
    EXPECT_EQ(reading(read_line(form("number_unit"), line)).entered, "12.40") << line;
  EXPECT_EQ(reading(read_line(form("number_unit"), "000.020 lb")).entered, "0.020");
  EXPECT_EQ(reading(read_line(form("number_unit"), "- 3 lb")).value, -3);
}

// Some send no zero before the point, and its digits stand for as much as with one.
TEST(LineForms, AWeightBelowOneMayComeWithoutItsZero) {
  for (const auto& [line, value] :
       {std::pair(".412 kg", 0.412), std::pair("-.412 kg", -0.412), std::pair("  .050 kg", 0.05)}) {
    const Reading small = reading(read_line(form("number_unit"), line));
    EXPECT_EQ(small.value, value) << line;
    EXPECT_EQ(small.decimals, 3) << line;
    EXPECT_EQ(parse_number(small.entered), small.value) << line;
    EXPECT_EQ(parse_number(from_last_digits(in_last_digits(small), small.decimals)), value) << line;
  }
  EXPECT_THAT(why(read_line(form("number_unit"), ". kg")), HasSubstr("no number"));
}

TEST(LineForms, NoDigitIsLost) {
  EXPECT_EQ(reading(read_line(form("number_unit"), "0.10000000000001 kg")).entered,
            "0.10000000000001");
  EXPECT_EQ(reading(read_line(form("number_unit"), "-999999999999999 kg")).entered,
            "-999999999999999");
}

TEST(LineForms, MoreDigitsThanAWeightHasAreNoWeight) {
  for (const std::string_view line : {"0.100000000000001 kg", "1000000000000000 kg",
                                      "-1000000000000000 kg", "999999999999999999999999999999 kg"})
    EXPECT_THAT(why(read_line(form("number_unit"), line)), HasSubstr("more digits")) << line;
  // Zeros in front say nothing.
  EXPECT_EQ(reading(read_line(form("number_unit"), "00000000000000000012.40 kg")).entered, "12.40");
}

TEST(LineForms, TheDecimalMarkIsSetAndNeverGuessed) {
  EXPECT_EQ(reading(read_line(form("number_unit_comma"), "12,40 kg")).entered, "12.40");
  for (const std::string_view line : {"1.234,5 kg", "1,234.5 kg", "12.40 kg"})
    EXPECT_THAT(why(read_line(form("number_unit_comma"), line)), HasSubstr("decimal")) << line;
  for (const std::string_view line : {"1.234.5 kg", "1,234.5 kg", "12,40 kg"})
    EXPECT_THAT(why(read_line(form("number_unit"), line)), HasSubstr("decimal")) << line;
}

TEST(LineForms, AUnitThatIsNotSaidIsMarkedSo) {
  const Reading bare = reading(read_line(form("number_lb"), " 31.5 "));
  EXPECT_EQ(bare.unit, "lb");
  EXPECT_FALSE(bare.unit_said);
}

TEST(LineForms, AWordThatIsLeftOutMayMeanStable) {
  EXPECT_EQ(reading(read_line(form("flag_last"), "12.4 kg")).stability, Stability::kStable);
  EXPECT_EQ(reading(read_line(form("flag_last"), "12.4 kg M")).stability, Stability::kMoving);
}

TEST(LineForms, LimitsAreNoReadings) {
  EXPECT_EQ(read_line(form("flags_first"), " OL "), Line(Overload{" OL "}));
  EXPECT_EQ(read_line(form("flags_first"), "UL"), Line(Underload{"UL"}));
}

TEST(LineForms, AnythingElseIsGarbledAndSaysWhy) {
  const std::pair<std::string_view, std::string_view> cases[] = {{"", "steady"},
                                                                 {"X N 12.3 kg", "steady"},
                                                                 {"S X 12.3 kg", "gross or net"},
                                                                 {"S N kg", "no number"},
                                                                 {"S N 12.3 st", "no unit"},
                                                                 {"S N 12.3", "no unit"},
                                                                 {"S N + kg", "no number"},
                                                                 {"S N 12.3 kg 4", "more stands"}};
  for (const auto& [line, words] : cases)
    EXPECT_THAT(why(read_line(form("flags_first"), line)), HasSubstr(words)) << line;
}

TEST(LineForms, EveryEntryOfTheAssetsIsReadAndHasAName) {
  for (const std::string_view code : {"number", "number_lb", "number_unit", "number_unit_comma",
                                      "flags_first", "flag_last", "asked"}) {
    EXPECT_FALSE(form(code).names.at("en").empty()) << code;
    EXPECT_FALSE(form(code).names.at("es").empty()) << code;
  }
  EXPECT_EQ(form("asked").request, "W\r\n");
  EXPECT_EQ(form("number").request, "");
}

std::string fault(const std::string& entry) {
  const auto forms = parse_line_forms("{\"indicators\":[" + entry + "]}", "own.json");
  return forms ? "" : one_line(forms.error());
}

TEST(LineForms, AFaultyEntryIsNamedWithWhatToMend) {
  const std::string head = R"({"code":"a","names":{"en":"A"},)";
  EXPECT_THAT(fault(head + R"("form":"{unit}","unit":"kg"})"),
              HasSubstr("own.json, entry a: the form \"{unit}\" has no weight"));
  EXPECT_THAT(fault(head + R"("form":"{weight}{weight}","unit":"kg"})"), HasSubstr("stands twice"));
  EXPECT_THAT(fault(head + R"("form":"{weight} {colour}","unit":"kg"})"), HasSubstr("unknown"));
  EXPECT_THAT(fault(head + R"("form":"{weight","unit":"kg"})"), HasSubstr("unknown"));
  EXPECT_THAT(fault(head + R"("form":"{weight}","unit":"stone"})"), HasSubstr("no unit of weight"));
  EXPECT_THAT(fault(head + R"("form":"{weight} {unit}","units":{"st":"stone"}})"),
              HasSubstr("no unit of weight"));
  EXPECT_THAT(fault(head + R"("form":"{weight}"})"), HasSubstr("would have a unit"));
  EXPECT_THAT(fault(head + R"("form":"{weight}","unit":"kg","decimal":";"})"),
              HasSubstr("decimal"));
  EXPECT_THAT(
      fault(head + R"("form":"{stability}{weight}","unit":"kg","stability":{"S":"steady"}})"),
      HasSubstr("not known"));
  EXPECT_THAT(fault(head + R"("form":"{load}{weight}","unit":"kg","load":{"S":"steady"}})"),
              HasSubstr("not known"));
  EXPECT_THAT(fault(R"({"names":{"en":"A"}})"), HasSubstr("not a file of line forms"));
  EXPECT_THAT(fault(R"({"code":"a","names":{"es":"A"},"form":"{weight}","unit":"kg"})"),
              HasSubstr("there is no English one"));
  const std::string good = head + R"("form":"{weight}","unit":"kg"})";
  EXPECT_THAT(fault(good + "," + good), HasSubstr("stands twice"));
  EXPECT_EQ(fault(good), "");
}

}  // namespace
}  // namespace ligule::scale
