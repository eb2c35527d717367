// A stream whose season file has wide tables.
#pragma once

#include "storage/trial/plan.h"
#include "tests/storage/ledger/sample.h"
#include "tests/sync/seal/season_fixture.h"

namespace ligule::seal {

// A plan, a person, a scale, and two ratings on it.
inline Season rated_season() {
  Season season;
  const Plan plan = ledger::sample::plan();
  season.take(ledger::sample::plan_record(10, plan));
  Record person = season.envelope(kind::kPerson);
  person.person = person_id("ab");
  person.subject = person_id("ab").uuid;
  person.entered = "ab";
  season.add(person);
  Scale scale;
  scale.code = "percent_stand";
  scale.kind = ScaleKind::kPercent;
  scale.units = {"%"};
  scale.minimum = 0;
  scale.maximum = 100;
  scale.definition = "ground that the sown stand covers";
  scale.source = "common practice, no source";
  Record definition = season.envelope(kind::kDefinition);
  definition.entered = scale.code;
  definition.details = scale_text(scale);
  definition.definition = sha256(definition.details).hex();
  season.add(definition);
  std::uint64_t n = 20;
  for (const auto& [plot, entered] : {std::pair("101", "85"), std::pair("102", "70")}) {
    Record reading = ledger::sample::reading(n++, plot, "percent_stand", entered);
    reading.person = person_id("ab");
    reading.definition = definition.definition;
    reading.unit = "%";
    season.take(reading);
  }
  return season;
}

}  // namespace ligule::seal
