#include "sync/gather/typed_line.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>
#include <vector>

#include "storage/files/csv.h"
#include "storage/trial/record_line.h"
#include "sync/gather/paper_values.h"

namespace ligule::gather {
namespace {

constexpr char kNoteMark = ';';
constexpr std::array<std::pair<std::string_view, Typed>, 6> kWords{{{"back", Typed::kBack},
                                                                    {"done", Typed::kDone},
                                                                    {"quit", Typed::kQuit},
                                                                    {"help", Typed::kHelp},
                                                                    {"?", Typed::kHelp},
                                                                    {"", Typed::kNothing}}};
constexpr std::string_view kTo = "to";

std::vector<std::string> words_in(std::string_view text) {
  std::vector<std::string> words;
  while (true) {
    text = files::without_blanks(text);
    if (text.empty()) return words;
    const std::size_t end = std::min(text.find_first_of(" \t"), text.size());
    words.emplace_back(text.substr(0, end));
    text.remove_prefix(end);
  }
}

// Columns with a value of their own on the line: all but the note.
std::vector<std::string> measures_of(std::span<const SheetColumn> columns) {
  std::vector<std::string> measures;
  for (const SheetColumn& column : columns)
    if (column.scales.front()->kind != ScaleKind::kText) measures.push_back(column.measure);
  return measures;
}

std::unexpected<Error> other_number(std::size_t given, const std::vector<std::string>& measures,
                                    const std::string& offered) {
  std::string order;
  for (const std::string& measure : measures) order.append(" ").append(measure);
  return fail(ErrorKind::kInvalid,
              std::to_string(given) + (given == 1 ? " value" : " values") + " where " +
                  std::to_string(measures.size()) + (measures.size() == 1 ? " is" : " are") +
                  " wanted",
              "", "write" + (offered.empty() ? " plot" + order : order + ", or plot" + order));
}

}  // namespace

Result<TypedLine> parse_typed_line(std::string_view text, std::span<const SheetColumn> columns,
                                   const std::string& offered) {
  const std::size_t mark = std::min(text.find(kNoteMark), text.size());
  std::vector<std::string> words = words_in(text.substr(0, mark));
  const bool noted = mark < text.size();
  const std::string note = noted ? cleaned(text.substr(mark + 1)) : std::string();
  if (!noted && words.size() <= 1) {
    const std::string word = words.empty() ? std::string() : words.front();
    for (const auto& [known, what] : kWords)
      if (word == known) return TypedLine{what, {}};
  }
  TypedLine typed{Typed::kValues, {"", {}, offered, {}}};
  if (!noted && words.size() == 2 && words.front() == kTo) {
    typed.what = Typed::kGoTo;
    typed.line.plot = words.back();
    return typed;
  }
  const std::vector<std::string> measures = measures_of(columns);
  const bool all_open = words.size() == 1 && words.front() == kLeftOpen && !offered.empty();
  if (words.size() == measures.size() + 1) {
    typed.line.plot = words.front();
    words.erase(words.begin());
  } else if (offered.empty() || (!all_open && words.size() != measures.size())) {
    return other_number(words.size(), measures, offered);
  }
  // Typed again as it is kept, it says the same whichever plot is offered.
  typed.line.raw = typed.line.plot;
  for (std::size_t n = 0; n < measures.size() && n < words.size(); ++n) {
    typed.line.raw.append(" ").append(words[n]);
    if (words[n] != kLeftOpen) typed.line.texts[measures[n]] = words[n];
  }
  if (note.empty()) return typed;
  typed.line.raw += " " + std::string(1, kNoteMark) + " " + note;
  const auto column = std::ranges::find_if(columns, [](const SheetColumn& each) {
    return each.scales.front()->kind == ScaleKind::kText;
  });
  if (column == columns.end())
    return fail(ErrorKind::kInvalid, "this rating has no note", "", "leave out what follows ';'");
  typed.line.texts[column->measure] = note;
  return typed;
}

}  // namespace ligule::gather
