// The scale the tablet is plugged into: what is on it, told to flow as it changes.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/intents.h"
#include "app/scale/line_form.h"

namespace ligule::scale {
class Indicator;
}

namespace ligule::work {

// Where ports are listed: /dev/serial/by-id, or the folder that LIGULE_PORTS names (a simulator,
// and machines that name them elsewhere).
[[nodiscard]] std::string ports_folder();

// Names of the forms, as screens offer them.
[[nodiscard]] std::vector<flow::LineFormName> form_names(const std::vector<scale::LineForm>& forms);

class ScalePort {
 public:
  // wake: called from the port's thread when told() has something new; may be empty.
  ScalePort(std::vector<scale::LineForm> forms, std::function<void()> wake);
  ScalePort(const ScalePort&) = delete;
  ScalePort& operator=(const ScalePort&) = delete;
  ScalePort(ScalePort&&) = delete;
  ScalePort& operator=(ScalePort&&) = delete;
  ~ScalePort();

  // Another port or other settings; without a port none is listened to.
  void use(const flow::ScaleChoice& choice);
  void average();
  void taken(bool yes);
  // What changed since the last call.
  [[nodiscard]] std::optional<flow::LoadTold> told();
  [[nodiscard]] bool in_use() const { return indicator_ != nullptr; }

 private:
  std::vector<scale::LineForm> forms_;
  std::function<void()> wake_;
  std::unique_ptr<scale::Indicator> indicator_;
  flow::LoadSeen last_;
};

}  // namespace ligule::work
