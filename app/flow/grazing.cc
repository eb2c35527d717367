#include "app/flow/grazing.h"

#include <algorithm>
#include <utility>

#include "storage/trial/details.h"
#include "storage/trial/trial_event.h"

namespace ligule::flow {

std::optional<Grazing> grazing_of(const Record& event) {
  const bool in = event.entered == "grazing_in";
  if (event.kind != kind::kEvent || !event.trial || (!in && event.entered != "grazing_out"))
    return std::nullopt;
  const auto on = parse_date(detail(event.details, "on"));
  return Grazing{event.id, *event.trial, on ? *on : event.at.local_date,
                 detail(event.details, "block"), in};
}

bool animals_in(const Today& today, TrialId trial, CalendarDate day) {
  const std::vector<Grazing>& all = today.grazing;
  for (auto in = all.begin(); in != all.end(); ++in) {
    if (!in->in || in->trial != trial || in->on > day) continue;
    const bool out = std::ranges::any_of(all, [&](const Grazing& other) {
      // Of one day what was noted later came later.
      const bool later = other.on > in->on || (other.on == in->on && &other > &*in);
      return !other.in && other.trial == trial && other.on <= day && later &&
             (other.block.empty() || other.block == in->block);
    });
    if (!out) return true;
  }
  return false;
}

void grazing_kept(Today& today, const Record& record) {
  if (auto grazing = grazing_of(record)) {
    today.grazing.push_back(*std::move(grazing));
  } else if (takes_event_back(record)) {
    std::erase_if(today.grazing,
                  [&](const Grazing& each) { return each.event == record.targets.front(); });
  }
}

}  // namespace ligule::flow
