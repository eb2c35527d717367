// The soil test of a trial, and what tables say of it.
#include <utility>

#include "app/flow/view_parts.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

SoilSampleView soil_sample(const SoilTest& test) {
  SoilSampleView sample;
  if (test.sampled) sample.on = format_date(*test.sampled);
  if (!test.depth.empty()) sample.depth = test.depth + " " + test.depth_unit;
  sample.lab = test.lab;
  return sample;
}

SoilRow soil_row(const SoilTest& test, const SoilTables& tables) {
  SoilRow row{test.property, test.value, test.extractant, {}, soil_sample(test), {}};
  if (!test.unit.empty()) row.value += " " + test.unit;
  if (const SoilExtractant* const known = tables.extractant(test.extractant))
    row.extractant = known->code;
  if (const auto pounds = checks::soil_pounds_an_acre(test, tables))
    row.on_an_acre = format_number(*pounds) + " lb/acre";
  return row;
}

SoilJudgedView judged_of(const checks::SoilVerdict& verdict) {
  SoilJudgedView judged{verdict.for_names, verdict.said.standing, {}, verdict.said.source};
  judged.said.reserve(verdict.said.pieces.size());
  for (const checks::SoilSaid::Piece& piece : verdict.said.pieces)
    judged.said.push_back({piece.key, piece.arguments});
  return judged;
}

}  // namespace

std::vector<SoilRow> soil_rows(const Model& model, const Plan& plan) {
  const SoilTables& tables = model.setup.soil;
  std::vector<SoilRow> rows;
  std::optional<std::size_t> last;
  for (const checks::SoilVerdict& verdict :
       checks::soil_verdicts(plan, tables, model.setup.definitions)) {
    if (!verdict.test) {
      rows.push_back({verdict.property, {}, {}, {}, {}, {}});
      continue;
    }
    if (verdict.test != last) rows.push_back(soil_row(plan.soil.at(*verdict.test), tables));
    last = verdict.test;
    rows.back().judged.push_back(judged_of(verdict));
  }
  return rows;
}

}  // namespace ligule::flow
