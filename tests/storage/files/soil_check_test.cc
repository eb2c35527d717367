#include "storage/files/soil_check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/files/file_system.h"
#include "storage/files/soil_tables.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::files {
namespace {

using date::year;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

// The trial was sown on 2024-09-03.
class SoilCheckOf : public testing::Test {
 protected:
  static std::vector<std::string> lines(const Faults& faults) {
    std::vector<std::string> out;
    for (const Error& fault : faults) out.push_back(one_line(fault));
    return out;
  }
  PlanFindings found() { return check_soil(plan_, tables_, {}); }
  std::vector<std::string> faults() { return lines(found().faults); }
  std::vector<std::string> notices() { return lines(found().notices); }
  // One sound row but for what a test changes.
  SoilTest& only(const char* property, const char* value, const char* unit) {
    const char* const extractant = *unit == '\0' || *unit == '%' ? "" : "mehlich_3";
    plan_.soil = {{property, value, unit, extractant, "6", "in", "the lab", year{2024} / 8 / 2}};
    return plan_.soil.front();
  }

  SoilTables tables_ = load_soil_tables(*real_file_system(), LIGULE_SOURCE_ASSETS).value();
  Plan plan_ = sample_plan();
};

TEST_F(SoilCheckOf, ASoundTestIsNotAskedAbout) {
  EXPECT_THAT(notices(), IsEmpty());  // there is none
  plan_.soil = {
      {"ph", "6.2", "", "water", "6", "in", "", year{2024} / 8 / 2},
      {"p", "41", "ppm", "mehlich_3", "6", "in", "", year{2024} / 8 / 2},
      {"p", "30", "ppm", "bray_p1", "6", "in", "", year{2024} / 8 / 2},     // another extractant,
      {"p", "20", "ppm", "mehlich_3", "12", "in", "", year{2024} / 8 / 2},  // another layer,
      {"p", "40", "ppm", "mehlich_3", "6", "in", "", year{2023} / 8 / 2},   // another day
      {"organic_matter", "3.1", "%", "", "", "", "", year{2024} / 8 / 2}};
  EXPECT_THAT(faults(), IsEmpty());
  EXPECT_THAT(notices(), IsEmpty());
}

TEST_F(SoilCheckOf, PhIsAskedAboutBeyond5And8AndRefusedBeyond3And10) {
  for (const char* usual : {"5", "8", "6.5"}) {
    only("ph", usual, "");
    EXPECT_THAT(faults(), IsEmpty()) << usual;
    EXPECT_THAT(notices(), IsEmpty()) << usual;
  }
  only("ph", "4.9", "");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("soil ph: pH of 4.9 is unusually low")));
  only("ph", "8.1", "");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("pH of 8.1 is unusually high")));
  for (const char* asked : {"3", "10"}) {
    only("ph", asked, "");
    EXPECT_THAT(faults(), IsEmpty()) << asked;
    EXPECT_THAT(notices(), SizeIs(1)) << asked;
  }
  for (const char* refused : {"2.9", "10.1"}) {
    only("ph", refused, "");
    EXPECT_THAT(faults(), ElementsAre(HasSubstr(std::string("pH of ") + refused + " cannot be")));
    EXPECT_THAT(notices(), IsEmpty()) << refused;
  }
}

TEST_F(SoilCheckOf, PoundsCalledPpmAreQuestioned) {
  only("p", "300", "ppm").extractant = "olsen";  // of which no classes are held
  EXPECT_THAT(notices(), IsEmpty());
  only("p", "301", "ppm");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("P of 301 ppm is unusually high (look whether the "
                                               "report says lb/acre: those are twice as many")));
  only("k", "800", "mg/kg").extractant = "olsen";
  EXPECT_THAT(notices(), IsEmpty());
  only("k", "801", "mg/kg");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("K of 801 mg/kg is unusually high (look whether")));
  // The same amounts an acre; what was called lb/acre and is too much is no such mix-up.
  only("p", "600", "lb/acre");
  EXPECT_THAT(notices(), IsEmpty());
  only("p", "601", "lb/acre");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("unusually high (compare it with the report")));
  only("p", "-1", "ppm");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("P of -1 ppm cannot be")));
  only("p", "0", "ppm");
  EXPECT_THAT(faults(), IsEmpty());
}

