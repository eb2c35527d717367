// Seed: how much of a lot is pure and alive, and how much of it sows a plot.
//
// Rates are of pure live seed, so that entries of unlike lots start with as many living seeds.
// Nothing is rounded here.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "storage/trial/error.h"
#include "storage/trial/quantity.h"

namespace ligule {

struct PerMassDimension {};
struct PerAreaDimension {};
struct SeedPerKilogramUnit : Unit<PerMassDimension, std::ratio<1>> {};
struct SeedPerPoundUnit
    : Unit<PerMassDimension, std::ratio_divide<std::ratio<1>, PoundInKilograms>> {};
struct SeedPerSquareMetreUnit : Unit<PerAreaDimension, std::ratio<1>> {};
struct SeedPerSquareFootUnit
    : Unit<PerAreaDimension, std::ratio_divide<std::ratio<1>, SquareFootInSquareMetres>> {};
using SeedsPerKilogram = Quantity<SeedPerKilogramUnit>;
using SeedsPerPound = Quantity<SeedPerPoundUnit>;
using SeedsPerSquareMetre = Quantity<SeedPerSquareMetreUnit>;
using SeedsPerSquareFoot = Quantity<SeedPerSquareFootUnit>;

// What counts as alive. Hard and dormant seed lives, though a label states it apart (7 CFR 201.21);
// some count only what germinated in the test.
enum class LiveSeed { kGerminatedAndHard, kGerminatedOnly };

// Of a lot, as its tag or a test says, in percent. Purity counts a coating as inert.
struct SeedTest {
  double germination = 0;
  double hard = 0;  // or dormant
  double purity = 0;
};

// Pure live seed as a share of the lot's weight, 0 to 1: purity x live seed.
[[nodiscard]] constexpr double pure_live_share(const SeedTest& test, LiveSeed live) {
  const double alive = test.germination + (live == LiveSeed::kGerminatedAndHard ? test.hard : 0.0);
  return test.purity * alive / 10000;
}

// Seed as it is in the bag that holds so much pure live seed, of any unit of mass or rate.
// `share` must be above zero.
template <class U>
[[nodiscard]] constexpr Quantity<U> bulk(Quantity<U> pure_live, double share) {
  return Quantity<U>(pure_live.value() / share);
}

// Seed for an area at a rate; both of pure live seed, or both as in the bag.
[[nodiscard]] constexpr Kilograms seed_for(KilogramsPerHectare rate, SquareMetres area) {
  return Kilograms(rate.value() * area.value() / 10000);
}

[[nodiscard]] constexpr double seeds_in(Kilograms seed, SeedsPerKilogram per_mass) {
  return seed.value() * per_mass.value();
}
[[nodiscard]] constexpr SeedsPerSquareMetre seeds_sown(KilogramsPerHectare rate,
                                                       SeedsPerKilogram per_mass) {
  return SeedsPerSquareMetre(rate.value() * per_mass.value() / 10000);
}

// A rate as a plan or a person states it: a number above zero and "lb/acre" or "kg/ha". kInvalid.
[[nodiscard]] Result<KilogramsPerHectare> sowing_rate(std::string_view number,
                                                      std::string_view unit);
// In one of those units; `unit` must be one.
[[nodiscard]] double rate_in(KilogramsPerHectare rate, std::string_view unit);

// What is known of a species' seed and how much of it is usually sown alone.
struct SpeciesSeed {
  std::string species;                                // code
  std::optional<SeedsPerPound> seeds_per_pound = {};  // of clean seed
  double usual_from = 0, usual_to = 0;                // a rate, in `unit`
  std::string unit = {};                              // "lb/acre" or "kg/ha"
  std::string source = {};

  [[nodiscard]] KilogramsPerHectare lowest() const;
  [[nodiscard]] KilogramsPerHectare highest() const;
  // "12 to 14 lb/acre", or "23 lb/acre".
  [[nodiscard]] std::string usual() const;
};

}  // namespace ligule
