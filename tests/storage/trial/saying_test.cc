#include "storage/trial/saying.h"

#include <gtest/gtest.h>

#include <array>
#include <random>

#include "storage/trial/said.h"

namespace ligule::said {
namespace {

template <class T, std::size_t N>
const T& one_of(const std::array<T, N>& choices, std::mt19937_64& random) {
  return choices[random() % N];
}

Record any_claim(const std::string& measure, std::mt19937_64& random) {
  static const std::array<std::optional<ValueState>, 4> states{
      ValueState::kValue, ValueState::kZero, ValueState::kOnHold, std::nullopt};
  static const std::array<std::optional<double>, 5> values{std::nullopt, 0.0, -0.0, 60.0, 60.5};
  static const std::array<std::string, 6> texts{"",      "60",    "60.0", "sown=60 weed=40",
                                                "15 14", "a note"};
  static const std::array<std::string, 3> units{"", "lb", "kg"};
  static const std::array<std::string, 3> details{"", R"({"weeds":"only"})", R"({"port":"a"})"};
  Record record;
  record.measure = measure;
  record.state = one_of(states, random);
  record.value = one_of(values, random);
  record.entered = one_of(texts, random);
  record.unit = one_of(units, random);
  record.details = one_of(details, random);
  return record;
}

// Proves: what is sorted by is equal exactly where the_same() says that two claims agree, and its
// order is one (10,000 random pairs, half of them alike in most).
TEST(Saying, IsEqualWhereTwoClaimsSayTheSame) {
  std::mt19937_64 random(5);
  int same = 0;
  for (int n = 0; n < 10'000; ++n) {
    const std::string measure = n % 2 == 0 ? "gross_weight" : "percent_stand";
    const Record a = any_claim(measure, random);
    Record b = any_claim(measure, random);
    if (n % 4 < 2) {
      b.state = a.state;
      b.value = a.value;
      b.unit = a.unit;
    }
    const Saying one = saying_of(a);
    const Saying other = saying_of(b);
    ASSERT_EQ(one == other, the_same(a, b))
        << a.entered << " " << a.details << " / " << b.entered << " " << b.details;
    ASSERT_EQ(one < other || other < one, one != other);
    ASSERT_FALSE(one < other && other < one);
    if (one == other) ++same;
  }
  EXPECT_GT(same, 1000);
}

}  // namespace
}  // namespace ligule::said