// By the classes themselves: "very high" begins at 278 lb/acre of K, 138 of P by Mehlich-3 (Rutgers
// NJAES, relative levels of nutrients, njaes.rutgers.edu), and lb/acre are ppm x 2 (Penn State
// Agronomy Guide, section 2). A number of ppm that would be very high as lb/acre already is asked
// about; that such a one is the more likely mixed up: common practice, no source.
TEST_F(SoilCheckOf, PpmThatWouldBeOfTheHighestClassEvenAsPoundsAreQuestioned) {
  only("k", "277.9", "ppm");
  EXPECT_THAT(notices(), IsEmpty());
  only("k", "278", "ppm");
  EXPECT_THAT(notices(),
              ElementsAre("soil k: K of 278 ppm comes to 556 lb/acre, and the highest class begins "
                          "at 278 (look whether the report says lb/acre: those are twice as many "
                          "as ppm)"));
  only("k", "400", "ppm");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("K of 400 ppm comes to 800 lb/acre, and")));
  only("p", "137", "mg/kg");
  EXPECT_THAT(notices(), IsEmpty());
  only("p", "138", "mg/kg");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("P of 138 mg/kg comes to 276 lb/acre, and")));
  // Much Ca and Mg is usual of limed and of heavy soils.
  only("ca", "2000", "ppm");
  EXPECT_THAT(notices(), IsEmpty());
  only("mg", "320", "ppm");
  EXPECT_THAT(notices(), IsEmpty());
  // A report that says lb/acre is believed.
  only("k", "800", "lb/acre");
  EXPECT_THAT(notices(), IsEmpty());
  // Classes hold for the furrow slice.
  only("k", "400", "ppm").depth = "12";
  EXPECT_THAT(notices(), IsEmpty());
  // Which extractant it was nobody says: the more reason to ask.
  only("k", "400", "ppm").extractant = "";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("K of 400 ppm comes to 800 lb/acre"),
                                     HasSubstr("the extractant of K is not stated")));
}

TEST_F(SoilCheckOf, PpmCalledPoundsAreQuestioned) {
  only("k", "40", "lb/acre");
  EXPECT_THAT(notices(), IsEmpty());
  only("k", "39", "lb/acre");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("K of 39 lb/acre is unusually low (look whether the "
                                               "report says ppm: those are half as many")));
  only("p", "2.9", "ppm");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("unusually low (compare it with the report")));
  only("p", "3", "ppm");
  EXPECT_THAT(notices(), IsEmpty());
  only("p", "6.8", "kg/ha");  // 3.03 ppm of a furrow slice
  EXPECT_THAT(notices(), IsEmpty());
  only("k", "44", "kg/ha");  // 19.6 ppm
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("K of 44 kg/ha is unusually low (look whether the "
                                               "report says ppm: those are less than half as")));
}

TEST_F(SoilCheckOf, UnitsAreThoseOfTheProperty) {
  only("p", "41", "");
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("the unit of P is not stated")));
  only("p", "41", "%");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("'%' is no unit of P (use ppm, mg/kg, lb/acre, ")));
  only("ph", "6.2", "ppm");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("pH is a number without a unit")));
  only("organic_matter", "3", "ppm");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("'ppm' is no unit of organic matter (use %)")));
  only("organic_matter", "101", "%");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("organic matter of 101 % cannot be")));
  only("zinc", "4", "ppm");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("soil property 'zinc' is not known (use ph, ")));
}

