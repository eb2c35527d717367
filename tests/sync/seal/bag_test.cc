#include "sync/seal/bag.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::seal {
namespace {

using testing::HasSubstr;
using testing::SizeIs;

const std::vector<Member> payload{{"data/a.csv", "1\r\n"}, {"data/b.csv", "22\r\n"}};

Error only_fault(const std::vector<Member>& listed, const std::string& manifest) {
  const auto faults =
      manifest_faults(Algorithm::kSha256, listed, {"manifest-sha256.txt", manifest}, "s.zip");
  EXPECT_THAT(faults, SizeIs(1));
  return faults.empty() ? Error{} : faults.front();
}

TEST(Bag, InfoCountsThePayload) {
  EXPECT_EQ(bag_info_text({parse_date("2026-06-01").value(), "season-x", true}, payload),
            "Bagging-Date: 2026-06-01\nExternal-Identifier: season-x\nPayload-Oxum: 7.2\n"
            "Ligule-Season-Format: 2\nLigule-Demonstration: yes\n");
}

TEST(Bag, TagManifestsListEveryOtherTagFile) {
  const auto tags = tag_files({parse_date("2026-06-01").value(), "season-x", false}, payload);
  ASSERT_THAT(tags, SizeIs(6));
  EXPECT_EQ(tags.back().path, "tagmanifest-sha512.txt");
  for (const char* path :
       {"bag-info.txt", "bagit.txt", "manifest-sha256.txt", "manifest-sha512.txt"}) {
    EXPECT_THAT(tags.back().bytes, HasSubstr(std::string("  ") + path + "\n"));
  }
}

TEST(Bag, AManifestThatHoldsHasNoFaults) {
  for (const Algorithm algorithm : {Algorithm::kSha256, Algorithm::kSha512}) {
    const std::string text = manifest_text(algorithm, payload);
    EXPECT_THAT(manifest_faults(algorithm, payload, {"m", text}, "s.zip"), SizeIs(0));
  }
}

TEST(Bag, NamesTheFileThatChanged) {
  const std::string text = manifest_text(Algorithm::kSha256, payload);
  const Error fault = only_fault({payload[0], {"data/b.csv", "23\r\n"}}, text);
  EXPECT_EQ(fault.kind, ErrorKind::kDamaged);
  EXPECT_EQ(fault.where, "s.zip, data/b.csv");
  EXPECT_THAT(fault.what, HasSubstr("not those that manifest-sha256.txt states"));
}

TEST(Bag, NamesTheFileThatIsNotListed) {
  const Error fault = only_fault(payload, manifest_text(Algorithm::kSha256, {{payload[0]}}));
  EXPECT_EQ(fault.where, "s.zip, data/b.csv");
  EXPECT_THAT(fault.what, HasSubstr("does not list it"));
}

TEST(Bag, NamesTheLineOfNoFile) {
  const std::string text = manifest_text(Algorithm::kSha256, payload);
  for (const std::string& line :
       {std::string(64, '0') + "  data/c.csv", std::string("x"), std::string()}) {
    const Error fault = only_fault(payload, text + line + "\n");
    EXPECT_EQ(fault.where, "s.zip, manifest-sha256.txt line 3");
    EXPECT_THAT(fault.what, HasSubstr("of no file"));
  }
}

TEST(Bag, LinesOutOfOrderAreAFault) {
  const std::vector<Member> turned{payload[1], payload[0]};
  EXPECT_THAT(only_fault(payload, manifest_text(Algorithm::kSha256, turned)).what,
              HasSubstr("not in order"));
}

}  // namespace
}  // namespace ligule::seal
