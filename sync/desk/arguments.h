// What a person gave a command, as text, by the names the command declared.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"

namespace ligule::desk {

class Arguments {
 public:
  void add(const std::string& name, std::string value) {
    values_[name].push_back(std::move(value));
  }

  // Given at all: how a flag is asked for.
  [[nodiscard]] bool has(std::string_view name) const;
  // The value (of the last one where an option is given more than once), if any.
  [[nodiscard]] std::optional<std::string> find(std::string_view name) const;
  // The value of an option that the command declared as required or with a default; empty without.
  [[nodiscard]] std::string text(std::string_view name) const;
  // All values of one that may be repeated, in the order given.
  [[nodiscard]] std::vector<std::string> all(std::string_view name) const;
  // A whole number from `least` to `most`, or nothing where the option was not given. kInvalid
  // says what is wanted.
  [[nodiscard]] Result<std::optional<long>> whole_number(std::string_view name, long least,
                                                         long most) const;

 private:
  std::map<std::string, std::vector<std::string>, std::less<>> values_;
};

}  // namespace ligule::desk
