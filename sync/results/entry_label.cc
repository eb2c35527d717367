#include "sync/results/entry_label.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>
#include <vector>

#include "storage/files/alike_names.h"

namespace ligule::results {
namespace {

constexpr std::string_view kAround = " \t(),";

struct LabelWord {
  std::size_t begin = 0, end = 0;  // in the label, what stands around it left away
  std::string small;
  bool opens = false;  // a parenthesis opens before it
};

std::string small_letters(std::string_view text) {
  std::string small(text);
  for (char& c : small)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return small;
}

std::vector<LabelWord> label_words(std::string_view label) {
  std::vector<LabelWord> words;
  for (std::size_t from = 0; from < label.size();) {
    const std::size_t begin = label.find_first_not_of(kAround, from);
    if (begin == std::string_view::npos) break;
    const std::size_t end = std::min(label.find_first_of(kAround, begin), label.size());
    const bool opens = label.substr(from, begin - from).contains('(');
    words.push_back({begin, end, small_letters(label.substr(begin, end - begin)), opens});
    from = end;
  }
  return words;
}

// The minus of a spreadsheet may be a hyphen, a dash or a minus sign.
constexpr std::array<std::pair<std::string_view, Endophyte>, 11> kStatusWords{
    {{"novel", Endophyte::kNovel},
     {"beneficial", Endophyte::kNovel},
     {"endophyte-free", Endophyte::kFree},
     {"e-", Endophyte::kFree},
     {"e\u2013", Endophyte::kFree},
     {"e\u2212", Endophyte::kFree},
     {"toxic", Endophyte::kToxic},
     {"wild-type", Endophyte::kToxic},
     {"wildtype", Endophyte::kToxic},
     {"e+", Endophyte::kToxic},
     {"endophyte-infected", Endophyte::kToxic}}};

struct Status {
  Endophyte endophyte = Endophyte::kNotStated;
  std::size_t words = 0;  // it is written in
};

Status status_at(const std::vector<LabelWord>& words, std::size_t i) {
  const LabelWord& word = words[i];
  for (const auto& [name, endophyte] : kStatusWords)
    if (word.small == name) return {endophyte, 1};
  // "Alder free" is a name; "Alder (free)" says it.
  if (word.small == "free" && word.opens) return {Endophyte::kFree, 1};
  if (i + 1 == words.size()) return {};
  const std::string& next = words[i + 1].small;
  if (word.small == "endophyte" && next == "free") return {Endophyte::kFree, 2};
  if (word.small == "wild" && next == "type") return {Endophyte::kToxic, 2};
  return {};
}

std::string without_signs(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(kAround);
  if (begin == std::string_view::npos) return {};
  return std::string(text.substr(begin, text.find_last_not_of(kAround) - begin + 1));
}

}  // namespace

EntryLabel split_label(std::string_view label) {
  const std::vector<LabelWord> words = label_words(label);
  for (std::size_t i = 1; i < words.size(); ++i) {
    const Status status = status_at(words, i);
    if (status.words == 0) continue;
    const std::size_t last = i + status.words - 1;
    return {without_signs(label.substr(0, words[i].begin)), status.endophyte,
            without_signs(label.substr(words[last].end))};
  }
  return {std::string(label), Endophyte::kNotStated, {}};
}

bool same_endophyte(const EntryLabel& a, const EntryLabel& b) {
  if (a.endophyte != b.endophyte) return false;
  const files::Alike strains = files::alike(a.strain, b.strain);
  return strains == files::Alike::kSame ||
         (!a.strain.empty() && !b.strain.empty() && strains == files::Alike::kSpelledApart);
}

std::string endophyte_words(const EntryLabel& label) {
  const std::string strain = label.strain.empty() ? std::string() : " " + label.strain;
  switch (label.endophyte) {
    case Endophyte::kNotStated:
      return "no endophyte stated";
    case Endophyte::kNovel:
      return "novel" + strain;
    case Endophyte::kFree:
      return "endophyte-free" + strain;
    case Endophyte::kToxic:
      return "toxic" + strain;
  }
  std::unreachable();
}

}  // namespace ligule::results
