// Weights, lengths, areas and yields as types that cannot be mixed up.
//
// A quantity keeps the number in the unit it was entered in; convert<To>() changes the unit by an
// exact ratio taken from the definitions: 1 lb = 0.45359237 kg, 1 ft = 0.3048 m (both exact,
// international yard and pound agreement of 1959), 1 acre = 43560 ft2 of the international foot
// (not the US survey foot), 1 short ton = 2000 lb, 1 ha = 10000 m2. Each conversion costs at most
// one multiplication and one division, both by whole numbers.
#pragma once

#include <compare>
#include <cstdint>
#include <ratio>
#include <type_traits>

namespace ligule {

template <class Unit>
class Quantity {
 public:
  constexpr Quantity() = default;
  constexpr explicit Quantity(double value) : value_(value) {}

  // The bare number, in this quantity's unit.
  [[nodiscard]] constexpr double value() const { return value_; }

  constexpr auto operator<=>(const Quantity&) const = default;
  constexpr Quantity operator+(Quantity other) const { return Quantity(value_ + other.value_); }
  constexpr Quantity operator-(Quantity other) const { return Quantity(value_ - other.value_); }
  constexpr Quantity operator*(double factor) const { return Quantity(value_ * factor); }
  // How many times the other goes into this; a plain number.
  constexpr double operator/(Quantity other) const { return value_ / other.value_; }

 private:
  double value_ = 0.0;
};

struct MassDimension {};
struct LengthDimension {};
struct AreaDimension {};
struct YieldDimension {};

// A unit is a dimension and its size in the dimension's base unit (kg, m, m2, kg/m2) as an exact
// ratio.
template <class Dim, class Size>
struct Unit {
  using Dimension = Dim;
  using InBase = typename Size::type;
};

using PoundInKilograms = std::ratio<45359237, 100000000>;
using FootInMetres = std::ratio<3048, 10000>;
using SquareFootInSquareMetres = std::ratio_multiply<FootInMetres, FootInMetres>;
using AcreInSquareMetres = std::ratio_multiply<SquareFootInSquareMetres, std::ratio<43560>>;

struct KilogramUnit : Unit<MassDimension, std::ratio<1>> {};
struct GramUnit : Unit<MassDimension, std::ratio<1, 1000>> {};
struct PoundUnit : Unit<MassDimension, PoundInKilograms> {};
struct OunceUnit : Unit<MassDimension, std::ratio_divide<PoundInKilograms, std::ratio<16>>> {};

struct MetreUnit : Unit<LengthDimension, std::ratio<1>> {};
struct CentimetreUnit : Unit<LengthDimension, std::ratio<1, 100>> {};
struct FootUnit : Unit<LengthDimension, FootInMetres> {};
struct InchUnit : Unit<LengthDimension, std::ratio_divide<FootInMetres, std::ratio<12>>> {};

struct SquareMetreUnit : Unit<AreaDimension, std::ratio<1>> {};
struct SquareFootUnit : Unit<AreaDimension, SquareFootInSquareMetres> {};

struct KilogramPerHectareUnit : Unit<YieldDimension, std::ratio<1, 10000>> {};
struct MegagramPerHectareUnit : Unit<YieldDimension, std::ratio<1, 10>> {};
struct PoundPerAcreUnit
    : Unit<YieldDimension, std::ratio_divide<PoundInKilograms, AcreInSquareMetres>> {};
struct TonPerAcreUnit
    : Unit<YieldDimension,
           std::ratio_divide<std::ratio_multiply<PoundInKilograms, std::ratio<2000>>,
                             AcreInSquareMetres>> {};

using Kilograms = Quantity<KilogramUnit>;
using Grams = Quantity<GramUnit>;
using Pounds = Quantity<PoundUnit>;
using Ounces = Quantity<OunceUnit>;
using Metres = Quantity<MetreUnit>;
using Centimetres = Quantity<CentimetreUnit>;
using Feet = Quantity<FootUnit>;
using Inches = Quantity<InchUnit>;
using SquareMetres = Quantity<SquareMetreUnit>;
using SquareFeet = Quantity<SquareFootUnit>;
using KilogramsPerHectare = Quantity<KilogramPerHectareUnit>;
using MegagramsPerHectare = Quantity<MegagramPerHectareUnit>;
using PoundsPerAcre = Quantity<PoundPerAcreUnit>;
using TonsPerAcre =
    Quantity<TonPerAcreUnit>;  // short tons of 2000 lb, as forage tables in the trade print

namespace internal {
template <class Q>
struct UnitOf;
template <class U>
struct UnitOf<Quantity<U>> {
  using type = U;
};
}  // namespace internal

// The same amount in another unit of the same dimension; a weight does not convert to a length
// (does not compile).
template <class To, class FromUnit>
requires std::is_same_v<typename FromUnit::Dimension,
                        typename internal::UnitOf<To>::type::Dimension>
[[nodiscard]] constexpr To convert(Quantity<FromUnit> from) {
  using ToUnit = typename internal::UnitOf<To>::type;
  using Factor = std::ratio_divide<typename FromUnit::InBase, typename ToUnit::InBase>;
  constexpr std::intmax_t kExactInDouble = std::intmax_t{1} << 53;
  static_assert(Factor::num <= kExactInDouble && Factor::den <= kExactInDouble);
  return To(from.value() * static_cast<double>(Factor::num) / static_cast<double>(Factor::den));
}

[[nodiscard]] constexpr SquareMetres area(Metres length, Metres width) {
  return SquareMetres(length.value() * width.value());
}
[[nodiscard]] constexpr SquareFeet area(Feet length, Feet width) {
  return SquareFeet(length.value() * width.value());
}

}  // namespace ligule
