#include "sync/gather/paper_values.h"

#include <algorithm>
#include <array>
#include <utility>

#include "storage/trial/composite.h"
#include "storage/trial/number.h"
#include "storage/trial/reached.h"

namespace ligule::gather {
namespace {

constexpr std::array<std::string_view, 5> kYes{"x", "y", "yes", "1", kReachedCode};
constexpr std::array<std::string_view, 5> kNo{"o", "n", "no", "0", kNotYetCode};

std::vector<std::string> parts_of(std::string_view text) {
  std::vector<std::string> parts;
  while (true) {
    const std::size_t end = std::min(text.find(kReadingsMark), text.size());
    parts.emplace_back(text.substr(0, end));
    if (end == text.size()) return parts;
    text.remove_prefix(end + 1);
  }
}

std::string small(std::string_view text) {
  std::string lower(text);
  for (char& c : lower)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

// The scale's own spelling of a code; the text as it is where no step is called so.
std::string code_of(const Scale& scale, std::string_view text) {
  const auto exact = std::ranges::find(scale.steps, text, &ScaleStep::code);
  if (exact != scale.steps.end()) return exact->code;
  const std::string wanted = small(text);
  const auto named = std::ranges::find_if(
      scale.steps, [&](const ScaleStep& step) { return small(step.code) == wanted; });
  return named == scale.steps.end() ? std::string(text) : named->code;
}

std::unexpected<Error> wants(std::string_view text, std::string mend) {
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' can't be read", {},
              std::move(mend));
}

Result<std::string> reached_or_not(std::string_view text) {
  const std::string said = small(text);
  if (std::ranges::find(kYes, said) != kYes.end()) return std::string(kReachedCode);
  if (std::ranges::find(kNo, said) != kNo.end()) return std::string(kNotYetCode);
  return wants(text, "write x where it is reached, o where it is not yet");
}

// "sown+weed+bare", "V=10+R0=15"
Result<std::string> shares_in(const Scale& scale, std::string_view text) {
  const std::vector<std::string> parts = parts_of(text);
  if (parts.size() != scale.steps.size()) {
    std::string order;
    for (const ScaleStep& step : scale.steps)
      order.append(order.empty() ? "" : "+").append(step.code);
    return wants(text, "write every part in the order " + order + ", as 60+25+15");
  }
  std::string entered;
  for (std::size_t n = 0; n < parts.size(); ++n)
    entered.append(n == 0 ? "" : " ").append(scale.steps[n].code).append("=").append(parts[n]);
  return entered;
}

Result<std::string> counts_in(const Scale& scale, std::string_view text) {
  std::vector<std::pair<std::string, std::string>> counted;
  for (const std::string& part : parts_of(text)) {
    const std::size_t equals = part.find('=');
    if (equals == std::string::npos)
      return wants(text, "write each stage that was seen with its number, as V=10+R0=15");
    counted.emplace_back(code_of(scale, std::string_view(part).substr(0, equals)),
                         part.substr(equals + 1));
  }
  // The scale's order, whatever was written first.
  const auto place = [&](const std::pair<std::string, std::string>& each) {
    return std::ranges::find(scale.steps, each.first, &ScaleStep::code) - scale.steps.begin();
  };
  std::ranges::stable_sort(counted, {}, place);
  std::string entered;
  for (const auto& [code, number] : counted)
    entered.append(entered.empty() ? "" : " ").append(code).append("=").append(number);
  return entered;
}

std::string cells_in(std::string_view text) {
  std::string entered(text);
  std::ranges::replace(entered, kReadingsMark, ' ');
  return entered;
}

std::string ends_of(const Scale& scale, const std::string& unit) {
  if (scale.minimum && scale.maximum)
    return format_number(*scale.minimum) + " to " + format_number(*scale.maximum) + unit;
  return "a number";
}

}  // namespace

Result<std::vector<std::string>> entered_in_box(const Scale& scale, std::string_view text) {
  const auto one = [](Result<std::string> entered) -> Result<std::vector<std::string>> {
    if (!entered) return std::unexpected(entered.error());
    return std::vector{*std::move(entered)};
  };
  switch (scale.kind) {
    case ScaleKind::kLength: {
      std::vector<std::string> readings = parts_of(text);
      if (readings.size() > static_cast<std::size_t>(scale.readings))
        return wants(text, scale.readings == 1 ? "write one reading"
                                               : "write " + std::to_string(scale.readings) +
                                                     " readings, as 12+11.5+13");
      return readings;
    }
    case ScaleKind::kShares:
      return one(shares_in(scale, text));
    case ScaleKind::kCounts:
      return one(counts_in(scale, text));
    case ScaleKind::kCells:
      return one(cells_in(text));
    case ScaleKind::kReached:
      return one(reached_or_not(text));
    case ScaleKind::kScore:
    case ScaleKind::kStages:
      return one(code_of(scale, text));
    default:
      return one(std::string(text));
  }
}

std::string how_to_type(const Scale& scale, std::string_view given) {
  const std::string unit = given.empty() ? "" : " " + std::string(given);
  const std::string readings = std::to_string(scale.readings);
  switch (scale.kind) {
    case ScaleKind::kScore:
    case ScaleKind::kStages:
      return scale.steps.front().code + " to " + scale.steps.back().code;
    case ScaleKind::kReached:
      return "x reached, o not yet";
    case ScaleKind::kShares: {
      std::string order;
      for (const ScaleStep& step : scale.steps)
        order.append(order.empty() ? "" : "+").append(step.code);
      return order + " in percent";
    }
    case ScaleKind::kCounts:
      return scale.steps.front().code + "=10+" + scale.steps.back().code + "=15";
    case ScaleKind::kCells:
      return readings + " placements with + between";
    case ScaleKind::kLength: {
      const std::string in = unit.empty() ? unit : " (" + std::string(given) + ")";
      return (scale.readings == 1 ? "a number" : readings + " readings with + between") + in;
    }
    case ScaleKind::kText:
      return "words";
    default:
      return ends_of(scale, unit);
  }
}

}  // namespace ligule::gather
