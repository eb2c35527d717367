#include "sync/wide/plan_tables.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "storage/trial/plan.h"
#include "storage/trial/seed.h"
#include "sync/wide/cells.h"

// Words of MIAPPE and BrAPI fields: the check list's own mapping, MIAPPE 1.1,
// github.com/MIAPPE/MIAPPE, Mapping/MIAPPE_Checklist_Mapping.tsv; coordinates and entry type of a
// plot: observationUnitPosition of BrAPI 2.

namespace ligule::wide {
namespace {

using enum files::CellType;
using files::Column;
using files::kMayBeEmpty;
using files::kRequired;

Column trial_column() {
  return {"trial", kUuid, kRequired, "the trial", {}, "Study unique ID", "studyDbId"};
}

std::string digest_of(const Plan& plan) {
  return sha256(plan_text(plan)).hex();
}

std::string as_text(int number) {
  return std::to_string(number);
}

// In metres; empty where the plan says none, or what is no length.
std::string metres(const StatedLength& stated) {
  const Result<Metres> length = stated.metres();
  return length && std::isfinite(length->value()) ? format_number(length->value()) : std::string();
}

// Of what somebody typed; empty where it is no number.
std::string number_in(std::string_view text) {
  const auto number = parse_number(text);
  return number ? format_number(*number) : std::string();
}

// In kg per hectare, alike.
std::string rate_of(const PlanEntry& entry) {
  const auto rate = sowing_rate(entry.sowing_rate, entry.sowing_rate_unit);
  return rate && std::isfinite(rate->value()) ? format_number(rate->value()) : std::string();
}

// What a definition record says of a scale, as a row.
std::vector<std::string> scale_row(const std::string& digest, const Scale& scale) {
  std::vector<std::string> steps;
  steps.reserve(scale.steps.size());
  for (const ScaleStep& step : scale.steps)
    steps.push_back(step.code + "=" + format_number(step.value));
  return {digest,
          "scale",
          scale.code,
          std::string(name_of(scale.kind)),
          std::string(name_of(scale.direction)),
          scale.units.empty() ? std::string() : scale.units.front(),
          cell(scale.minimum),
          cell(scale.maximum),
          cell(steps),
          scale.definition,
          scale.source};
}

}  // namespace

WideTable trials_table(const results::LedgerFacts& facts) {
  WideTable table{
      .name = "trials",
      .description = "Trials, by the revision of the plan that is in force in these records.",
      .columns =
          {trial_column(),
           {"station", kText, kMayBeEmpty, "code of the station"},
           {"site", kText, kMayBeEmpty, "code of the site"},
           {"site_name",
            kText,
            kMayBeEmpty,
            "the site as people call it",
            {},
            "Experimental site name",
            "location.name"},
           {"field", kText, kMayBeEmpty, "the field"},
           {"code", kText, kMayBeEmpty, "code of the trial at its site"},
           {"title",
            kText,
            kMayBeEmpty,
            "the trial as people call it",
            {},
            "Study title",
            "studyName"},
           {"sown", kDate, kRequired, "day it was sown"},
           {"design",
            kText,
            kMayBeEmpty,
            "rcb: complete blocks, each entry once in each; crd: completely at random; latin: a "
            "Latin square of rows and columns; alpha: incomplete blocks in each block; "
            "row_column: complete blocks with entries spread over rows and columns",
            {},
            "Type of experimental design",
            "experimentalDesign.PUI"},
           {"plan", kDigest, kRequired, "SHA-256 of the canonical plan text in force"},
           {"drilled", kBoolean, kRequired, "1: sown in rows; 0: broadcast"},
           {"plot_length_m", kNumber, kMayBeEmpty, "plot as sown, metres"},
           {"plot_width_m", kNumber, kMayBeEmpty, "plot as sown, metres"},
           {"alley_m", kNumber, kMayBeEmpty, "ground between rows of plots, metres"},
           {"border_m", kNumber, kMayBeEmpty, "ground around all plots, metres"},
           {"random_seed", kText, kMayBeEmpty,
            "what the drawing of the plots began with: the same number draws the same plots"}},
      .primary_key = {"trial"}};
  for (const results::TrialFacts& trial : facts.trials) {
    const Plan& plan = trial.plan;
    table.add({plan.id().text(), plan.codes.station, plan.codes.site, plan.site_name, plan.field,
               plan.codes.trial, plan.title, format_date(plan.sown), plan.design, digest_of(plan),
               plan.drilled ? "1" : "0", metres(plan.plot_length), metres(plan.plot_width),
               metres(plan.alley), metres(plan.border), plan.random_seed});
  }
  return table;
}

WideTable occasions_table(const results::LedgerFacts& facts) {
  WideTable table{
      .name = "occasions",
      .description = "Ratings and cuttings that the plans name.",
      .columns =
          {{"occasion", kUuid, kRequired, "the rating or cutting"},
           trial_column(),
           {"code", kText, kMayBeEmpty, "its code in the plan"},
           {"job", kWord, kRequired, "plots are rated, or cut and weighed", {"rate", "harvest"}},
           {"year", kInteger, kRequired, "growing year"},
           {"cutting", kInteger, kMayBeEmpty, "of a cutting: first, second ... of its year"},
           {"measures", kText, kMayBeEmpty, "codes of what is asked for, one space between"},
           {"due", kDate, kMayBeEmpty, "day it was planned for"},
           {"entries", kText, kMayBeEmpty,
            "codes of the entries it is for, one space between; empty: for all"},
           {"hours_after_turn_in", kNumber, kMayBeEmpty,
            "hours since the animals went in, of a rating of grazed plots"}},
      .primary_key = {"occasion"},
      .references = {{"trial", "trials", "trial"}}};
  for (const results::TrialFacts& trial : facts.trials) {
    for (const PlanOccasion& occasion : trial.plan.occasions) {
      table.add({trial.plan.occasion(occasion).text(), trial.plan.id().text(), occasion.code,
                 std::string(name_of(occasion.job)), as_text(occasion.year),
                 occasion.cutting > 0 ? as_text(occasion.cutting) : std::string(),
                 cell(occasion.measures), cell(occasion.due), cell(occasion.entries),
                 number_in(occasion.hours_after_turn_in)});
    }
  }
  return table;
}

WideTable entries_table(const results::LedgerFacts& facts) {
  WideTable table{
      .name = "entries",
      .description =
          "Entries of the trials: a variety with its endophyte, and the lot that was sown.",
      .columns = {{"entry",
                   kUuid,
                   kRequired,
                   "the entry of its trial",
                   {},
                   "Biological material ID",
                   "germplasmDbId"},
                  trial_column(),
                  {"code", kText, kMayBeEmpty, "blind code on stakes and packets"},
                  {"label", kText, kMayBeEmpty,
                   "name it is published under: variety and endophyte"},
                  {"species",
                   kText,
                   kMayBeEmpty,
                   "code of the species",
                   {},
                   "Species",
                   "germplasmSpecies"},
                  {"variety", kText, kMayBeEmpty, "variety", {}, "Infraspecific name", "subtaxa"},
                  {"endophyte",
                   kWord,
                   kRequired,
                   "status of the endophyte",
                   {"novel", "free", "toxic", "not stated"}},
                  {"strain", kText, kMayBeEmpty, "strain of the endophyte"},
                  {"role",
                   kWord,
                   kRequired,
                   "check: a known variety the others are held against; filler: no candidate",
                   {"test", "check", "filler"},
                   {},
                   "observationUnitPosition.entryType"},
                  {"seed_lot",
                   kText,
                   kMayBeEmpty,
                   "lot of the seed",
                   {},
                   "Material source ID (Holding institute/stock centre, accession)",
                   "donorAccessionNumber"},
                  {"endophyte_percent", kText, kMayBeEmpty,
                   "in how many of 100 tillers or seeds a test found the endophyte"},
                  {"endophyte_tested", kDate, kMayBeEmpty, "day of that test"},
                  {"seed_harvested", kDate, kMayBeEmpty, "day the seed was harvested"},
                  {"germination", kText, kMayBeEmpty, "percent of the lot that germinates"},
                  {"hard_seed", kText, kMayBeEmpty, "percent of the lot that is hard or dormant"},
                  {"purity", kText, kMayBeEmpty, "percent of the lot that is pure seed, by weight"},
                  {"sowing_rate_kg_ha", kNumber, kMayBeEmpty,
                   "pure live seed that was to be sown, kg per hectare"}},
      .primary_key = {"entry"},
      .references = {{"trial", "trials", "trial"}}};
  for (const results::TrialFacts& trial : facts.trials) {
    for (const PlanEntry& entry : trial.plan.entries) {
      table.add({trial.plan.entry(entry).text(), trial.plan.id().text(), entry.code, entry.label(),
                 entry.species, entry.variety, std::string(name_of(entry.endophyte)), entry.strain,
                 std::string(name_of(entry.role)), entry.seed_lot, entry.endophyte_percent,
                 cell(entry.endophyte_tested), cell(entry.seed_harvested), entry.germination,
                 entry.hard_seed, entry.purity, rate_of(entry)});
    }
  }
  return table;
}

WideTable plots_table(const results::LedgerFacts& facts) {
  WideTable table{
      .name = "plots",
      .description =
          "Plots as planned; what a plot really held stands in each row that goes by it.",
      .columns =
          {{"plot", kUuid, kRequired, "the plot", {}, "Observation unit ID", "observationUnitDbId"},
           trial_column(),
           {"number", kText, kMayBeEmpty, "number on the stake"},
           {"block",
            kInteger,
            kRequired,
            "block (replication)",
            {},
            "Spatial distribution",
            "observationUnitPosition.observationLevelRelationships"},
           {"row",
            kInteger,
            kRequired,
            "place in the field",
            {},
            "Spatial distribution",
            "observationUnitPosition.positionCoordinateY"},
           {"column",
            kInteger,
            kRequired,
            "place in the field",
            {},
            "Spatial distribution",
            "observationUnitPosition.positionCoordinateX"},
           {"path", kInteger, kRequired, "place along the plot path"},
           {"entry", kUuid, kRequired, "the entry that was to be sown"},
           {"incomplete_block",
            kInteger,
            kMayBeEmpty,
            "of design alpha: part of its block, from 1 in each",
            {},
            "Spatial distribution",
            "observationUnitPosition.observationLevelRelationships"}},
      .primary_key = {"plot"},
      .references = {{"trial", "trials", "trial"}, {"entry", "entries", "entry"}}};
  for (const results::TrialFacts& trial : facts.trials) {
    for (const PlanPlot& plot : trial.plan.along_path()) {
      const EntryId entry = entry_id(trial.plan.id(), plot.entry);
      table.add({trial.plan.plot(plot).text(), trial.plan.id().text(), plot.number,
                 as_text(plot.block), as_text(plot.row), as_text(plot.column), as_text(plot.path),
                 entry.text(),
                 plot.incomplete_block > 0 ? as_text(plot.incomplete_block) : std::string()});
    }
  }
  return table;
}

WideTable soil_table(const results::LedgerFacts& facts) {
  WideTable table{
      .name = "soil",
      .description = "Soil tests of the trials, a property each, as the laboratory has them.",
      .columns = {trial_column(),
                  {"property", kText, kMayBeEmpty, "ph, p, k ..."},
                  {"value", kNumber, kMayBeEmpty, "in unit"},
                  {"unit", kText, kMayBeEmpty, "of value; empty of pH"},
                  {"extractant", kText, kMayBeEmpty,
                   "what it was extracted with; values of two extractants do not compare"},
                  {"depth", kNumber, kMayBeEmpty, "how deep the samples were taken, in depth_unit"},
                  {"depth_unit", kText, kMayBeEmpty, "unit of depth"},
                  {"laboratory", kText, kMayBeEmpty, "who analysed it"},
                  {"sampled", kDate, kMayBeEmpty, "day the samples were taken"}},
      .primary_key = {"trial", "property"},
      .references = {{"trial", "trials", "trial"}}};
  for (const results::TrialFacts& trial : facts.trials) {
    for (const SoilTest& test : trial.plan.soil) {
      table.add({trial.plan.id().text(), test.property, number_in(test.value), test.unit,
                 test.extractant, number_in(test.depth), test.depth_unit, test.lab,
                 cell(test.sampled)});
    }
  }
  return table;
}

WideTable people_table(const results::LedgerFacts& facts) {
  WideTable table{
      .name = "people",
      .description = "Who recorded: initials, as they were first noted.",
      .columns = {{"person", kUuid, kRequired, "the person", {}, "Person ID", "contactDbId"},
                  {"initials", kText, kMayBeEmpty, "as typed"}},
      .primary_key = {"person"}};
  for (const auto& [person, initials] : facts.people) table.add({person.text(), initials});
  return table;
}

Result<WideTable> definitions_table(const ledger::Ledger& ledger) {
  WideTable table{
      .name = "definitions",
      .description = "Scales that values were given on, and limits that asked about values.",
      .columns = {{"definition", kDigest, kRequired, "SHA-256 of its canonical text"},
                  {"about", kWord, kRequired, "a scale, or the limits", {"scale", "limits"}},
                  {"code", kText, kMayBeEmpty, "code of the scale", {}, "Scale", "scaleName"},
                  {"kind", kText, kMayBeEmpty, "kind of the scale"},
                  {"direction", kText, kMayBeEmpty, "which end is best"},
                  {"unit", kText, kMayBeEmpty, "unit of value, minimum and maximum"},
                  {"minimum", kNumber, kMayBeEmpty, "less is refused"},
                  {"maximum", kNumber, kMayBeEmpty, "more is refused"},
                  {"steps", kText, kMayBeEmpty, "code=value of each step, one space between"},
                  {"text",
                   kText,
                   kMayBeEmpty,
                   "what is judged; of limits their canonical text",
                   {},
                   "Method description",
                   "method.description"},
                  {"source",
                   kText,
                   kMayBeEmpty,
                   "where the scale is from",
                   {},
                   "Reference associated to the method",
                   "method.reference"}},
      .primary_key = {"definition"}};
  std::map<std::pair<std::string, std::string>, std::vector<std::string>> rows;  // code, digest
  for (const std::string_view defining : {kind::kDefinition, kind::kLimits}) {
    const auto records = ledger.of_kind(defining);
    if (!records) return std::unexpected(records.error());
    for (const Record& record : *records) {
      const std::string& digest = record.definition;
      if (defining == kind::kLimits) {
        rows.try_emplace({std::string(), digest},
                         std::vector<std::string>{digest, "limits", "", "", "", "", "", "", "",
                                                  record.details, ""});
      } else if (const auto scale = parse_scale_text(record.details)) {
        rows.try_emplace({scale->code, digest}, scale_row(digest, *scale));
      }
    }
  }
  for (auto& [key, row] : rows) table.add(std::move(row));
  return table;
}

}  // namespace ligule::wide
