// Runs the real `ligule-desk tables` on a data set and reads back the files it wrote.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace ligule::published {

using Row = std::map<std::string, std::string>;  // column -> text

struct Tables {
  int exit = -1;
  std::string messages;  // the error stream
  std::vector<Row> tests, means, long_term;
  std::vector<Row> over_cuttings;  // empty where there is no such file
  std::string report;

  // The one row whose columns hold these texts; an empty row (and a failed check) without.
  [[nodiscard]] Row test(const std::string& test, const std::string& year,
                         const std::string& cutting) const;
  [[nodiscard]] Row mean(const std::string& test, const std::string& year,
                         const std::string& cutting, const std::string& entry) const;
  [[nodiscard]] Row summary(const std::string& entry) const;
};

// A file of data/.
[[nodiscard]] std::string data_file(const std::string& name);
[[nodiscard]] std::string text_of(const std::string& path);

// Writes into a folder of its own below the test's temporary folder and removes it.
[[nodiscard]] Tables tables_of(const std::string& values_file,
                               const std::vector<std::string>& more_arguments = {});
// The same for CSV text.
[[nodiscard]] Tables tables_of_text(const std::string& csv,
                                    const std::vector<std::string>& more_arguments = {});

// |got - expected| <= tolerance * |expected|; a failure names both texts.
void expect_figure(const Row& row, const std::string& column, double expected, double tolerance);
// At so many decimals, as a printed page gives it.
void expect_printed(const Row& row, const std::string& column, double printed, int decimals);

}  // namespace ligule::published
