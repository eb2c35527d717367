#include "storage/trial/quantity.h"

#include <gtest/gtest.h>

#include <type_traits>

#include "storage/trial/unit_names.h"
#include "storage/trial/yield.h"

namespace ligule {
namespace {

// What must not compile.
template <class A, class B>
concept Addable = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Subtractable = requires(A a, B b) {
  a - b;
};
template <class A, class B>
concept Comparable = requires(A a, B b) {
  a < b;
};
template <class A, class B>
concept Divisible = requires(A a, B b) {
  a / b;
};
template <class A, class B>
concept Multipliable = requires(A a, B b) {
  a* b;
};
template <class To, class From>
concept Convertible = requires(From from) {
  convert<To>(from);
};

static_assert(Addable<Kilograms, Kilograms> && !Addable<Kilograms, Pounds>);
static_assert(!Addable<Kilograms, Metres> && !Addable<Kilograms, double>);
static_assert(Subtractable<Pounds, Pounds> && !Subtractable<Pounds, Grams>);
static_assert(Comparable<Feet, Feet> && !Comparable<Feet, Metres> && !Comparable<Feet, double>);
static_assert(Divisible<Grams, Grams> && !Divisible<Grams, Ounces> && !Divisible<Grams, double>);
static_assert(Multipliable<Grams, double> && !Multipliable<Metres, Metres>);
static_assert(Convertible<Kilograms, Pounds> && Convertible<TonsPerAcre, KilogramsPerHectare>);
static_assert(!Convertible<Metres, Pounds> && !Convertible<Kilograms, KilogramsPerHectare>);
static_assert(!Convertible<SquareMetres, Metres>);
static_assert(!std::is_convertible_v<double, Kilograms> &&
              !std::is_convertible_v<Kilograms, double>);
static_assert(!std::is_convertible_v<Pounds, Kilograms>);
static_assert(std::is_constructible_v<Kilograms, double>);
static_assert(!std::is_constructible_v<Kilograms, Pounds>);

// 1 lb = 0.45359237 kg and 1 ft = 0.3048 m exactly: NIST SP 811, appendix B.
static_assert(convert<Kilograms>(Pounds(1)).value() == 0.45359237);
static_assert(convert<Metres>(Feet(1)).value() == 0.3048);
static_assert(convert<Grams>(Ounces(1)).value() == 28.349523125);
static_assert(convert<Centimetres>(Inches(1)).value() == 2.54);
static_assert(convert<Kilograms>(Pounds(2000)).value() == 907.18474);
static_assert(convert<Ounces>(Pounds(1)).value() == 16);
static_assert(convert<Inches>(Feet(1)).value() == 12);
static_assert(convert<SquareMetres>(SquareFeet(43560)).value() == 4046.8564224);
static_assert(std::ratio_equal_v<AcreInSquareMetres, std::ratio<40468564224, 10000000>>);
static_assert(convert<PoundsPerAcre>(TonsPerAcre(1)).value() == 2000);
static_assert(convert<KilogramsPerHectare>(MegagramsPerHectare(1)).value() == 1000);

TEST(Quantity, YieldFactorsAreThoseOfTheTrade) {
  // To the digits the factors are usually printed with.
  EXPECT_NEAR(convert<KilogramsPerHectare>(PoundsPerAcre(1)).value(), 1.1208511562, 5e-11);
  EXPECT_NEAR(convert<MegagramsPerHectare>(TonsPerAcre(1)).value(), 2.2417023124, 5e-11);
  EXPECT_NEAR(convert<TonsPerAcre>(MegagramsPerHectare(1)).value(), 0.4460895608, 5e-11);
}

TEST(Quantity, ASquareFootIsTheFootTimesTheFoot) {
  EXPECT_DOUBLE_EQ(convert<SquareMetres>(area(Feet(20), Feet(3))).value(),
                   area(convert<Metres>(Feet(20)), convert<Metres>(Feet(3))).value());
  EXPECT_EQ(area(Feet(20), Feet(3)), SquareFeet(60));
}

TEST(Quantity, ThereAndBackCostsNoMoreThanTwoRoundings) {
  double value = 0.013;
  for (int i = 0; i < 40; ++i, value *= 1.37) {
    EXPECT_DOUBLE_EQ(convert<Pounds>(convert<Kilograms>(Pounds(value))).value(), value);
    EXPECT_DOUBLE_EQ(convert<TonsPerAcre>(convert<KilogramsPerHectare>(TonsPerAcre(value))).value(),
                     value);
  }
}

TEST(Quantity, ArithmeticStaysInTheUnit) {
  EXPECT_EQ(Pounds(3) + Pounds(0.5), Pounds(3.5));
  EXPECT_EQ(Pounds(3) - Pounds(0.5), Pounds(2.5));
  EXPECT_EQ(Pounds(3) * 2, Pounds(6));
  EXPECT_EQ(Pounds(3) / Pounds(1.5), 2.0);
  EXPECT_LT(Pounds(1), Pounds(2));
  EXPECT_EQ(Pounds(), Pounds(0));
}

TEST(UnitNames, EachNameIsItsUnit) {
  EXPECT_EQ(mass_in(1, "kg").value().value(), 1);
  EXPECT_EQ(mass_in(1000, "g").value().value(), 1);
  EXPECT_EQ(mass_in(1, "lb").value().value(), 0.45359237);
  EXPECT_EQ(mass_in(16, "oz").value().value(), 0.45359237);
  EXPECT_EQ(length_in(2, "m").value().value(), 2);
  EXPECT_EQ(length_in(250, "cm").value().value(), 2.5);
  EXPECT_EQ(length_in(1, "ft").value().value(), 0.3048);
  EXPECT_EQ(length_in(12, "in").value().value(), 0.3048);
  const KilogramsPerHectare yield(1000);
  EXPECT_EQ(yield_in(yield, "kg/ha").value(), 1000);
  EXPECT_EQ(yield_in(yield, "Mg/ha").value(), 1);
  EXPECT_NEAR(yield_in(yield, "lb/acre").value(), 892.1791, 5e-5);
  EXPECT_NEAR(yield_in(yield, "ton/acre").value(), 0.4460895608, 5e-11);
}

TEST(UnitNames, UnknownUnitsAreInvalidAndTheKnownOnesNamed) {
  for (const char* unit : {"", "KG", "stone", "m", "kg "}) {
    const auto mass = mass_in(1, unit);
    ASSERT_FALSE(mass.has_value()) << unit;
    EXPECT_EQ(mass.error().kind, ErrorKind::kInvalid);
    EXPECT_EQ(mass.error().what, "'" + std::string(unit) + "' is not a unit of weight");
    EXPECT_EQ(mass.error().mend, "use one of kg, g, lb, oz");
  }
  EXPECT_EQ(length_in(1, "yd").error().mend, "use one of m, cm, ft, in");
  EXPECT_EQ(yield_in(KilogramsPerHectare(1), "t/ha").error().mend,
            "use one of ton/acre, lb/acre, kg/ha, Mg/ha");
  EXPECT_TRUE(is_yield_unit("ton/acre"));
  EXPECT_FALSE(is_yield_unit("lb"));
}

}  // namespace
}  // namespace ligule
