#include "sync/wide/visit.h"

namespace ligule::wide {

using enum files::CellType;
using files::kMayBeEmpty;
using files::kRequired;

std::vector<files::Column> visit_columns(files::Column told) {
  return {{"plot", kUuid, kRequired, "the plot", {}, "Observation unit ID", "observationUnitDbId"},
          {"occasion", kUuid, kRequired, "the rating or cutting"},
          {"test", kText, kMayBeEmpty, "what tables call the trial"},
          {"site", kText, kMayBeEmpty, "name of the site"},
          {"year", kInteger, kRequired, "growing year"},
          std::move(told),
          {"number", kText, kMayBeEmpty, "number on the stake"},
          {"block", kInteger, kRequired, "block (replication)"},
          {"entry", kText, kMayBeEmpty, "name of what the plot held; empty: it is out of results"}};
}

std::vector<std::string> visit_cells(const Visit& visit) {
  return {visit.plot.text(), visit.occasion.text(),       visit.test,
          visit.site,        std::to_string(visit.year),  visit.rating_or_cutting,
          visit.number,      std::to_string(visit.block), visit.entry};
}

std::vector<std::string> visit_key() {
  return {"plot", "occasion"};
}

std::vector<Reference> visit_references() {
  return {{"plot", "plots", "plot"}, {"occasion", "occasions", "occasion"}};
}

}  // namespace ligule::wide
