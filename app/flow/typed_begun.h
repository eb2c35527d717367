// What stands typed in a form and was not kept: it waits where it was typed, for whoever typed it.
// Used by update; not for other rooms.
#pragma once

#include <map>
#include <utility>

#include "app/flow/model.h"

namespace ligule::flow {

// Whether what was begun in one place is that of whoever holds the tablet.
template <class Key>
[[nodiscard]] bool begun_by_holder(const Model& model, const std::map<Key, TypedBegun>& all,
                                   const Key& place) {
  const auto at = all.find(place);
  return at != all.end() && model.person && at->second.by == model.person->id;
}

// Puts aside what stands in the fields of a place, as it is shown untouched and as it is now, for
// whoever holds the tablet; where nothing is typed theirs is forgotten.
template <class Key>
void set_typed_aside(const Model& model, std::map<Key, TypedBegun>& all, const Key& place,
                     const std::vector<std::string>& shown, std::vector<std::string> now) {
  if (!model.person) return;
  if (now != shown)
    all[place] = {model.person->id, std::move(now)};
  else if (begun_by_holder(model, all, place))
    all.erase(place);
}

}  // namespace ligule::flow
