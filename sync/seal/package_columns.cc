#include "sync/seal/package_columns.h"

#include <algorithm>
#include <array>
#include <vector>

namespace ligule::seal {
namespace {

using enum files::CellType;
using files::kMayBeEmpty;
using files::kRequired;

std::vector<files::Column> columns_of_records() {
  const std::vector<std::string> purposes{"survey", "repeat", "second", "practice"};
  const std::vector<std::string> states{"value", "zero", "missing", "on hold", "later"};
  const std::vector<std::string> sources{"tapped", "typed", "scale", "imported", "paper"};
  return {
      {"stream", kUuid, kRequired, "the stream the record belongs to"},
      {"seq", kCounted, kRequired, "place in the stream, from 1 without gaps"},
      {"id", kUuid, kRequired, "id of the record, made when the act happened"},
      {"kind", kText, kRequired, "what the record says: reading, correction, plan ..."},
      {"format", kCounted, kRequired, "format of the record"},
      {"utc_ms", kInteger, kRequired, "Unix milliseconds by the device's clock"},
      {"offset_min", kInteger, kRequired, "local time minus UTC, minutes"},
      {"local_date", kDate, kRequired, "date on the wall"},
      {"person", kUuid, kMayBeEmpty, "who; empty for what the program does itself"},
      {"trial", kUuid, kMayBeEmpty, "the trial (study in MIAPPE)"},
      {"plan", kDigest, kMayBeEmpty, "SHA-256 of the canonical plan text in force"},
      {"subject", kUuid, kMayBeEmpty,
       "plot (observation unit in MIAPPE), or the bag_number reading of a bag"},
      {"measure", kText, kMayBeEmpty,
       "code of the measure (with its scale the observed variable in MIAPPE)"},
      {"occasion", kUuid, kMayBeEmpty, "rating pass or cutting"},
      {"part", kCounted, kMayBeEmpty, "n-th of several in one act"},
      {"run", kUuid, kMayBeEmpty, "the harvest_run record"},
      {"purpose", kWord, kMayBeEmpty, "only survey values count in results", purposes},
      {"state", kWord, kMayBeEmpty, "what kind of value it is", states},
      {"entered", kText, kMayBeEmpty, "exactly as entered"},
      {"unit", kText, kMayBeEmpty, "unit it was entered in"},
      {"value", kNumber, kMayBeEmpty, "entered, parsed once"},
      {"definition", kDigest, kMayBeEmpty, "SHA-256 of the canonical scale text"},
      {"targets", kUuids, kMayBeEmpty, "records whose claim this one replaces"},
      {"reason", kText, kMayBeEmpty, "why"},
      {"answers", kText, kMayBeEmpty, "rule=answer, one semicolon between"},
      {"blind", kBoolean, kMayBeEmpty,
       "1: entry not shown to this person in this rating before the value"},
      {"source", kWord, kMayBeEmpty, "how the value came in", sources},
      {"raw", kText, kMayBeEmpty, "the indicator's line as received"},
      {"details", kObject, kMayBeEmpty, "what this kind of record has besides"},
  };
}

// What MIAPPE (1.1, github.com/MIAPPE/MIAPPE, Mapping/MIAPPE_Checklist_Mapping.tsv) and BrAPI (2,
// an observation and what it belongs to) call a column of records.csv; said from format 2 on.
struct Terms {
  const char* column;
  const char* miappe;
  const char* brapi;
};
constexpr std::array<Terms, 9> kTerms{{{"id", "", "observationDbId"},
                                       {"person", "Person ID", "collector"},
                                       {"trial", "Study unique ID", "studyDbId"},
                                       {"subject", "Observation unit ID", "observationUnitDbId"},
                                       {"measure", "Variable ID", "observationVariableDbId"},
                                       {"unit", "Scale", "scale.units"},
                                       {"value", "", "value"},
                                       {"utc_ms", "", "observationTimeStamp"},
                                       {"definition", "Method description", "method.description"}}};

std::vector<files::Column> with_terms(std::vector<files::Column> columns) {
  for (const Terms& terms : kTerms) {
    const auto at = std::ranges::find(columns, terms.column, &files::Column::name);
    at->miappe = terms.miappe;
    at->brapi = terms.brapi;
  }
  return columns;
}

std::vector<files::Column> columns_of_stream() {
  return {
      {"stream", kUuid, kRequired, "one unbroken run of one ledger"},
      {"device", kText, kRequired, "name of the tablet or desk when the stream began"},
      {"public_key", kDigest, kRequired, "Ed25519 public key that signs the stream's files"},
      {"continues", kUuid, kMayBeEmpty, "the stream this ledger wrote before"},
      {"demo", kBoolean, kRequired, "1: made for demonstration, never mix into real results"},
      {"first", kCounted, kRequired, "seq of the first record in this file"},
      {"last", kCounted, kRequired, "seq of the last record in this file"},
      {"digest_before", kDigest, kRequired, "digest of the chain before the first record"},
      {"head", kDigest, kRequired, "digest of the chain at the last record"},
  };
}

}  // namespace

std::span<const files::Column> record_columns() {
  static const std::vector<files::Column> columns = with_terms(columns_of_records());
  return columns;
}

std::span<const files::Column> stream_columns() {
  static const std::vector<files::Column> columns = columns_of_stream();
  return columns;
}

}  // namespace ligule::seal
