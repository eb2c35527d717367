#include "storage/trial/identity.h"

#include <gtest/gtest.h>

#include <set>
#include <type_traits>
#include <unordered_set>

namespace ligule {
namespace {

using std::chrono::milliseconds;

static_assert(!std::is_convertible_v<PlotId, EntryId> && !std::is_constructible_v<PlotId, EntryId>);
template <class A, class B>
concept ComparedWith = requires(A a, B b) {
  a == b;
};
static_assert(ComparedWith<PlotId, PlotId> && !ComparedWith<PlotId, EntryId>);

Uuid uuid(std::string_view text) {
  return parse_uuid(text).value();
}

TEST(Uuid, TextReadsBack) {
  const char* text = "00112233-4455-6677-8899-aabbccddeeff";
  EXPECT_EQ(uuid(text).text(), text);
  EXPECT_EQ(uuid(text).bytes[0], 0x00);
  EXPECT_EQ(uuid(text).bytes[15], 0xff);
  EXPECT_TRUE(Uuid{}.is_nil());
  EXPECT_FALSE(uuid(text).is_nil());
}

TEST(Uuid, HasOneSpelling) {
  for (const char* text :
       {"", "00112233-4455-6677-8899-AABBCCDDEEFF", "{00112233-4455-6677-8899-aabbccddeeff}",
        "00112233445566778899aabbccddeeff", "00112233-4455-6677-8899-aabbccddeef",
        "00112233-4455-6677-8899-aabbccddeeff0", "00112233-4455-6677-8899_aabbccddeeff",
        "0011223g-4455-6677-8899-aabbccddeeff", "001122334455-6677-8899-aabb-ccddeeff"}) {
    const auto id = parse_uuid(text);
    ASSERT_FALSE(id.has_value()) << text;
    EXPECT_EQ(id.error().kind, ErrorKind::kInvalid);
  }
}

TEST(Uuid, TakesAtEveryPlaceWhatBelongsThere) {
  const std::string text = "00112233-4455-6677-8899-aabbccddeeff";
  for (std::size_t at = 0; at < text.size(); ++at)
    for (int byte = 0; byte < 256; ++byte) {
      std::string changed = text;
      changed[at] = static_cast<char>(byte);
      const bool hex = (byte >= '0' && byte <= '9') || (byte >= 'a' && byte <= 'f');
      const auto id = parse_uuid(changed);
      ASSERT_EQ(id.has_value(), text[at] == '-' ? byte == '-' : hex) << at << " " << byte;
      if (id) {
        ASSERT_EQ(id->text(), changed);
      }
    }
}

// RFC 9562 appendix A.4: version 5 of "www.example.com" in the DNS space of its table 4. The second
// is the example of the uuid module of Python's documentation.
TEST(UuidV5, GivesThePublishedExamples) {
  const Uuid dns = uuid("6ba7b810-9dad-11d1-80b4-00c04fd430c8");
  EXPECT_EQ(uuid_v5(dns, "www.example.com").text(), "2ed6657d-e927-568b-95e1-2665a8aea6a2");
  EXPECT_EQ(uuid_v5(dns, "python.org").text(), "886313e1-3b8a-5372-9b90-0c9aee199e5d");
}

// Made with Python's uuid.uuid5 over the same names: records made under these ids must be found for
// ever.
TEST(Identity, IdsFromCodesNeverChange) {
  const TrialId trial = trial_id({"HILL", "north", "TF24"});
  EXPECT_EQ(trial.text(), "c2c736aa-dbe5-5ce2-a461-2a926cffd058");
  EXPECT_EQ(site_id("HILL", "north").text(), "c5fcf41d-b34e-5c40-950e-037aa0581133");
  EXPECT_EQ(plot_id(trial, "101").text(), "e9d0fdc9-55d1-5848-8ac6-4fe11f9d9887");
  EXPECT_EQ(entry_id(trial, "A").text(), "1dfde5c6-2e1e-5a33-8790-8e46e0baea69");
  EXPECT_EQ(rating_id(trial, "2025-spring-stand").text(), "b8259547-b5b0-5502-a067-d9b1a3d64c34");
  EXPECT_EQ(cutting_id(trial, 2025, 1).text(), "73d9c505-41ea-5aee-8676-28557973d233");
  EXPECT_EQ(person_id("AB").text(), "242c5f96-edaf-54b5-9301-de151e375d76");
}

TEST(Identity, InitialsMeanThePersonWhateverTheirCase) {
  EXPECT_EQ(person_id("ab"), person_id("AB"));
  EXPECT_NE(person_id("ab"), person_id("ac"));
}

TEST(Identity, CodesAreShortAndPlain) {
  for (const char* code :
       {"A", "2026-spring", "a.b", "_x", "-", "abcdefghijklmnopqrstuvwxyz012345"})
    EXPECT_TRUE(is_code(code)) << code;
  for (const char* text : {"", ".a", "a b", "a/b", "é", "a,b", "abcdefghijklmnopqrstuvwxyz0123456"})
    EXPECT_FALSE(is_code(text)) << text;
}

TEST(Identity, EqualIdsHashTheSame) {
  std::unordered_set<PlotId> plots;
  for (int i = 0; i < 100; ++i) plots.insert(plot_id(TrialId{}, std::to_string(i % 50)));
  EXPECT_EQ(plots.size(), 50U);
}

// RFC 9562 section 5.7 and appendix A.6, whose example is made at 2022-02-22 14:22:22 -05:00.
TEST(UuidSequence, LaysOutVersionSeven) {
  UuidSequence ids([] { return 0xd8c4dc0c0c07398fU; });
  const Uuid id = ids.next(UtcInstant(milliseconds(0x017f22e279b0)));
  EXPECT_EQ(id.text(), "017f22e2-79b0-708f-98c4-dc0c0c07398f");
  EXPECT_EQ(id.bytes[6] >> 4U, 7U) << "version";
  EXPECT_EQ(id.bytes[8] >> 6U, 2U) << "variant";
}

TEST(UuidSequence, NeverGoesBackWhateverTheClockDoes) {
  std::uint64_t state = 1;
  UuidSequence ids([&] { return state = state * 6364136223846793005U + 1442695040888963407U; });
  Uuid last;
  std::set<Uuid> all;
  for (int i = 0; i < 20'000; ++i) {
    // Mostly one millisecond, so that the count runs over; now and then a jump either way.
    const std::int64_t ms = i % 7000 == 6999 ? 5000 : (i % 3000 == 2999 ? 900'000 : 700'000);
    const Uuid id = ids.next(UtcInstant(milliseconds(ms)));
    ASSERT_LT(last, id) << i;
    ASSERT_EQ(id.bytes[6] >> 4U, 7U);
    ASSERT_EQ(id.bytes[8] >> 6U, 2U);
    all.insert(id);
    last = id;
  }
  EXPECT_EQ(all.size(), 20'000U);
}

TEST(UuidSequence, ATimeBefore1970DoesNotGoBackEither) {
  UuidSequence ids([] { return std::uint64_t{0}; });
  const Uuid first = ids.next(UtcInstant(milliseconds(-5)));
  EXPECT_LT(first, ids.next(UtcInstant(milliseconds(-9))));
}

TEST(UuidSequence, ContinuesAfterTheLastRun) {
  UuidSequence before([] { return ~std::uint64_t{0}; });
  const Uuid last = before.next(UtcInstant(milliseconds(800'000)));
  UuidSequence after([] { return std::uint64_t{0}; });
  after.continue_after(last);
  EXPECT_LT(last, after.next(UtcInstant(milliseconds(1000)))) << "the clock was set back";
  after.continue_after(uuid("00000000-0001-7000-8000-000000000000"));
  EXPECT_LT(last, after.next(UtcInstant(milliseconds(1000))))
      << "an older id does not take it back";
}

}  // namespace
}  // namespace ligule
