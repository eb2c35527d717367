// By what a soil test is judged, as data with its sources: assets/soil.json. Pure: reading the file
// is storage/files, and what the tables say of a trial is storage/checks.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ligule {

// What brings a nutrient out of the soil. Numbers of two extractants are two things.
struct SoilExtractant {
  std::string code;               // "mehlich_3"
  std::string name;               // "Mehlich-3"
  std::vector<std::string> also;  // how reports write it besides

  bool operator==(const SoilExtractant&) const = default;
};

struct SoilProperty {
  std::string code;                // "p"
  std::string name;                // "P"
  std::vector<std::string> units;  // accepted; limits are in the first. Empty: it has no unit
  std::optional<double> ask_below, ask_above, refuse_below, refuse_above;
  std::string source;

  bool operator==(const SoilProperty&) const = default;
};

struct SoilClass {
  std::string name;
  double from = 0;  // up to where the next one begins

  bool operator==(const SoilClass&) const = default;
};

// The classes a soil testing service sorts its numbers into, ascending. They hold for its own
// extractant.
struct SoilClasses {
  std::string property, unit, extractant;
  std::vector<SoilClass> classes;
  std::string optimum;  // the name of one of them
  std::string source;

  bool operator==(const SoilClasses&) const = default;
};

// Between which values species do well.
struct SoilRange {
  std::string property;
  std::vector<std::string> species;
  double from = 0, to = 0;
  std::vector<std::string> extractants;  // it holds for; also where none is said
  std::string source;

  bool operator==(const SoilRange&) const = default;
};

// What there should be before a stand of a group of species is sown, where no classes are had.
struct SoilCheck {
  std::string property, group;
  std::string stand;  // "a new cool-season grass stand"
  std::string unit;
  bool unit_assumed = false;  // whoever gave the numbers did not say their unit
  double minimum = 0, target = 0;
  std::vector<std::string> extractants;  // as of a range
  std::string source;

  bool operator==(const SoilCheck&) const = default;
};

struct SoilTables {
  std::vector<SoilExtractant> extractants;
  std::vector<SoilProperty> properties;
  std::vector<SoilClasses> classes;
  std::vector<SoilRange> ranges;
  std::vector<SoilCheck> checks;

  [[nodiscard]] const SoilProperty* property(std::string_view code) const;
  // As a report writes it: capitals, blanks and hyphens do not matter. Null: none of the list.
  [[nodiscard]] const SoilExtractant* extractant(std::string_view written) const;
};

}  // namespace ligule
