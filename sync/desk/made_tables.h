// What the tables of a ledger are made of, test by test, before anything is written.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "storage/trial/scale.h"
#include "storage/trial/soil_tables.h"
#include "sync/desk/ledger_tables.h"
#include "sync/results/analysis.h"
#include "sync/results/design_gain.h"
#include "sync/results/entry_names.h"
#include "sync/results/entry_standing.h"
#include "sync/results/event_lines.h"
#include "sync/results/field_trend.h"
#include "sync/results/footing.h"
#include "sync/results/grazing.h"
#include "sync/results/ledger_facts.h"
#include "sync/results/next_test.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/raters.h"
#include "sync/results/sown_yield.h"
#include "sync/results/split_blocks.h"
#include "sync/results/stand_persistence.h"
#include "sync/results/test_facts.h"
#include "sync/results/tests_behind.h"
#include "sync/results/variety_lines.h"
#include "sync/results/yields.h"

namespace ligule::desk {

struct MeasureTables {
  results::Best best = results::Best::kHighest;
  std::string unit;
  bool days = false;
  bool ratio = true;  // of MeasureValues
  std::vector<results::Analysis> analyses;
};

// Sown-species yields on one basis.
struct SownTables {
  results::SownBasis basis = results::SownBasis::kSeparated;
  std::vector<results::Analysis> analyses;
  std::vector<results::Footing> footings;
};

// All that is made of a ledger, before anything is written.
struct Made {
  std::vector<results::PlotYield> plots;
  std::vector<results::Analysis> yields;
  std::vector<results::OverCuttings> over_cuttings;
  std::optional<results::NextTest> next;
  std::map<std::string, MeasureTables> measures;  // by code
  std::map<std::string, SownTables> sown;         // by the name of its folder
  std::vector<results::SplitBlock> splits;
  std::vector<results::Footing> sampling;
  std::vector<results::EventLine> events;
  std::vector<results::TestFacts> tests;
  std::vector<results::EntryStanding> standings;
  std::vector<results::VarietyLine> varieties;
  results::RaterFigures raters;
  std::vector<results::SownYear> sown_years;
  std::vector<results::StandPersistence> stands;  // by the names in print, as grazing
  std::vector<results::GrazingTest> grazing;
  std::vector<results::FieldTrend> trends;  // as stands; of yields, as gains
  std::vector<results::DesignGain> gains;
  std::vector<Error> left_out;
  std::vector<Error> notices;
  results::EntryNames names;
};

// Errors: a unit that is none of yields.
[[nodiscard]] Result<Made> make_tables(const results::LedgerFacts& facts,
                                       const TablesWanted& wanted, const Definitions& definitions,
                                       const SoilTables& soil);

}  // namespace ligule::desk
