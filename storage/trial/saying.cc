#include "storage/trial/saying.h"

#include "storage/trial/composite.h"
#include "storage/trial/said.h"

namespace ligule::said {

Saying saying_of(const Record& record) {
  Saying saying;
  saying.state = record.state;
  saying.value = record.value;
  saying.unit = record.unit;
  saying.weeds_only = record.measure == measure::kGrossWeight && weeds_only(record.details);
  saying.by_words = !record.value.has_value() || is_composite_text(record.entered);
  if (saying.by_words) saying.words = record.entered;
  return saying;
}

}  // namespace ligule::said