TEST_F(SoilCheckOf, AnAmountWithoutItsExtractantIsAskedAbout) {
  only("p", "41", "ppm").extractant = "";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("the extractant of P is not stated")));
  only("zn", "4", "ppm").extractant = "";  // no table asks for it
  EXPECT_THAT(notices(), IsEmpty());
}

TEST_F(SoilCheckOf, ADepthIsAboveZeroAndHasAUnit) {
  only("p", "41", "ppm").depth = "0";
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("a depth of '0' is not above zero")));
  only("p", "41", "ppm").depth_unit = "";
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("the depth has no unit (fill in depth_unit)")));
  for (const char* usual : {"2", "12"}) {
    only("ph", "6.2", "").depth = usual;
    EXPECT_THAT(notices(), IsEmpty()) << usual;
  }
  only("ph", "6.2", "").depth = "15";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("a depth of 15 in is unusual (look whether in")));
  only("ph", "6.2", "").depth = "1.9";
  EXPECT_THAT(notices(), SizeIs(1));
  SoilTest& in_cm = only("ph", "6.2", "");
  in_cm.depth_unit = "cm";
  in_cm.depth = "6";
  EXPECT_THAT(notices(), IsEmpty());
  in_cm.depth = "5";
  EXPECT_THAT(notices(), ElementsAre(HasSubstr("a depth of 5 cm is unusual")));
  SoilTest& not_said = only("ph", "6.2", "");
  not_said.depth = not_said.depth_unit = "";
  EXPECT_THAT(notices(), IsEmpty());
  EXPECT_THAT(faults(), IsEmpty());
}

TEST_F(SoilCheckOf, APropertyTwiceOfOneSampleIsAFault) {
  only("p", "41", "ppm");
  plan_.soil.push_back(plan_.soil.front());
  plan_.soil.back().value = "44";
  plan_.soil.back().extractant = "Mehlich 3";  // the same in other words
  EXPECT_THAT(faults(),
              ElementsAre("soil p: P stands twice for one day, depth and extractant (first "
                          "at soil p; keep one of them)"));
  const PlanPlaces places{.trial = {},
                          .entries = {},
                          .plots = {},
                          .occasions = {},
                          .scores = {},
                          .soil = {"soil.csv line 2", "soil.csv line 3"}};
  EXPECT_THAT(lines(check_soil(plan_, tables_, places).faults),
              ElementsAre(HasSubstr("soil.csv line 3: P stands twice for one day, depth and "
                                    "extractant (first at soil.csv line 2;")));
}

TEST_F(SoilCheckOf, ATestIsOfTheThreeYearsBeforeSowing) {
  const auto sampled = [&](std::optional<CalendarDate> day) {
    only("ph", "6.2", "").sampled = day;
    return notices();
  };
  EXPECT_THAT(sampled(year{2024} / 9 / 3), IsEmpty());
  EXPECT_THAT(sampled(year{2024} / 9 / 4),
              ElementsAre(HasSubstr("sampled on 2024-09-04, after sowing on 2024-09-03")));
  EXPECT_THAT(sampled(year{2021} / 9 / 3), IsEmpty());
  EXPECT_THAT(sampled(year{2021} / 9 / 2),
              ElementsAre(HasSubstr("sampled on 2021-09-02, more than 3 years before sowing")));
  EXPECT_THAT(sampled(std::nullopt),
              ElementsAre(HasSubstr("when the soil was sampled is not stated")));
  // Once for all that is of one day.
  plan_.soil.push_back(plan_.soil.front());
  plan_.soil.back().property = "buffer_ph";
  EXPECT_THAT(notices(), SizeIs(1));
  // A leap day and three years is no day.
  plan_.sown = year{2027} / 3 / 1;
  EXPECT_THAT(sampled(year{2024} / 2 / 29), SizeIs(1));
  plan_.sown = year{2027} / 2 / 28;
  EXPECT_THAT(sampled(year{2024} / 2 / 29), IsEmpty());
}

}  // namespace
}  // namespace ligule::files
