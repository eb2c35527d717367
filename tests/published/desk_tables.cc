#include "tests/published/desk_tables.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include "storage/files/file_system.h"
#include "sync/desk/desk.h"

namespace ligule::published {
namespace {

std::vector<std::vector<std::string>> cells_of(const std::string& text) {
  std::vector<std::vector<std::string>> rows(1);
  std::string cell;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
      cell += text[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (!quoted && (c == ',' || c == '\n')) {
      rows.back().push_back(cell);
      cell.clear();
      if (c == '\n') rows.emplace_back();
    } else {
      cell += c;
    }
  }
  rows.pop_back();
  return rows;
}

std::vector<Row> rows_of(const std::string& path) {
  const auto cells = cells_of(text_of(path));
  std::vector<Row> rows;
  for (std::size_t i = 1; i < cells.size(); ++i) {
    Row row;
    EXPECT_EQ(cells[i].size(), cells[0].size()) << path << " row " << i;
    for (std::size_t c = 0; c < cells[0].size() && c < cells[i].size(); ++c) {
      row[cells[0][c]] = cells[i][c];
    }
    rows.push_back(row);
  }
  return rows;
}

Row only(const std::vector<Row>& rows, const Row& key) {
  std::vector<Row> found;
  for (const Row& row : rows) {
    bool same = true;
    for (const auto& [column, text] : key) same = same && row.at(column) == text;
    if (same) found.push_back(row);
  }
  std::string names;
  for (const auto& [column, text] : key) names += column + "=" + text + " ";
  EXPECT_EQ(found.size(), 1U) << names;
  return found.empty() ? Row() : found.front();
}

std::string own_folder() {
  std::string name = (std::filesystem::temp_directory_path() / "ligule-published-XXXXXX").string();
  EXPECT_NE(::mkdtemp(name.data()), nullptr);
  return name;
}

}  // namespace

Row Tables::test(const std::string& test, const std::string& year,
                 const std::string& cutting) const {
  return only(tests, {{"test", test}, {"year", year}, {"cutting", cutting}});
}

Row Tables::mean(const std::string& test, const std::string& year, const std::string& cutting,
                 const std::string& entry) const {
  return only(means, {{"test", test}, {"year", year}, {"cutting", cutting}, {"entry", entry}});
}

Row Tables::summary(const std::string& entry) const {
  return only(long_term, {{"entry", entry}});
}

std::string data_file(const std::string& name) {
  return std::string(LIGULE_TEST_DATA) + "/published/data/" + name;
}

std::string text_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  EXPECT_TRUE(file) << path;
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

Tables tables_of(const std::string& values_file, const std::vector<std::string>& more_arguments) {
  const std::string folder = own_folder();
  std::vector<std::string> arguments = {"tables", "--values", values_file, "--out", folder};
  arguments.insert(arguments.end(), more_arguments.begin(), more_arguments.end());
  std::ostringstream out, err;
  Tables tables;
  tables.exit = desk::run(arguments, out, err, *files::real_file_system());
  tables.messages = err.str();
  if (tables.exit == 0) {
    tables.tests = rows_of(folder + "/tests.csv");
    tables.means = rows_of(folder + "/means.csv");
    tables.long_term = rows_of(folder + "/long_term.csv");
    const std::string over = folder + "/over_cuttings.csv";
    if (std::filesystem::exists(over)) tables.over_cuttings = rows_of(over);
    tables.report = text_of(folder + "/report.html");
  }
  std::filesystem::remove_all(folder);
  return tables;
}

Tables tables_of_text(const std::string& csv, const std::vector<std::string>& more_arguments) {
  const std::string folder = own_folder();
  const std::string path = folder + "/values.csv";
  std::ofstream(path, std::ios::binary) << csv;
  Tables tables = tables_of(path, more_arguments);
  std::filesystem::remove_all(folder);
  return tables;
}

void expect_figure(const Row& row, const std::string& column, double expected, double tolerance) {
  const auto found = row.find(column);
  ASSERT_TRUE(found != row.end() && !found->second.empty())
      << column << " is empty, expected " << expected;
  const double got = std::strtod(found->second.c_str(), nullptr);
  EXPECT_LE(std::fabs(got - expected), tolerance * std::fabs(expected))
      << column << ": got " << found->second << ", expected " << expected;
}

void expect_printed(const Row& row, const std::string& column, double printed, int decimals) {
  const auto found = row.find(column);
  ASSERT_TRUE(found != row.end() && !found->second.empty())
      << column << " is empty, printed " << printed;
  const double got = std::strtod(found->second.c_str(), nullptr);
  // Half of the last printed place, and a hair for the binary form of the printed number.
  EXPECT_LE(std::fabs(got - printed), 0.5 * std::pow(10.0, -decimals) + 1e-9)
      << column << ": got " << found->second << ", printed " << printed;
}

}  // namespace ligule::published
