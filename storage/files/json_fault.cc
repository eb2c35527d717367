#include "storage/files/json_fault.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace ligule::files {
namespace {

using nlohmann::json;

constexpr std::size_t kLongestToken = 40;  // of what a line says

// Reads on until something is wrong and keeps what and where; nothing is thrown.
class FirstFault final : public nlohmann::json_sax<json> {
 public:
  bool null() override { return true; }
  bool boolean(bool) override { return true; }
  bool number_integer(number_integer_t) override { return true; }
  bool number_unsigned(number_unsigned_t) override { return true; }
  bool number_float(number_float_t, const string_t&) override { return true; }
  bool string(string_t&) override { return true; }
  bool binary(binary_t&) override { return true; }
  bool start_object(std::size_t) override { return true; }
  bool key(string_t&) override { return true; }
  bool end_object() override { return true; }
  bool start_array(std::size_t) override { return true; }
  bool end_array() override { return true; }
  bool parse_error(std::size_t position, const std::string& last_token,
                   const nlohmann::detail::exception& fault) override {
    at = position;
    if (dynamic_cast<const json::out_of_range*>(&fault) == nullptr) return false;
    too_large = last_token.substr(0, kLongestToken);
    if (last_token.size() > kLongestToken) too_large += "...";
    return false;
  }

  std::optional<std::size_t> at;  // characters read
  std::string too_large;          // a number that none here can hold; empty: something else
};

}  // namespace

Error json_fault(std::string_view text, std::string_view file) {
  FirstFault first;
  json::sax_parse(text, &first);
  const std::size_t at = std::min(first.at.value_or(text.size()), text.size());
  const auto line = std::ranges::count(text.substr(0, at == 0 ? 0 : at - 1), '\n') + 1;
  std::string where = std::string(file) + " line " + std::to_string(line);
  if (!first.too_large.empty())
    return {ErrorKind::kInvalid, "the number " + first.too_large + " is too large",
            std::move(where), "write a smaller one"};
  return {ErrorKind::kInvalid, "the text is not JSON from here on", std::move(where),
          "look for a missing comma, quote or bracket here or just before"};
}

}  // namespace ligule::files
