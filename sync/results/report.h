// report.html: one page that holds everything it needs, reads on a phone and prints on paper.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "sync/results/aliases.h"
#include "sync/results/alike_entries.h"
#include "sync/results/analysis.h"
#include "sync/results/composition.h"
#include "sync/results/design_gain.h"
#include "sync/results/entry_standing.h"
#include "sync/results/event_lines.h"
#include "sync/results/field_trend.h"
#include "sync/results/footing.h"
#include "sync/results/grazing.h"
#include "sync/results/long_term.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/raters.h"
#include "sync/results/rating_column.h"
#include "sync/results/release.h"
#include "sync/results/report_table.h"
#include "sync/results/site_notes.h"
#include "sync/results/stand_persistence.h"
#include "sync/results/test_facts.h"
#include "sync/results/tests_behind.h"
#include "sync/results/varieties.h"
#include "sync/results/variety_lines.h"

namespace ligule::results {

struct ReportText {
  std::string measure;  // what the values are, "Dry-matter yield"; empty: not known
  std::string unit;     // "ton/acre"; empty: not known
  std::string source;   // where the values came from, as a person would say it
  Best best = Best::kHighest;
  bool cuttings = true;        // false: the values are ratings, a pass each
  bool days = false;           // values are days of the year, shown as dates
  bool percents = true;        // of a mean tell something: not of scores, stages and days
  bool demonstration = false;  // made up, to show how it works
  double alpha = 0.05;
  bool withhold_lsd = false;  // of a column whose entries are alike
  EntryOrder order = EntryOrder::kRanked;
  std::size_t min_tests = 2;                  // below which no long-term average is printed
  std::vector<Footing> footings = {};         // each under its cutting
  std::vector<EventLine> events = {};         // each in the section of its test
  std::vector<TestFacts> tests = {};          // as events
  std::vector<RatingColumn> ratings = {};     // beside the yields of their tests
  std::vector<MonthWeather> weather = {};     // by site, year, month
  std::vector<EntryStanding> standings = {};  // in the order of standing_before()
  std::vector<VarietyLine> varieties = {};    // by species
  std::vector<EntryComposition> compositions = {};
  std::vector<StandPersistence> stands = {};  // by the names in print, as grazing
  std::vector<GrazingTest> grazing = {};
  std::vector<OverCuttings> over_cuttings = {};
  std::vector<FieldTrend> trends = {};
  std::vector<DesignGain> gains = {};
  RaterFigures raters = {};         // a section of its own
  std::vector<SownYear> sown = {};  // of the tests of which it is known
  ReleaseState release = {};        // a draft where nothing was released
  // Names, none of them of a withheld entry (EntryNames::tell).
  std::vector<AliasApplied> aliases = {};
  std::vector<AlikeNames> alike = {};  // never merged
  std::vector<NamesApart> apart = {};  // look alike, and somebody decided that they are two
  // report_file() takes them by label, and hands the report those that are printed, by the name
  // they are printed under.
  Varieties known = {};
  std::vector<WithheldCount> withheld = {};  // set by report_file(): of this measure's tests
};

// `analyses` in the order of analyse(), `summary` from long_term() of the same.
[[nodiscard]] std::string report_html(std::span<const Analysis> analyses,
                                      std::span<const LongTermRow> summary, const ReportText& text);

}  // namespace ligule::results
