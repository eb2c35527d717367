#include "app/flow/plan_changes.h"

#include <algorithm>
#include <utility>

namespace ligule::flow {
namespace {

std::string joined(const std::vector<std::string>& texts) {
  std::string out;
  for (const std::string& text : texts) {
    if (!out.empty()) out += ", ";
    out += text;
  }
  return out;
}

// Of two lists: the keys of what only `from` has.
template <class Item>
std::vector<std::string> only_in(const std::vector<Item>& from, const std::vector<Item>& other,
                                 std::string Item::*key) {
  std::vector<std::string> keys;
  for (const Item& item : from)
    if (std::ranges::find(other, item.*key, key) == other.end()) keys.push_back(item.*key);
  return keys;
}

// The keys of what both have and what differs by `differs`.
template <class Item, class Differs>
std::vector<std::string> changed_in(const std::vector<Item>& before, const std::vector<Item>& after,
                                    std::string Item::*key, const Differs& differs) {
  std::vector<std::string> keys;
  for (const Item& item : after) {
    const auto at = std::ranges::find(before, item.*key, key);
    if (at != before.end() && differs(*at, item)) keys.push_back(item.*key);
  }
  return keys;
}

class Changes {
 public:
  Changes(const Plan& before, const Plan& after) : before_(before), after_(after) {}

  void add_occasions(const std::vector<std::string>& worked_on) {
    say("new_occasions", only_in(after_.occasions, before_.occasions, &PlanOccasion::code));
    std::vector<std::string> gone =
        only_in(before_.occasions, after_.occasions, &PlanOccasion::code);
    std::vector<std::string> with_values;
    std::erase_if(gone, [&](const std::string& code) {
      const bool worked = std::ranges::find(worked_on, code) != worked_on.end();
      if (worked) with_values.push_back(code);
      return worked;
    });
    say("no_occasions", gone);
    say("no_occasions_with_values", with_values);
    for (const PlanOccasion& occasion : after_.occasions) add_due(occasion);
    say("occasions", changed_in(before_.occasions, after_.occasions, &PlanOccasion::code,
                                [](PlanOccasion was, const PlanOccasion& is) {
                                  was.due = is.due;  // told by itself
                                  return was != is;
                                }));
  }

  void add_plots() {
    say("new_plots", only_in(after_.plots, before_.plots, &PlanPlot::number));
    say("no_plots", only_in(before_.plots, after_.plots, &PlanPlot::number));
    const auto changed = [&](const auto& differs) {
      return changed_in(before_.plots, after_.plots, &PlanPlot::number, differs);
    };
    say("plot_entries",
        changed([](const PlanPlot& was, const PlanPlot& is) { return was.entry != is.entry; }));
    say("plot_places", changed([](PlanPlot was, const PlanPlot& is) {
          was.entry = is.entry;
          return was != is;
        }));
  }

  void add_entries() {
    say("no_entries", only_in(before_.entries, after_.entries, &PlanEntry::code));
    const auto changed = [&](const auto& differs) {
      return changed_in(before_.entries, after_.entries, &PlanEntry::code, differs);
    };
    const auto other_name = [](const PlanEntry& was, const PlanEntry& is) {
      return was.label() != is.label() || was.species != is.species;
    };
    say("entry_names", changed(other_name));
    say("entry_facts", changed([&](const PlanEntry& was, const PlanEntry& is) {
          return !other_name(was, is) && was != is;
        }));
  }

  void add_scores() {
    say("scores", changed_in(before_.scores, after_.scores, &Scale::code,
                             [](const Scale& was, const Scale& is) { return was != is; }));
    say("new_scores", only_in(after_.scores, before_.scores, &Scale::code));
    say("no_scores", only_in(before_.scores, after_.scores, &Scale::code));
  }

  void add_rest() {
    if (before_.title != after_.title) changes_.push_back({"plan.change.title", {after_.title}});
    Plan was = before_;
    was.title = after_.title;
    was.parent = after_.parent;
    was.reason = after_.reason;
    was.entries = after_.entries;
    was.plots = after_.plots;
    was.occasions = after_.occasions;
    was.scores = after_.scores;
    if (was != after_) changes_.push_back({"plan.change.trial", {}});
  }

  std::vector<Words> take() { return std::move(changes_); }

 private:
  void say(const std::string& what, const std::vector<std::string>& codes) {
    if (!codes.empty()) changes_.push_back({"plan.change." + what, {joined(codes)}});
  }
  void add_due(const PlanOccasion& occasion) {
    const auto was = std::ranges::find(before_.occasions, occasion.code, &PlanOccasion::code);
    if (was == before_.occasions.end() || was->due == occasion.due) return;
    if (occasion.due)
      changes_.push_back({"plan.change.due", {occasion.code, format_date(*occasion.due)}});
    else
      changes_.push_back({"plan.change.no_due", {occasion.code}});
  }

  const Plan& before_;
  const Plan& after_;
  std::vector<Words> changes_;
};

}  // namespace

std::vector<Words> plan_changes(const Plan& before, const Plan& after,
                                const std::vector<std::string>& worked_on) {
  Changes changes(before, after);
  changes.add_occasions(worked_on);
  changes.add_plots();
  changes.add_entries();
  changes.add_scores();
  changes.add_rest();
  return changes.take();
}

}  // namespace ligule::flow
