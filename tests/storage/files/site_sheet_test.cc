#include "storage/files/site_sheet.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>

#include "storage/files/file_system.h"
#include "storage/files/occasion_list.h"
#include "storage/files/plan_folder.h"

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

constexpr std::array<std::string_view, 2> kOthers{"blocks", "start_corner"};
const std::string sample_sheet =
    "what,value,note\n"
    "Station,HILL,\n"
    "site,north,\n"
    "trial,TF26,\n"
    "title,\"Fescue, sown 2026\",\n"
    "Site name,North farm,\n"
    "zone,America/New_York,\n"
    "field,7,\n"
    "sown,2026-09-10,first dry day\n"
    "drilled,yes,\n"
    "plot-length,20 ft,\n"
    "plot_width,1.5m,\n"
    "bag tare,31.5 g,\n"
    "alley,,not yet\n"
    "blocks,4,\n";

class SiteSheets : public testing::Test {
 protected:
  Checked<SiteSheet> read(const std::string& text) {
    return read_site_sheet(text, "site.csv", schemas_.trial, kOthers);
  }
  std::vector<std::string> faults(const std::string& text) {
    std::vector<std::string> lines;
    if (const auto sheet = read(text); !sheet)
      for (const Error& fault : sheet.error()) lines.push_back(one_line(fault));
    return lines;
  }
  static std::string changed(const std::string& from, const std::string& to) {
    std::string text = sample_sheet;
    return text.replace(text.find(from), from.size(), to);
  }

  std::unique_ptr<FileSystem> files_ = real_file_system();
  PlanSchemas schemas_ = load_plan_schemas(*files_, LIGULE_SOURCE_ASSETS).value();
};

TEST_F(SiteSheets, ASizeBelowNoughtIsOneFault) {
  EXPECT_THAT(faults(changed("alley,,not yet", "alley,-5 ft,")),
              ElementsAre(HasSubstr("site.csv line 14: '-5' is out of range")));
}

TEST_F(SiteSheets, SayWhatATrialIs) {
  const auto sheet = read(sample_sheet);
  ASSERT_TRUE(sheet) << one_line(sheet.error().front());
  const Plan& plan = sheet->plan;
  EXPECT_EQ(plan.codes, (TrialCodes{"HILL", "north", "TF26"}));
  EXPECT_EQ(plan.title, "Fescue, sown 2026");
  EXPECT_EQ(format_date(plan.sown), "2026-09-10");
  EXPECT_EQ(plan.design, "rcb") << "what a trial is where nothing is said";
  EXPECT_TRUE(plan.drilled);
  EXPECT_EQ(plan.plot_length, (StatedLength{"20", "ft"}));
  EXPECT_EQ(plan.plot_width, (StatedLength{"1.5", "m"}));
  EXPECT_EQ(plan.bag_tare, (StatedMass{"31.5", "g"}));
  EXPECT_EQ(plan.alley, StatedLength{});
  ASSERT_EQ(sheet->lines.size(), 1U);
  EXPECT_EQ(sheet->lines.at("blocks").value, "4");
  EXPECT_EQ(sheet->lines.at("blocks").place, "site.csv line 15");
}

TEST_F(SiteSheets, TakeAUnitInALineOfItsOwn) {
  const auto sheet = read(changed("plot-length,20 ft,", "plot_length,20,\nplot_length_unit,ft,"));
  ASSERT_TRUE(sheet) << one_line(sheet.error().front());
  EXPECT_EQ(sheet->plan.plot_length, (StatedLength{"20", "ft"}));
}

TEST_F(SiteSheets, EveryFaultIsToldAtItsLine) {
  EXPECT_THAT(faults(changed("sown,2026-09-10", "sown,9/10/2026") + "blocks,5,\ncolour,red,\n"),
              ElementsAre(HasSubstr("site.csv line 16: 'blocks' stands twice (first at site.csv "
                                    "line 15"),
                          HasSubstr("site.csv line 17: 'colour' is not a line of a site sheet"),
                          HasSubstr("site.csv line 9: '9/10/2026'")));
  EXPECT_THAT(faults(changed("zone,America/New_York,\n", "")),
              ElementsAre(HasSubstr("site.csv: the line 'zone' is missing")));
  EXPECT_THAT(faults(changed("20 ft", "20")),
              ElementsAre(HasSubstr("site.csv line 11: plot_length has no unit")));
  EXPECT_THAT(faults(changed("20 ft", "20 yards")),
              ElementsAre(HasSubstr("site.csv line 11: 'yards' is not one of")));
  EXPECT_THAT(faults(changed("blocks,4,", "parent,00,")),
              ElementsAre(HasSubstr("'parent' is not a line of a site sheet")));
}

TEST_F(SiteSheets, OfAnotherFormAreRefused) {
  EXPECT_THAT(faults("station,site\nHILL,north\n"),
              ElementsAre(HasSubstr("a site sheet has the columns what and value")));
  EXPECT_THAT(faults(""), ElementsAre(HasSubstr("the table is empty")));
}

class OccasionLists : public SiteSheets {
 protected:
  Checked<OccasionList> read_list(const std::string& text) {
    return read_occasion_list(text, "due.csv", schemas_.occasions, date::year{2026} / 9 / 10);
  }
};

TEST_F(OccasionLists, CountDaysFromSowing) {
  const auto list = read_list(
      "code,job,year,cutting,measures,due\n"
      "stand,rate,,,percent_stand,+35\n"
      "winter,rate,,,percent_stand,+120\n"
      "cut,harvest,2027,1,gross_weight,\n"
      "late,rate,2028,,percent_stand,2027-12-30\n");
  ASSERT_TRUE(list) << one_line(list.error().front());
  std::vector<std::string> told;
  for (const PlanOccasion& occasion : list->occasions)
    told.push_back(std::to_string(occasion.year) + " " +
                   (occasion.due ? format_date(*occasion.due) : ""));
  EXPECT_THAT(told, ElementsAre("2026 2026-10-15", "2027 2027-01-08", "2027 ", "2028 2027-12-30"));
  EXPECT_EQ(list->places.back(), "due.csv line 5");
}

TEST_F(OccasionLists, MayLeaveTheYearsOut) {
  const auto list = read_list("code,job,measures,due\nstand,rate,percent_stand,+1\n");
  ASSERT_TRUE(list) << one_line(list.error().front());
  EXPECT_EQ(list->occasions.front().year, 2026);
}

TEST_F(OccasionLists, TellFaultsAtTheirCells) {
  const auto list = read_list(
      "code,job,year,measures,due\n"
      "stand,rate,,percent_stand,+soon\n"
      "far,rate,,percent_stand,+99999\n");
  ASSERT_FALSE(list);
  std::vector<std::string> told;
  for (const Error& fault : list.error()) told.push_back(one_line(fault));
  EXPECT_THAT(told, ElementsAre(HasSubstr("due.csv line 2, column year"),
                                HasSubstr("due.csv line 2, column due: '+soon'"),
                                HasSubstr("due.csv line 3, column year"),
                                HasSubstr("due.csv line 3, column due: '+99999'")));
  EXPECT_FALSE(read_list("code,jobs\nstand,rate\n"));
  EXPECT_FALSE(read_list(""));
}

}  // namespace
}  // namespace ligule::files
