// Reads the file of line forms: one entry an indicator.
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <set>

#include "app/scale/line_form.h"
#include "storage/trial/unit_names.h"

namespace ligule::scale {
namespace {

using nlohmann::json;

// What is being read, for messages.
struct Place {
  std::string_view file;
  std::string code;

  [[nodiscard]] std::unexpected<Error> fault(std::string what, std::string mend) const {
    return fail(ErrorKind::kInvalid, std::move(what),
                std::string(file) + (code.empty() ? "" : ", entry " + code), std::move(mend));
  }
};

Result<std::vector<Piece>> pieces_of(const std::string& form, const Place& place) {
  static const std::map<std::string, PieceKind, std::less<>> names{
      {"weight", PieceKind::kWeight},
      {"unit", PieceKind::kUnit},
      {"stability", PieceKind::kStability},
      {"load", PieceKind::kLoad}};
  std::vector<Piece> pieces;
  std::set<PieceKind> named;
  for (std::size_t at = 0; at < form.size();) {
    if (form[at] == ' ') {
      pieces.push_back({PieceKind::kBlanks});
      at = std::min(form.find_first_not_of(' ', at), form.size());
    } else if (form[at] == '{') {
      const std::size_t end = form.find('}', at);
      const auto found =
          end == std::string::npos ? names.end() : names.find(form.substr(at + 1, end - at - 1));
      if (found == names.end() || !named.insert(found->second).second) {
        return place.fault(
            "the form has a part that is unknown or stands twice: \"" + form.substr(at) + "\"",
            "parts are {weight}, {unit}, {stability} and {load}, each once at most");
      }
      pieces.push_back({found->second});
      at = end + 1;
    } else {
      const std::size_t end = std::min(form.find_first_of(" {", at), form.size());
      pieces.push_back({PieceKind::kLiteral, form.substr(at, end - at)});
      at = end;
    }
  }
  if (!named.contains(PieceKind::kWeight)) {
    return place.fault("the form \"" + form + "\" has no weight",
                       "write {weight} where the number stands");
  }
  return pieces;
}

// A table of words with their meanings; empty where the entry has none of that key. The empty word
// is what it means when no other stands there.
template <class Meaning>
Result<std::map<std::string, Meaning, std::less<>>> table_of(
    const json& entry, const char* key, const std::map<std::string, Meaning, std::less<>>& meanings,
    const Place& place) {
  std::map<std::string, Meaning, std::less<>> table;
  if (!entry.contains(key)) return table;
  for (const auto& [word, meaning] :
       entry.at(key).template get<std::map<std::string, std::string>>()) {
    const auto found = meanings.find(meaning);
    if (found == meanings.end()) {
      return place.fault(
          fmt::format("{}: \"{}\" means \"{}\", which is not known", key, word, meaning),
          "see the other entries for what it may mean");
    }
    table.emplace(word, found->second);
  }
  return table;
}

const std::map<std::string, Stability, std::less<>>& stabilities() {
  static const std::map<std::string, Stability, std::less<>> meanings{
      {"stable", Stability::kStable}, {"moving", Stability::kMoving}};
  return meanings;
}
const std::map<std::string, Load, std::less<>>& loads() {
  static const std::map<std::string, Load, std::less<>> meanings{
      {"gross", Load::kGross}, {"net", Load::kNet}, {"tare", Load::kTare}};
  return meanings;
}

bool is_mass_unit(const std::string& unit) {
  return mass_in(1, unit).has_value();
}

Result<void> set_units(LineForm& form, const json& entry, const Place& place) {
  if (entry.contains("units")) form.units = entry.at("units").get<decltype(form.units)>();
  form.unit = entry.value("unit", "");
  for (const auto& [word, unit] : form.units) {
    if (word.empty() || !is_mass_unit(unit))
      return place.fault("units: \"" + unit + "\" is no unit of weight",
                         "kg, g, lb and oz are known");
  }
  if (!form.unit.empty() && !is_mass_unit(form.unit))
    return place.fault("unit: \"" + form.unit + "\" is no unit of weight",
                       "kg, g, lb and oz are known");
  if (form.units.empty() && form.unit.empty())
    return place.fault("no weight of this form would have a unit",
                       "give units (words on the line) or unit");
  return {};
}

Result<LineForm> form_of(const json& entry, Place& place) {
  LineForm form;
  form.code = entry.at("code").get<std::string>();
  place.code = form.code;
  form.names = entry.at("names").get<decltype(form.names)>();
  if (!form.names.contains("en"))
    return place.fault("names: there is no English one", "give \"en\" a name");
  const auto decimal = entry.value("decimal", ".");
  if (decimal != "." && decimal != ",")
    return place.fault("decimal: \"" + decimal + "\"", "it is \".\" or \",\"");
  form.decimal = decimal.front();
  auto pieces = pieces_of(entry.at("form").get<std::string>(), place);
  if (!pieces) return std::unexpected(std::move(pieces).error());
  form.pieces = *std::move(pieces);
  auto stability = table_of(entry, "stability", stabilities(), place);
  if (!stability) return std::unexpected(std::move(stability).error());
  form.stability = *std::move(stability);
  auto load = table_of(entry, "load", loads(), place);
  if (!load) return std::unexpected(std::move(load).error());
  form.load = *std::move(load);
  if (auto set = set_units(form, entry, place); !set)
    return std::unexpected(std::move(set).error());
  form.overload = entry.value("overload", std::vector<std::string>{});
  form.underload = entry.value("underload", std::vector<std::string>{});
  form.request = entry.value("request", "");
  return form;
}

}  // namespace

Result<std::vector<LineForm>> parse_line_forms(std::string_view text, std::string_view where) {
  Place place{where, {}};
  std::vector<LineForm> forms;
  try {
    const json file = json::parse(text);
    for (const json& entry : file.at("indicators")) {
      place.code.clear();
      auto form = form_of(entry, place);
      if (!form) return std::unexpected(std::move(form).error());
      for (const LineForm& other : forms) {
        if (other.code == form->code)
          return place.fault("the code stands twice", "give each entry a code of its own");
      }
      forms.push_back(*std::move(form));
    }
  } catch (const json::exception& fault) {
    return place.fault(std::string("not a file of line forms: ") + fault.what(),
                       "see the other entries");
  }
  return forms;
}

}  // namespace ligule::scale
