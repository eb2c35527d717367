#include "sync/results/report_names.h"

#include "sync/results/entry_names.h"
#include "sync/results/html.h"

namespace ligule::results {
namespace {

std::string item_list(const std::string& lead, const std::string& items) {
  if (items.empty()) return {};
  return element("p", lead) + "\n" + element("ul", "\n" + items, "class=\"notes\"") + "\n";
}

}  // namespace

std::string names_section(const ReportText& text) {
  std::string joined, apart, decided;
  for (const AliasApplied& alias : text.aliases)
    joined += element("li", escaped(told(alias))) + "\n";
  for (const AlikeNames& names : text.alike) {
    apart += element("li", escaped(names.first) + " and " + escaped(names.second) +
                               (names.letter_apart ? ": a letter apart"
                                                   : ": one name, spelled "
                                                     "in two ways")) +
             "\n";
  }
  for (const NamesApart& names : text.apart) decided += element("li", escaped(told(names))) + "\n";
  if (joined.empty() && apart.empty() && decided.empty()) return {};
  const std::string html =
      element("h2", "Names") + "\n" +
      item_list("Values under one name that count under another, because somebody decided so:",
                joined) +
      item_list("Names that look alike. They count as entries of their own:", apart) +
      item_list("Names that somebody looked at:", decided);
  return element("section", "\n" + html, "id=\"names\"") + "\n";
}

}  // namespace ligule::results
