#include "app/scale/line_form.h"

#include <algorithm>
#include <optional>

#include "storage/trial/number.h"

namespace ligule::scale {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::string_view without_blanks(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

// What is left to read of a line, and what was found.
struct Reader {
  const LineForm& form;
  std::string_view rest;
  Reading reading = {};
  std::string why = {};

  void skip_blanks() { rest.remove_prefix(std::min(rest.find_first_not_of(' '), rest.size())); }

  bool fails(std::string said) {
    why = std::move(said);
    return false;
  }

  bool literal(const std::string& text) {
    if (!rest.starts_with(text)) return fails("\"" + text + "\" is missing");
    rest.remove_prefix(text.size());
    return true;
  }

  // The sign may stand apart from the digits; padding zeros are read over.
  bool weight() {
    std::string digits;
    skip_blanks();
    if (rest.starts_with('+') || rest.starts_with('-')) {
      if (rest.front() == '-') digits = "-";
      rest.remove_prefix(1);
      skip_blanks();
    }
    const std::size_t sign = digits.size();
    int decimals = 0;
    bool point = false;
    while (!rest.empty() &&
           (is_digit(rest.front()) || rest.front() == '.' || rest.front() == ',')) {
      const char c = rest.front();
      if (!is_digit(c)) {
        if (c != form.decimal || point)
          return fails("which mark is the decimal point is not clear");
        point = true;
        digits += '.';
      } else {
        digits += c;
        if (point) ++decimals;
      }
      rest.remove_prefix(1);
    }
    if (digits.size() == sign) return fails("no number where one should be");
    // "000.020" is "0.020": one zero before the point.
    while (digits.size() > sign + 1 && digits[sign] == '0' && is_digit(digits[sign + 1]))
      digits.erase(sign, 1);
    const auto counted = static_cast<std::size_t>(std::ranges::count_if(digits, is_digit));
    if (counted > kMostDigits) return fails("more digits than a weight has");
    const auto value = parse_number(digits);
    if (!value) return fails("no number where one should be");
    reading.entered = digits;
    reading.value = *value;
    reading.decimals = decimals;
    return true;
  }

  // The longest word of a table that stands here.
  template <class Meaning>
  std::optional<Meaning> word(const std::map<std::string, Meaning, std::less<>>& table) {
    const std::string* longest = nullptr;
    for (const auto& [text, meaning] : table) {
      if (rest.starts_with(text) && (longest == nullptr || text.size() > longest->size()))
        longest = &text;
    }
    if (longest == nullptr) return std::nullopt;
    rest.remove_prefix(longest->size());
    return table.find(*longest)->second;
  }

  bool unit() {
    if (auto found = word(form.units)) {
      reading.unit = *std::move(found);
      reading.unit_said = true;
      return true;
    }
    return !form.unit.empty() || fails("no unit that is known");
  }
  bool stability() {
    const auto found = word(form.stability);
    if (!found) return fails("whether it is steady is not said");
    reading.stability = *found;
    return true;
  }
  bool load() {
    const auto found = word(form.load);
    if (!found) return fails("gross or net is not said");
    reading.load = *found;
    return true;
  }

  bool piece(const Piece& piece) {
    switch (piece.kind) {
      case PieceKind::kLiteral:
        return literal(piece.text);
      case PieceKind::kBlanks:
        skip_blanks();
        return true;
      case PieceKind::kWeight:
        return weight();
      case PieceKind::kUnit:
        return unit();
      case PieceKind::kStability:
        return stability();
      case PieceKind::kLoad:
        return load();
    }
    return false;
  }
};

bool is_one_of(const std::vector<std::string>& lines, std::string_view line) {
  return std::ranges::any_of(lines,
                             [&](const std::string& each) { return without_blanks(each) == line; });
}

}  // namespace

Line read_line(const LineForm& form, std::string_view raw) {
  const std::string_view line = without_blanks(raw);
  if (is_one_of(form.overload, line)) return Overload{std::string(raw)};
  if (is_one_of(form.underload, line)) return Underload{std::string(raw)};
  Reader reader{form, raw};
  reader.reading.unit = form.unit;
  reader.skip_blanks();
  for (const Piece& piece : form.pieces) {
    if (!reader.piece(piece)) return Garbled{std::string(raw), reader.why};
  }
  reader.skip_blanks();
  if (!reader.rest.empty())
    return Garbled{std::string(raw), "more stands on the line than its form has"};
  reader.reading.raw = std::string(raw);
  return reader.reading;
}

}  // namespace ligule::scale
