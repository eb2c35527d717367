#include "storage/files/seed_on_hand.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

std::vector<std::string> store_faults(const std::string& text) {
  std::vector<std::string> lines;
  if (const auto read = read_seed_on_hand(text, "store.csv"); !read)
    for (const Error& fault : read.error()) lines.push_back(one_line(fault));
  return lines;
}

TEST(SeedOnHand, IsReadInWhateverUnitItIsStated) {
  const auto read = read_seed_on_hand(
      "Variety,Seed Lot #,Seed on hand (g)\nAlder,L1,500\nAlder,L2,1.5 kg\nBirch,L3,2 lbs\n"
      "Birch,L4,\nCor,L1,250\nDun,L5,8oz\nElm,,\n",
      "store.csv");
  ASSERT_TRUE(read) << one_line(read.error().front());
  ASSERT_EQ(read->size(), 4U);
  EXPECT_NEAR(read->at("L1").value(), 0.75, 1e-12) << "two bags";
  EXPECT_NEAR(read->at("L2").value(), 1.5, 1e-12);
  // Handbook 44: 1 lb = 0.45359237 kg, 1 oz a sixteenth of it.
  EXPECT_NEAR(read->at("L3").value(), 0.90718474, 1e-12);
  EXPECT_NEAR(read->at("L5").value(), 0.226796185, 1e-12);
}

TEST(SeedOnHand, SaysWhatCannotBeMeant) {
  EXPECT_THAT(store_faults("Lot,In stock\nL1,500\nL2,-3 g\n,4 g\nL4,2 bags\nL5,much\n"),
              ElementsAre(HasSubstr("store.csv line 2, column In stock: '500' is no amount"),
                          HasSubstr("line 3, column In stock: '-3 g' is no amount"),
                          HasSubstr("line 4, column In stock: of which seed lot this is on hand"),
                          HasSubstr("line 5, column In stock: '2 bags' is no amount"),
                          HasSubstr("line 6, column In stock: 'much' is no amount")));
  EXPECT_THAT(store_faults("Variety\nAlder\n"),
              ElementsAre(HasSubstr("store.csv line 1: no column holds the seed lots"),
                          HasSubstr("store.csv line 1: no column holds the seed on hand")));
  EXPECT_THAT(store_faults("Seed lot,Lot no.,In stock (kg),Seed on hand (g)\nL1,7,5,1\n"),
              ElementsAre(HasSubstr("line 1: columns 'Seed lot' and 'Lot no.' say the same"),
                          HasSubstr("line 1: columns 'In stock (kg)' and 'Seed on hand (g)' say")));
  EXPECT_THAT(store_faults(""), ElementsAre(HasSubstr("the table is empty")));
}

}  // namespace
}  // namespace ligule::files
