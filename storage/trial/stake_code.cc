#include "storage/trial/stake_code.h"

#include "storage/trial/identity.h"

namespace ligule {
namespace {

constexpr char kStroke = '/';
constexpr char kStrokeElsewhere = '-';

}  // namespace

std::string stake_text(std::string_view trial, std::string_view plot) {
  std::string text(trial);
  text += kStroke;
  text += plot;
  return text;
}

std::optional<StakeCode> parse_stake_text(std::string_view text) {
  const std::size_t at = text.find(kStroke);
  if (at == std::string_view::npos) return std::nullopt;
  const std::string_view trial = text.substr(0, at);
  const std::string_view plot = text.substr(at + 1);
  if (!is_code(trial) || !is_code(plot)) return std::nullopt;
  return StakeCode{std::string(trial), std::string(plot)};
}

std::optional<std::string_view> plot_scanned_in(std::string_view trial, std::string_view text) {
  if (!text.starts_with(trial)) return std::nullopt;
  const std::string_view rest = text.substr(trial.size());
  if (!rest.starts_with(kStroke) && !rest.starts_with(kStrokeElsewhere)) return std::nullopt;
  return rest.substr(1);
}

}  // namespace ligule
