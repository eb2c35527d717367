#include "storage/trial/soil_tables.h"

#include <algorithm>

namespace ligule {
namespace {

// "Mehlich-3", "mehlich 3" and "mehlich_3" are one.
std::string letters_and_digits(std::string_view text) {
  std::string key;
  for (const char c : text) {
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) key += c;
    if (c >= 'A' && c <= 'Z') key += static_cast<char>(c - 'A' + 'a');
  }
  return key;
}

}  // namespace

const SoilProperty* SoilTables::property(std::string_view code) const {
  const auto found = std::ranges::find(properties, code, &SoilProperty::code);
  return found == properties.end() ? nullptr : &*found;
}

const SoilExtractant* SoilTables::extractant(std::string_view written) const {
  const std::string key = letters_and_digits(written);
  const auto is_it = [&](const std::string& name) { return letters_and_digits(name) == key; };
  const auto found = std::ranges::find_if(extractants, [&](const SoilExtractant& each) {
    return is_it(each.code) || is_it(each.name) || std::ranges::any_of(each.also, is_it);
  });
  return found == extractants.end() ? nullptr : &*found;
}

}  // namespace ligule
