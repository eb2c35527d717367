#include "sync/results/event_lines.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "storage/trial/details.h"
#include "storage/trial/no_entry.h"

namespace ligule::results {
namespace {

using Word = std::pair<std::string_view, std::string_view>;
constexpr std::array kKinds{Word{"clipped", "clipped, not weighed"},
                            Word{"grazing_in", "animals in"}, Word{"grazing_out", "animals out"},
                            Word{"went_in", "somebody went in before the time on the label"},
                            Word{"went_beside", "worked beside a sprayed trial of the field"}};
// In the order in which they are told; {} stands for the text.
constexpr std::array kFacts{Word{"material", "{}"},
                            Word{"rate", "{}"},
                            Word{"animals", "{}"},
                            Word{"head", "{} head"},
                            Word{"height_before", "{} high before"},
                            Word{"height_after", "{} high after"}};

std::string kind_word(const std::string& code) {
  const auto* const at = std::ranges::find(kKinds, code, &Word::first);
  return at == kKinds.end() ? code : std::string(at->second);
}

std::string filled(std::string_view pattern, const std::string& text) {
  const std::size_t at = pattern.find("{}");
  return std::string(pattern.substr(0, at)) + text + std::string(pattern.substr(at + 2));
}

void join(std::string& list, const std::string& more) {
  if (!more.empty()) list += (list.empty() ? "" : "; ") + more;
}

std::string no_entry_words(const Record& record) {
  const auto what = no_entry_of(record);
  if (!what) return {};
  const std::string until = until_text(*what, record.at.offset);
  switch (what->by) {
    case NoEntryBy::kHours:
      return "no entry until " + until + " (" + what->hours + " h on the label)";
    case NoEntryBy::kUntil:
      return "no entry until " + until;
    case NoEntryBy::kNone:
      return "the label names no time of entry";
    case NoEntryBy::kNotKnown:
      break;
  }
  return "time of entry not known";
}

// Codes as people read them: "label allows".
std::string reason_words(const Record& record) {
  if (record.entered == "went_in" && record.reason == "label_allows")
    return "said that the label allows it";
  return record.reason.empty() ? std::string() : "“" + record.reason + "”";
}

std::string text_of(const Record& record, const std::string& on) {
  std::string text = on + ", " + kind_word(record.entered);
  if (const std::string block = detail(record.details, "block"); !block.empty())
    text += ", block " + block;
  std::string facts;
  for (const auto& [key, pattern] : kFacts) {
    const std::string fact = detail(record.details, std::string(key));
    if (!fact.empty()) join(facts, filled(pattern, fact));
  }
  join(facts, no_entry_words(record));
  join(facts, reason_words(record));
  return facts.empty() ? text : text + ": " + facts;
}

}  // namespace

std::vector<EventLine> event_lines(const TrialFacts& trial, const std::string& test) {
  struct Dated {
    CalendarDate on;
    const Record* record;
  };
  std::vector<Dated> events;
  for (const TrialEvent& event : trial.events) {
    if (event.taken_back || event.record.entered == kNamesShown) continue;
    const auto on = parse_date(detail(event.record.details, "on"));
    events.push_back({on ? *on : event.record.at.local_date, &event.record});
  }
  std::ranges::stable_sort(events, {}, &Dated::on);
  std::vector<EventLine> lines;
  lines.reserve(events.size());
  for (const auto& [on, record] : events)
    lines.push_back({test, static_cast<int>(on.year()), text_of(*record, format_date(on))});
  return lines;
}

}  // namespace ligule::results
