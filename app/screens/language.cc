#include "app/screens/language.h"

#include <charconv>
#include <utility>
#include <vector>

namespace ligule::screens {
namespace {

std::string_view key_of(ErrorKind kind) {
  switch (kind) {
    case ErrorKind::kInvalid:
      return "error.invalid";
    case ErrorKind::kNotFound:
      return "error.not_found";
    case ErrorKind::kRefused:
      return "error.refused";
    case ErrorKind::kConflict:
      return "error.conflict";
    case ErrorKind::kIo:
      return "error.io";
    case ErrorKind::kDamaged:
      return "error.damaged";
    case ErrorKind::kNotTrusted:
      return "error.not_trusted";
    case ErrorKind::kNewerVersion:
      return "error.newer_version";
  }
  std::unreachable();
}

}  // namespace

std::string_view Language::operator()(std::string_view key) const {
  const auto found = texts_.find(key);
  return found == texts_.end() ? key : std::string_view(found->second);
}

std::vector<std::string_view> Language::family(std::string_view front) const {
  std::vector<std::string_view> codes;
  for (auto at = texts_.lower_bound(front); at != texts_.end() && at->first.starts_with(front);
       ++at)
    codes.push_back(std::string_view(at->first).substr(front.size()));
  return codes;
}

std::string Language::filled(std::string_view key,
                             std::span<const std::string_view> arguments) const {
  const std::string_view text = (*this)(key);
  std::string out;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t open = text.find('{', at);
    const std::size_t close = open == std::string_view::npos ? open : text.find('}', open);
    if (close == std::string_view::npos) break;
    std::size_t place = arguments.size();
    const char* first = text.data() + open + 1;
    const auto [end, error] = std::from_chars(first, text.data() + close, place);
    const bool known =
        error == std::errc{} && end == text.data() + close && place < arguments.size();
    out += text.substr(at, open - at);
    out += known ? arguments[place] : text.substr(open, close - open + 1);
    at = close + 1;
  }
  out += text.substr(at);
  return out;
}

std::string Language::fill(std::string_view key,
                           std::initializer_list<std::string_view> arguments) const {
  return filled(key, {arguments.begin(), arguments.size()});
}

// Of a limit with one open end the words of the other end, and its unit, which stands at the upper.
flow::Words Language::one_ended(const flow::Words& words) const {
  constexpr std::string_view kOpenEnd = "\u2026";  // as storage/checks/season_rules.cc has it
  if (words.arguments.size() != 3) return words;
  const std::string& low = words.arguments[1];
  const std::string& high = words.arguments[2];
  if (high.starts_with(kOpenEnd) && has(words.key + ".least"))
    return {words.key + ".least", {words.arguments[0], low + high.substr(kOpenEnd.size())}};
  if (low == kOpenEnd && has(words.key + ".most"))
    return {words.key + ".most", {words.arguments[0], high}};
  return words;
}

std::string Language::fill(const flow::Words& told) const {
  const flow::Words words = one_ended(told);
  const std::vector<std::string_view> arguments(words.arguments.begin(), words.arguments.end());
  return filled(words.key, arguments);
}

std::string Language::count(std::string_view key, std::int64_t count) const {
  return fill(std::string(key) + (count == 1 ? ".one" : ".many"), {std::to_string(count)});
}

std::string Language::name(std::string_view english) const {
  if (!phrases_) return std::string(english);
  return phrases_->text(english).value_or(std::string(english));
}

std::string Language::error(const Error& error) const {
  Error told = error;
  if (phrases_) {
    const bool as_written = untold_ == Untold::kAsWritten;
    told.what = phrases_->text(error.what)
                    .value_or(as_written ? error.what : std::string((*this)(key_of(error.kind))));
    told.where = phrases_->place(error.where).value_or(error.where);
    told.mend = phrases_->text(error.mend).value_or(as_written ? error.mend : std::string());
  }
  told.what = with_short_digests(told.what);
  told.mend = with_short_digests(told.mend);
  return one_line(told);
}

}  // namespace ligule::screens
