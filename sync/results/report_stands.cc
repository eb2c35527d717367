#include "sync/results/report_stands.h"

#include <algorithm>
#include <array>
#include <utility>

#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

std::string note_list(const std::vector<std::string>& notes) {
  std::string items;
  for (const std::string& each : notes) items += element("li", escaped(each)) + "\n";
  return items.empty() ? items : element("ul", "\n" + items, "class=\"notes\"") + "\n";
}

TableStyle of_ratings(const ReportText& text) {
  TableStyle style = table_style(text);
  style.percents = false;
  return style;
}

// First and last pass are those of the entries that have a percent left.
const EntryStand* measured_entry(const StandPersistence& stands) {
  const auto found = std::ranges::find_if(
      stands.entries, [](const EntryStand& entry) { return entry.percent_left.has_value(); });
  return found == stands.entries.end() ? nullptr : &*found;
}

const Analysis* stand_at(const StandPersistence& stands, const StandEnd& end) {
  const auto pass = std::ranges::find_if(stands.passes, [&](const StandPass& each) {
    return each.year == end.year && each.pass == end.pass;
  });
  return pass == stands.passes.end() ? nullptr : &pass->stand;
}

std::string stand_table(const StandPersistence& stands, const ReportText& text) {
  const EntryStand* const entry = measured_entry(stands);
  if (entry == nullptr) return note_list(stands.notes);
  Columns columns;
  for (const auto& [end, name] :
       {std::pair{&entry->first, "First stand"}, std::pair{&entry->last, "Last stand"}}) {
    const Analysis* const stand = stand_at(stands, *end);
    if (stand != nullptr)
      columns.push_back({.analysis = stand,
                         .heading = name,
                         .below = format_date(end->on) + ", %",
                         .is_rating = true});
  }
  columns.push_back(
      {.analysis = &stands.left, .heading = "Left", .below = "% of the first", .is_rating = true});
  std::string caption = "Stand persistence by " + in_words(stands.measure);
  if (entry->years_in_ground)
    caption += ", " + rounded(*entry->years_in_ground, 1) + " years in the ground";
  std::vector<std::string> notes{kStandLeftRead};
  notes.insert(notes.end(), stands.notes.begin(), stands.notes.end());
  return entry_table(columns, caption, of_ratings(text)) + note_list(notes);
}

std::string heading_of(GrazingFigure figure) {
  switch (figure) {
    case GrazingFigure::kStandBeforeFirst:
      return "Stand before grazing";
    case GrazingFigure::kStandAfterLast:
      return "Stand after grazing";
    case GrazingFigure::kStandKept:
      return "Stand kept";
    case GrazingFigure::kPreference:
      return "Preference";
    case GrazingFigure::kPercentRemoved:
      return "Removed";
  }
  return {};
}

std::string below_of(const GrazedPass& pass) {
  std::string below = format_date(pass.on);
  if (pass.figure == GrazingFigure::kStandKept) below = "% of the one before";
  if (!pass.hours_after_turn_in.empty())
    below += ", " + pass.hours_after_turn_in + " h after turn-in";
  if (pass.figure != GrazingFigure::kPreference && pass.figure != GrazingFigure::kStandKept)
    below += ", %";
  if (pass.direction == Direction::kNone) below += ", neither end is best";
  return below;
}

}  // namespace

std::string stand_tables(const ReportTest& test, const ReportText& text) {
  std::string html;
  for (const StandPersistence& stands : text.stands) {
    if (stands.test == test.test) html += stand_table(stands, text);
  }
  return html;
}

std::string grazing_table(const ReportTest& test, const ReportText& text) {
  const auto grazed = std::ranges::find(text.grazing, test.test, &GrazingTest::test);
  if (grazed == text.grazing.end()) return {};
  Columns columns;
  bool preference = false;
  for (const GrazedPass& pass : grazed->passes) {
    preference = preference || pass.figure == GrazingFigure::kPreference;
    columns.push_back({.analysis = &pass.analysis,
                       .heading = heading_of(pass.figure),
                       .below = below_of(pass),
                       .is_rating = true,
                       .is_ratio = pass.figure != GrazingFigure::kPreference});
  }
  std::string caption = "Grazing";
  if (const auto& in = grazed->first_in) caption += ", animals first in " + format_date(*in);
  if (const auto& out = grazed->last_out) caption += ", last out " + format_date(*out);
  std::string html =
      columns.empty() ? std::string() : entry_table(columns, caption, of_ratings(text));
  std::vector<std::string> notes;
  if (preference) notes.emplace_back(kGrazingCaution);
  notes.insert(notes.end(), grazed->notes.begin(), grazed->notes.end());
  return html + note_list(notes);
}

}  // namespace ligule::results
