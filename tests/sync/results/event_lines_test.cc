#include "sync/results/event_lines.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/details.h"
#include "sync/results/report.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

class EventLines : public ::testing::Test {
 protected:
  Record& noted(std::string entered, const Details& details, std::string reason = {}) {
    Record record;
    record.id.uuid.bytes[15] = static_cast<std::uint8_t>(++events_);
    record.kind = kind::kEvent;
    record.at.local_date = WeighedTrial::day(6, 1);
    record.at.offset = std::chrono::hours{-4};
    record.entered = std::move(entered);
    record.reason = std::move(reason);
    record.details = details_text(details);
    trial_.facts().events.push_back({std::move(record), std::nullopt});
    return trial_.facts().events.back().record;
  }
  std::vector<std::string> texts() {
    std::vector<std::string> all;
    for (const EventLine& line : event_lines(trial_.facts(), "T")) all.push_back(line.text);
    return all;
  }

  WeighedTrial trial_;
  int events_ = 0;
};

TEST_F(EventLines, SayDateWhatWhereAndWhatIsKnown) {
  noted("spray",
        {{"on", "2026-05-04"},
         {"block", "2"},
         {"material", "a herbicide"},
         {"rate", "1 pint/acre"},
         {"no_entry", "hours"},
         {"no_entry_hours", "24"},
         {"ended", "10:30"}},
        "wind from the west");
  noted("fertilizer", {{"on", "2026-04-02"}, {"material", "urea"}, {"rate", "50 lb N/acre"}});
  noted("lime", {{"on", "2025-10-01"}, {"rate", "2 ton/acre"}});
  noted("grazing_in",
        {{"on", "2026-07-01"}, {"animals", "cattle"}, {"head", "14"}, {"height_before", "9 in"}});
  noted("grazing_out", {{"on", "2026-07-03"}, {"height_after", "3 in"}});
  noted("clipped", {{"on", "2026-07-05"}});
  EXPECT_THAT(
      texts(),
      ElementsAre("2025-10-01, lime: 2 ton/acre", "2026-04-02, fertilizer: urea; 50 lb N/acre",
                  "2026-05-04, spray, block 2: a herbicide; 1 pint/acre; no entry until "
                  "2026-05-05 10:30 (24 h on the label); “wind from the west”",
                  "2026-07-01, animals in: cattle; 14 head; 9 in high before",
                  "2026-07-03, animals out: 3 in high after", "2026-07-05, clipped, not weighed"));
  EXPECT_EQ(event_lines(trial_.facts(), "T")[0].year, 2025);
}

TEST_F(EventLines, EveryKindHasALineButNamesThatWereShown) {
  noted("mowing", {{"on", "2026-05-01"}}, "alleys");
  noted("a word of another program", {});
  noted("went_in", {{"on", "2026-06-02"}}, "label_allows");
  noted("went_beside", {{"on", "2026-06-02"}});
  noted("spray", {{"on", "2026-06-03"}, {"no_entry", "not_known"}});
  noted("spray", {{"on", "2026-06-04"}, {"no_entry", "none"}});
  noted("spray",
        {{"on", "2026-06-05"}, {"no_entry", "until"}, {"no_entry_until", "2026-06-06 14:00"}});
  noted("spray", {{"on", "2026-06-06"}});
  noted("names_shown", {{"on", "2026-06-01"}});
  EXPECT_THAT(
      texts(),
      ElementsAre("2026-05-01, mowing: “alleys”", "2026-06-01, a word of another program",
                  "2026-06-02, somebody went in before the time on the label: said that the label "
                  "allows it",
                  "2026-06-02, worked beside a sprayed trial of the field",
                  "2026-06-03, spray: time of entry not known",
                  "2026-06-04, spray: the label names no time of entry",
                  "2026-06-05, spray: no entry until 2026-06-06 14:00", "2026-06-06, spray"));
}

TEST_F(EventLines, WhatWasTakenBackIsLeftOut) {
  noted("damage", {{"on", "2026-05-01"}});
  trial_.facts().events.back().taken_back = Record{};
  EXPECT_THAT(texts(), IsEmpty());
}

TEST_F(EventLines, StandInTheSectionOfTheirTestByYearAndWithoutATableToo) {
  Analysis analysis;
  analysis.test = "A";
  analysis.year = 2026;
  analysis.cutting = "1";
  ReportText text;
  text.events = {{"A", 2025, "2025-10-01, lime: <2 ton/acre>"},
                 {"A", 2026, "2026-05-04, spray"},
                 {"B", 2026, "2026-05-05, damage"}};
  const std::string html = report_html({&analysis, 1}, {}, text);
  const auto section = [&](const std::string& from, const std::string& to) {
    const std::size_t at = html.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return html.substr(at, html.find(to, at) - at);
  };
  const std::string of_a = section("<h2>A</h2>", "</section>");
  EXPECT_THAT(of_a, HasSubstr("Events of 2025"));
  EXPECT_THAT(of_a, HasSubstr("lime: &lt;2 ton/acre&gt;"));
  EXPECT_THAT(of_a, HasSubstr("Events of 2026"));
  EXPECT_THAT(of_a, Not(HasSubstr("damage")));
  const std::string of_b = section("<h2>B</h2>", "</section>");
  EXPECT_THAT(of_b, HasSubstr("2026-05-05, damage"));
  EXPECT_THAT(of_b, HasSubstr("nothing to compare"));
}

}  // namespace
}  // namespace ligule::results
