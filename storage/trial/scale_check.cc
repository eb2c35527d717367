#include "storage/trial/scale_check.h"

#include <algorithm>
#include <chrono>
#include <map>
#include <optional>
#include <tuple>

#include "storage/trial/decimal.h"
#include "storage/trial/details.h"

namespace ligule::scale_check {
namespace {

std::string told(const Record& check, std::string_view key) {
  return detail(check.details, std::string(key));
}

// From one good check to the next.
struct Stretch {
  std::optional<UtcInstant> from;  // none: no good one came before
  const Record* off = nullptr;     // the newest that was off; null: none was
  std::optional<UtcInstant> to;    // none: it is still going on
};

std::vector<Stretch> stretches_of(std::vector<const Record*> checks) {
  std::ranges::sort(checks, {},
                    [](const Record* check) { return std::tie(check->at.utc, check->id); });
  std::vector<Stretch> stretches(1);
  for (const Record* const check : checks) {
    if (!is_good(*check)) {
      stretches.back().off = check;
      continue;
    }
    stretches.back().to = check->at.utc;
    stretches.push_back({check->at.utc, nullptr, {}});
  }
  std::erase_if(stretches, [](const Stretch& stretch) { return stretch.off == nullptr; });
  return stretches;
}

bool answered(const Record& weight, const Record& off) {
  const bool ever = std::ranges::find(weight.answers, kRule, &Answer::rule) != weight.answers.end();
  return ever && (weight.at.utc >= off.at.utc || told(weight, kAsked) == off.id.text());
}

bool in_doubt(const Weight& weight, const std::string& scale, const Stretch& stretch) {
  if (!weight.scale.empty() && weight.scale != scale) return false;
  if (stretch.from && weight.weighed <= *stretch.from) return false;
  if (weight.weighed > stretch.to.value_or(stretch.off->at.utc)) return false;
  const auto reach = std::chrono::hours{24} * kReachDays;
  return weight.weighed > stretch.off->at.utc - reach && !answered(*weight.claim, *stretch.off);
}

}  // namespace

bool is_good(const Record& check) {
  const auto good = within(check.entered, told(check, kMass), told(check, kAllowance));
  return good && *good;
}

std::string off_by(const Record& check) {
  const auto off = difference(check.entered, told(check, kMass));
  return off ? *off + " " + check.unit : std::string();
}

const Record* run_of(std::span<const Record> runs, const Record& weight) {
  const auto run =
      std::ranges::find_if(runs, [&](const Record& each) { return weight.run == each.id; });
  return run == runs.end() ? nullptr : &*run;
}

std::string port_of(const Record& weight, const Record* run) {
  std::string port = told(weight, kPort);
  if (port.empty() && run != nullptr) port = told(*run, "scale");
  return port;
}

std::vector<Doubt> doubts(std::span<const Check> checks, std::span<const Weight> weights) {
  std::map<std::string, std::vector<const Record*>> scales;
  for (const Check& check : checks) scales[check.scale].push_back(check.record);
  std::vector<Doubt> doubts;
  for (auto& [scale, of_it] : scales) {
    for (const Stretch& stretch : stretches_of(std::move(of_it))) {
      Doubt doubt{stretch.off, stretch.to.has_value(), {}};
      for (std::size_t n = 0; n < weights.size(); ++n)
        if (in_doubt(weights[n], scale, stretch)) doubt.weights.push_back(n);
      if (!doubt.weights.empty()) doubts.push_back(std::move(doubt));
    }
  }
  std::ranges::sort(doubts, {}, [](const Doubt& doubt) {
    return std::tie(doubt.check->at.utc, doubt.check->id);
  });
  return doubts;
}

}  // namespace ligule::scale_check
