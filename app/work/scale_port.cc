#include "app/work/scale_port.h"

#include <algorithm>
#include <cstdlib>
#include <utility>

#include "app/scale/indicator.h"

namespace ligule::work {
namespace {

flow::LoadState state_of(scale::LoadState state) {
  switch (state) {
    case scale::LoadState::kSilent:
      return flow::LoadState::kSilent;
    case scale::LoadState::kGarbled:
      return flow::LoadState::kGarbled;
    case scale::LoadState::kOverload:
      return flow::LoadState::kOverload;
    case scale::LoadState::kUnderload:
      return flow::LoadState::kUnderload;
    case scale::LoadState::kNegative:
      return flow::LoadState::kNegative;
    case scale::LoadState::kMoving:
      return flow::LoadState::kMoving;
    case scale::LoadState::kEmpty:
      return flow::LoadState::kEmpty;
    case scale::LoadState::kNotLifted:
      return flow::LoadState::kNotLifted;
    case scale::LoadState::kStill:
      break;
  }
  return flow::LoadState::kStill;
}

flow::LoadSeen seen_of(const scale::Seen& seen) {
  flow::LoadSeen told;
  told.state = state_of(seen.state);
  told.raw = seen.line;
  told.fault = seen.fault;
  if (!seen.reading || told.state == flow::LoadState::kSilent) return told;
  told.entered = seen.reading->entered;
  told.unit = seen.reading->unit;
  told.net = seen.reading->load == scale::Load::kNet;
  return told;
}

flow::AverageEnded ended_of(scale::AverageEnd end) {
  if (!end.mean) return {};
  scale::Averaged& mean = *end.mean;
  return {flow::AveragedLoad{std::move(mean.entered), std::move(mean.unit), std::move(mean.lowest),
                             std::move(mean.highest), mean.readings, mean.load == scale::Load::kNet,
                             std::move(mean.raw)}};
}

// "7E1": data bits, parity, stop bits; flow offers no other.
scale::PortSettings settings_of(const flow::ScaleChoice& choice, const scale::LineForm& form) {
  scale::PortSettings settings;
  settings.path = choice.port;
  settings.baud = static_cast<unsigned>(choice.baud);
  settings.data_bits = choice.framing.starts_with('7') ? 7 : 8;
  if (choice.framing.contains('E')) settings.parity = scale::Parity::kEven;
  if (choice.framing.contains('O')) settings.parity = scale::Parity::kOdd;
  settings.stop_bits = choice.framing.ends_with('2') ? 2 : 1;
  settings.request = form.request;
  return settings;
}

}  // namespace

std::string ports_folder() {
  const char* const named = std::getenv("LIGULE_PORTS");  // NOLINT(concurrency-mt-unsafe)
  return named == nullptr || *named == '\0' ? "/dev/serial/by-id" : named;
}

std::vector<flow::LineFormName> form_names(const std::vector<scale::LineForm>& forms) {
  std::vector<flow::LineFormName> names;
  names.reserve(forms.size());
  for (const scale::LineForm& form : forms) names.push_back({form.code, form.names});
  return names;
}

ScalePort::ScalePort(std::vector<scale::LineForm> forms, std::function<void()> wake)
    : forms_(std::move(forms)), wake_(std::move(wake)) {}
ScalePort::~ScalePort() = default;

void ScalePort::use(const flow::ScaleChoice& choice) {
  indicator_.reset();
  if (choice.port.empty() || forms_.empty()) return;
  auto form = std::ranges::find(forms_, choice.form, &scale::LineForm::code);
  if (form == forms_.end()) form = forms_.begin();
  indicator_ = std::make_unique<scale::Indicator>(
      scale::Indicator::Parts{settings_of(choice, *form), *form, choice.interval, wake_});
}

void ScalePort::average() {
  if (indicator_) indicator_->average(flow::kAverageFor.count());
}

void ScalePort::taken(bool yes) {
  if (indicator_) indicator_->taken(yes);
}

std::optional<flow::LoadTold> ScalePort::told() {
  flow::LoadTold told;
  if (indicator_) {
    told.seen = seen_of(indicator_->seen());
    if (auto end = indicator_->average_end()) told.average = ended_of(*std::move(end));
  }
  if (told.seen == last_ && !told.average) return std::nullopt;
  last_ = told.seen;
  return told;
}

}  // namespace ligule::work
