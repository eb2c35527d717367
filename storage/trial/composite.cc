#include "storage/trial/composite.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "storage/trial/number.h"

namespace ligule {
namespace {

constexpr double kWhole = 100.0;
constexpr double kMostCounted = 100000;  // of one stage: beyond any sample

std::unexpected<Error> cannot_stand(const Scale& scale, std::string_view text, std::string mend) {
  return fail(ErrorKind::kRefused,
              "'" + std::string(text) + "' cannot stand on scale " + scale.code, {},
              std::move(mend));
}

std::unexpected<Error> unreadable(std::string_view text, std::string mend) {
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' cannot be read", {},
              std::move(mend));
}

// The words of a text with exactly one space between them; empty when it is another text.
std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  while (true) {
    const std::size_t space = text.find(' ');
    const std::string_view word = text.substr(0, space);
    if (word.empty()) return {};
    words.push_back(word);
    if (space == std::string_view::npos) return words;
    text.remove_prefix(space + 1);
  }
}

double sum_of(const std::vector<double>& numbers) {
  return std::accumulate(numbers.begin(), numbers.end(), 0.0);
}

// "CODE=NUMBER" of each step in the scale's order; steps may be left out.
Result<std::vector<double>> named_numbers(const Scale& scale, std::string_view text) {
  const std::string form = "write CODE=NUMBER, one space between, in the order of the scale";
  const auto words = words_of(text);
  if (words.empty()) return unreadable(text, form);
  std::vector<double> numbers(scale.steps.size(), 0.0);
  std::size_t from = 0;
  for (const std::string_view word : words) {
    const std::size_t equals = word.find('=');
    if (equals == std::string_view::npos) return unreadable(text, form);
    const auto rest =
        std::ranges::find(scale.steps.begin() + static_cast<std::ptrdiff_t>(from),
                          scale.steps.end(), word.substr(0, equals), &ScaleStep::code);
    if (rest == scale.steps.end()) return unreadable(text, form);
    const auto number = parse_number(word.substr(equals + 1));
    if (!number) return std::unexpected(number.error());
    from = static_cast<std::size_t>(rest - scale.steps.begin());
    numbers[from++] = *number;
  }
  return numbers;
}

bool whole_steps(double value, double step) {
  return std::abs(value / step - std::round(value / step)) < 1e-9;
}

Result<std::vector<double>> shares_of(const Scale& scale, std::string_view text) {
  auto numbers = named_numbers(scale, text);
  if (!numbers) return numbers;
  if (words_of(text).size() != scale.steps.size())
    return cannot_stand(scale, text, "state every part");
  for (const double share : *numbers) {
    if (share < 0 || share > kWhole || !whole_steps(share, scale.fine_step))
      return cannot_stand(scale, text,
                          "use steps of " + format_number(scale.fine_step) + " from 0 to 100");
  }
  if (std::abs(sum_of(*numbers) - kWhole) > 1e-9)
    return cannot_stand(scale, text, "the parts must come to 100");
  return numbers;
}

Result<std::vector<double>> counts_of(const Scale& scale, std::string_view text) {
  auto numbers = named_numbers(scale, text);
  if (!numbers) return numbers;
  for (const double count : *numbers) {
    if (count < 0 || count > kMostCounted || !whole_steps(count, 1))
      return cannot_stand(scale, text, "count whole stems or tillers");
  }
  if (sum_of(*numbers) < 1) return cannot_stand(scale, text, "count at least one");
  return numbers;
}

Result<std::vector<double>> cells_of(const Scale& scale, std::string_view text) {
  const auto words = words_of(text);
  std::vector<double> numbers;
  for (const std::string_view word : words) {
    const auto number = parse_number(word);
    if (!number) return std::unexpected(number.error());
    if (*number < 0 || *number > scale.maximum.value_or(0) || !whole_steps(*number, 1))
      return cannot_stand(
          scale, text,
          "count whole cells, " + format_number(scale.maximum.value_or(0)) + " at most");
    numbers.push_back(*number);
  }
  if (numbers.size() != static_cast<std::size_t>(scale.readings))
    return cannot_stand(scale, text,
                        "state " + std::to_string(scale.readings) + " placements of the frame");
  return numbers;
}

}  // namespace

bool is_composite(ScaleKind kind) {
  return kind == ScaleKind::kShares || kind == ScaleKind::kCounts || kind == ScaleKind::kCells;
}

bool is_composite_text(std::string_view entered) {
  return entered.find_first_of(" =") != std::string_view::npos;
}

std::string composite_text(const Scale& scale, const std::vector<double>& numbers) {
  std::string text;
  for (std::size_t n = 0; n < numbers.size(); ++n) {
    if (scale.kind == ScaleKind::kCounts && numbers[n] == 0) continue;
    if (!text.empty()) text += ' ';
    if (scale.kind != ScaleKind::kCells && n < scale.steps.size())
      text += scale.steps[n].code + "=";
    text += format_number(numbers[n]);
  }
  return text;
}

Result<std::vector<double>> composite_numbers(const Scale& scale, std::string_view text) {
  switch (scale.kind) {
    case ScaleKind::kShares:
      return shares_of(scale, text);
    case ScaleKind::kCounts:
      return counts_of(scale, text);
    case ScaleKind::kCells:
      return cells_of(scale, text);
    default:
      return cannot_stand(scale, text, "this scale takes one value");
  }
}

double composite_value(const Scale& scale, const std::vector<double>& numbers) {
  if (numbers.empty()) return 0;
  if (scale.kind == ScaleKind::kShares) return numbers.front();
  const double all = sum_of(numbers);
  if (scale.kind == ScaleKind::kCells) {
    const double cells = scale.maximum.value_or(0) * static_cast<double>(numbers.size());
    return cells > 0 ? kWhole * all / cells : 0;
  }
  double weighed = 0;
  for (std::size_t n = 0; n < numbers.size() && n < scale.steps.size(); ++n)
    weighed += scale.steps[n].value * numbers[n];
  return all > 0 ? weighed / all : 0;
}

}  // namespace ligule
