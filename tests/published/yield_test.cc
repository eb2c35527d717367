// Worked examples of dry matter and yield from other people's pages, through the code that makes
// our own yields. A published figure is held to half a unit of its last printed digit.
#include "storage/trial/yield.h"

#include <gtest/gtest.h>

#include <array>
#include <utility>
#include <vector>

#include "storage/trial/quantity.h"

namespace ligule {
namespace {

constexpr double kHalfOfOne = 0.5;             // printed to whole numbers
constexpr double kHalfOfOneHundredth = 0.005;  // printed to two decimals

DryMatterFraction percent(double value) {
  return DryMatterFraction(value / 100);
}

KilogramsPerHectare yield(Kilograms net, DryMatterFraction fraction, SquareMetres area) {
  const auto made = dry_matter_yield(net, fraction, area);
  EXPECT_TRUE(made.has_value());
  return made.value_or(KilogramsPerHectare(-1));
}

// https://extension.umaine.edu/livestock/pasture-course/lesson-1/appendix-e/
// Plate 1 oz, fresh with plate 9 oz, dry with plate 3 oz: 25 % dry matter.
TEST(PublishedDryMatter, PastureCourseAppendixESample) {
  const auto fraction = dry_matter_fraction(
      convert<Kilograms>(Ounces(9)), convert<Kilograms>(Ounces(3)), convert<Kilograms>(Ounces(1)));
  ASSERT_TRUE(fraction.has_value());
  EXPECT_NEAR(fraction->percent(), 25, kHalfOfOne);
  EXPECT_DOUBLE_EQ(fraction->value(), 0.25);
}

// The same page: 2.07 lb fresh from 9 square feet at 25 % is 2,505 lb of dry matter an acre (the
// page rounds 2504.7 up).
TEST(PublishedYield, PastureCourseAppendixE) {
  const auto made =
      yield(convert<Kilograms>(Pounds(2.07)), percent(25), convert<SquareMetres>(SquareFeet(9)));
  EXPECT_NEAR(convert<PoundsPerAcre>(made).value(), 2505, kHalfOfOne);
}

// https://www.grasstecgroup.com/p/grasstec-scales/springbalance
// 0.200 kg fresh from 0.25 square metres at 16 % is 1,280 kg of dry matter a hectare.
TEST(PublishedYield, QuarterSquareMetreFrame) {
  EXPECT_NEAR(yield(Kilograms(0.200), percent(16), SquareMetres(0.25)).value(), 1280, kHalfOfOne);
}

// https://www.farmersjournal.ie/watch-how-to-measure-grass-using-the-cut-and-weigh-method-268945
// A bag of 0.05 kg left on the scale, same frame and 16 %: 320 kg a hectare too much.
TEST(PublishedYield, TareForgottenOnTheScale) {
  const auto with_bag = yield(Kilograms(0.250), percent(16), SquareMetres(0.25));
  const auto without = yield(Kilograms(0.200), percent(16), SquareMetres(0.25));
  EXPECT_NEAR((with_bag - without).value(), 320, kHalfOfOne);
}

// http://www.pggwrightsonseeds.com/measuring-forage-crop-yields/
// Five cuts of half a square metre; the mean of 5.6 kg is 112,000 kg fresh a hectare, and dry
// matter by the crop's percent (the page misprints the mean as 25.6 kg; its other figures are
// of 5.6).
TEST(PublishedYield, ForageCropGuide) {
  Kilograms sum;
  for (const double weight : {5.3, 5.6, 5.4, 5.9, 5.8}) sum = sum + Kilograms(weight);
  const Kilograms mean = sum * 0.2;
  EXPECT_NEAR(mean.value(), 5.6, 0.05);
  const SquareMetres quadrat(0.5);
  EXPECT_NEAR(yield(mean, percent(100), quadrat).value(), 112'000, kHalfOfOne);
  const std::array<std::pair<double, double>, 5> published{
      {{11, 12'320}, {12, 13'440}, {13, 14'560}, {14, 15'680}, {15, 16'800}}};
  for (const auto& [dry_matter, kilograms] : published) {
    EXPECT_NEAR(yield(mean, percent(dry_matter), quadrat).value(), kilograms, kHalfOfOne)
        << dry_matter;
  }
}

// http://www.anycalculator.com/haymoisture.htm : 100 g wet, 86 g dry, 14 % moisture.
// http://studylib.net/doc/6613945/microwave-method : 101 g wet, 85 g dry, 16 % (15.84 before
// rounding). http://farmllc.org/microwave_1.html : 100 g wet, 35 g dry, 35 % dry matter.
TEST(PublishedDryMatter, MicrowaveMethods) {
  const auto fraction = [](double wet, double dry) {
    return dry_matter_fraction(convert<Kilograms>(Grams(wet)), convert<Kilograms>(Grams(dry)),
                               Kilograms(0))
        .value_or(DryMatterFraction(-1));
  };
  EXPECT_NEAR(fraction(100, 86).moisture_percent(), 14, kHalfOfOne);
  EXPECT_NEAR(fraction(101, 85).moisture_percent(), 16, kHalfOfOne);
  EXPECT_NEAR(fraction(100, 35).percent(), 35, kHalfOfOne);
}

// https://www.hindawi.com/journals/isrn/2012/607476/tab3
// Bermudagrass cuttings of 5970, 4445 and 2951 kg/ha: 13,366 in the year. In short tons an acre
// that is 5.962, computed by hand from 1 ton/acre = 2.2417023124 Mg/ha.
TEST(PublishedYield, BermudagrassYearIsTheSumOfItsCuttings) {
  const auto year =
      KilogramsPerHectare(5970) + KilogramsPerHectare(4445) + KilogramsPerHectare(2951);
  EXPECT_NEAR(year.value(), 13'366, kHalfOfOne);
  EXPECT_NEAR(convert<TonsPerAcre>(year).value(), 5.962, 0.0005);
}

// http://www.ag.ndsu.nodak.edu/plantsci/forage/winterkill07.html, season 2005, alfalfa, ton/acre:
// four cuttings 7.86, three cuttings 6.20. Summed in kg/ha, as our totals are, and turned back.
TEST(PublishedYield, AlfalfaYearSurvivesTheChangeOfUnit) {
  const auto year = [](const std::vector<double>& cuttings) {
    KilogramsPerHectare sum;
    for (const double tons : cuttings) sum = sum + convert<KilogramsPerHectare>(TonsPerAcre(tons));
    return convert<TonsPerAcre>(sum).value();
  };
  EXPECT_NEAR(year({2.36, 2.34, 1.68, 1.48}), 7.86, kHalfOfOneHundredth);
  EXPECT_NEAR(year({2.34, 2.08, 1.78}), 6.20, kHalfOfOneHundredth);
}

}  // namespace
}  // namespace ligule
