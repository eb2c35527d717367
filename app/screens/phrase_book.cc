#include "app/screens/phrase_book.h"

#include <algorithm>
#include <charconv>
#include <set>
#include <utility>

namespace ligule::screens {
namespace {

// "{0}" or "{0!}" at the front of a text.
struct Mark {
  std::size_t number = 0;
  bool must_be_known = false;
  std::size_t size = 0;  // of the mark
};

std::optional<Mark> mark_at(std::string_view text) {
  const std::size_t close = text.find('}');
  if (!text.starts_with('{') || close == std::string_view::npos) return std::nullopt;
  Mark mark{.size = close + 1};
  std::string_view number = text.substr(1, close - 1);
  mark.must_be_known = number.ends_with('!');
  if (mark.must_be_known) number.remove_suffix(1);
  const auto [end, error] =
      std::from_chars(number.data(), number.data() + number.size(), mark.number);
  if (error != std::errc{} || end != number.data() + number.size()) return std::nullopt;
  return mark;
}

std::unexpected<Error> unusable(std::string what, std::string mend) {
  return fail(ErrorKind::kInvalid, std::move(what), {}, std::move(mend));
}

// What the holes between the literals hold, the first ones as little as they can; nullopt when
// the text is not made so.
std::optional<std::vector<std::string_view>> holdings(const std::vector<std::string>& literals,
                                                      std::string_view text) {
  const std::string& first = literals.front();
  const std::string& last = literals.back();
  if (literals.size() == 1) {
    if (text != first) return std::nullopt;
    return std::vector<std::string_view>{};
  }
  if (text.size() < first.size() + last.size() || !text.starts_with(first) || !text.ends_with(last))
    return std::nullopt;
  std::string_view rest = text.substr(first.size(), text.size() - first.size() - last.size());
  std::vector<std::string_view> held;
  for (std::size_t i = 1; i + 1 < literals.size(); ++i) {
    const std::size_t at = rest.find(literals[i]);
    if (at == std::string_view::npos) return std::nullopt;
    held.push_back(rest.substr(0, at));
    rest.remove_prefix(at + literals[i].size());
  }
  held.push_back(rest);
  return held;
}

}  // namespace

Result<void> PhraseBook::parse_english(std::string_view text, Phrase& phrase) {
  std::string literal;
  while (!text.empty()) {
    if (text.front() != '{') {
      literal += text.front();
      text.remove_prefix(1);
      continue;
    }
    const auto mark = mark_at(text);
    if (!mark || mark->number != phrase.holes.size())
      return unusable("its holes are not {0}, {1} ... in this order", "number them anew");
    phrase.holes.push_back({mark->number, mark->must_be_known});
    phrase.literals.push_back(std::exchange(literal, {}));
    text.remove_prefix(mark->size);
  }
  phrase.literals.push_back(std::move(literal));
  for (const std::string& each : phrase.literals) phrase.weight += each.size();
  // A hole alone would match every text, and be looked up in itself for ever.
  if (phrase.weight == 0) return unusable("it has no words of its own", "write some");
  return {};
}

Result<void> PhraseBook::parse_said(std::string_view text, Phrase& phrase) {
  std::set<std::size_t> used;
  Piece piece;
  bool open = false;
  const auto finish = [&] { phrase.said.push_back(std::exchange(piece, {})); };
  while (!text.empty()) {
    const auto mark = mark_at(text);
    if (mark) {
      if (mark->must_be_known || mark->number >= phrase.holes.size() || piece.hole)
        return unusable("its translation has holes that it has not", "use each as it is there");
      used.insert(mark->number);
      piece.hole = mark->number;
      if (!open) finish();
    } else if (text.front() == '[' && !open) {
      finish();
      piece.may_go = open = true;
    } else if (text.front() == ']' && open && piece.hole) {
      open = false;
      finish();
    } else if (text.front() == '[' || text.front() == ']' || text.front() == '{') {
      return unusable("a bracket stands where none can stand", "close each, with one hole in it");
    } else {
      (piece.hole ? piece.after : piece.before) += text.front();
    }
    text.remove_prefix(mark ? mark->size : 1);
  }
  finish();
  if (open) return unusable("a bracket is not closed", "close it after its hole");
  if (used.size() != phrase.holes.size())
    return unusable("its translation leaves a hole out", "use each hole, in [ ] if it may go");
  return {};
}

Result<PhraseBook::Phrase> PhraseBook::parse(std::string_view english, std::string_view said) {
  Phrase phrase;
  if (auto read = parse_english(english, phrase); !read) return std::unexpected(read.error());
  if (auto read = parse_said(said, phrase); !read) return std::unexpected(read.error());
  return phrase;
}

Result<std::vector<PhraseBook::Phrase>> PhraseBook::parse_all(const Phrases& phrases,
                                                              std::string_view where) {
  std::vector<Phrase> parsed;
  for (const auto& [english, said] : phrases) {
    auto phrase = parse(english, said);
    if (!phrase) {
      Error error = std::move(phrase).error();
      error.where = std::string(where) + ", '" + english + "'";
      return std::unexpected(std::move(error));
    }
    parsed.push_back(*std::move(phrase));
  }
  std::ranges::stable_sort(parsed, std::ranges::greater{}, &Phrase::weight);
  return parsed;
}

Result<PhraseBook> PhraseBook::make(const Phrases& texts, const Phrases& places,
                                    std::string_view where) {
  PhraseBook book;
  auto parsed = parse_all(texts, where);
  if (!parsed) return std::unexpected(std::move(parsed).error());
  book.texts_ = *std::move(parsed);
  parsed = parse_all(places, where);
  if (!parsed) return std::unexpected(std::move(parsed).error());
  book.places_ = *std::move(parsed);
  return book;
}

std::optional<std::string> PhraseBook::known(const Phrase& phrase, std::size_t at,
                                             std::string_view held) const {
  const bool quoted =
      phrase.literals[at].ends_with('\'') && phrase.literals[at + 1].starts_with('\'');
  if (quoted) return std::nullopt;
  // What a hole holds is shorter than the text, because a phrase has words of its own: this ends.
  if (auto said = text(held)) return said;
  return place(held);
}

std::optional<std::string> PhraseBook::said_by(const Phrase& phrase,
                                               std::string_view english) const {
  const auto held = holdings(phrase.literals, english);
  if (!held) return std::nullopt;
  std::vector<std::optional<std::string>> translated;
  for (std::size_t i = 0; i < held->size(); ++i) {
    translated.push_back(known(phrase, i, (*held)[i]));
    if (phrase.holes[i].must_be_known && !translated.back()) return std::nullopt;
  }
  std::string said;
  for (const Piece& piece : phrase.said) {
    if (piece.hole && piece.may_go && !translated[*piece.hole]) continue;
    said += piece.before;
    if (piece.hole) said += translated[*piece.hole].value_or(std::string((*held)[*piece.hole]));
    said += piece.after;
  }
  return said;
}

std::optional<std::string> PhraseBook::by(const std::vector<Phrase>& phrases,
                                          std::string_view english) const {
  for (const Phrase& phrase : phrases) {
    if (auto said = said_by(phrase, english)) return said;
  }
  return std::nullopt;
}

std::optional<std::string> PhraseBook::text(std::string_view english) const {
  return by(texts_, english);
}

std::optional<std::string> PhraseBook::place(std::string_view english) const {
  return by(places_, english);
}

std::string with_short_digests(std::string_view text) {
  constexpr std::size_t kDigits = 64;
  constexpr std::size_t kShown = 8;
  constexpr std::string_view kHex = "0123456789abcdef";
  std::string out;
  while (!text.empty()) {
    const std::size_t run = std::min(text.find_first_not_of(kHex), text.size());
    out += run == kDigits ? std::string(text.substr(0, kShown)) + "…"
                          : std::string(text.substr(0, run));
    text.remove_prefix(run);
    const std::size_t gap = std::min(text.find_first_of(kHex), text.size());
    out += text.substr(0, gap);
    text.remove_prefix(gap);
  }
  return out;
}

}  // namespace ligule::screens
