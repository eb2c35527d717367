#include "storage/files/table_schema.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::files {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr std::string_view kSchema = R"({"fields": [
  {"name": "plot", "description": "Number on the stake.", "type": "string",
   "constraints": {"required": true, "unique": true, "maxLength": 4, "pattern": "[0-9]+"}},
  {"name": "row", "description": "Row.", "type": "integer", "constraints": {"minimum": 1, "maximum": 9}},
  {"name": "size", "description": "Size.", "type": "number", "constraints": {"minimum": 0.5}},
  {"name": "less", "description": "Less.", "type": "number", "constraints": {"maximum": 3}},
  {"name": "sown", "description": "Day.", "type": "date"},
  {"name": "drilled", "description": "Rows?", "type": "boolean"},
  {"name": "role", "description": "Role.", "type": "string", "constraints": {"enum": ["test", "check"]}}
]})";

TableSchema schema() {
  return parse_table_schema(kSchema, "t.schema.json").value();
}

std::vector<std::string> faults_of(std::string_view text) {
  const auto table = Table::parse(text, "t.csv");
  EXPECT_TRUE(table.has_value());
  std::vector<std::string> lines;
  for (const Error& fault : table_faults(*table, schema())) lines.push_back(one_line(fault));
  return lines;
}

TEST(TableSchema, ReadsFieldsAndConstraints) {
  const TableSchema read = schema();
  ASSERT_EQ(read.fields.size(), 7U);
  EXPECT_EQ(read.text, kSchema);
  const Field& plot = *read.find("plot");
  EXPECT_TRUE(plot.required && plot.unique);
  EXPECT_EQ(plot.pattern, "[0-9]+");
  EXPECT_EQ(plot.max_length, 4U);
  EXPECT_EQ(read.find("row")->maximum, 9.0);
  EXPECT_EQ(read.find("nothing"), nullptr);
}

TEST(TableSchema, RefusesWhatItDoesNotRead) {
  const struct {
    const char* text;
    const char* what;
  } cases[] = {
      {"{", "not JSON"},
      {"[]", "no fields"},
      {"{}", "no fields"},
      {R"({"fields": []})", "no fields"},
      {R"({"fields": [1]})", "should be an object"},
      {R"({"fields": [{"name": "a", "type": "string"}]})", "no name or no description"},
      {R"({"fields": [{"description": "a", "type": "string"}]})", "no name or no description"},
      {R"({"fields": [{"name": "a", "description": "b", "type": "geopoint"}]})", "type 'geopoint'"},
      {R"({"fields": [{"name": "a", "description": "b"}]})", "type ''"},
      {R"({"fields": [{"name": "a", "description": "b", "type": "string", "constraints": {"jsonSchema": {}}}]})",
       "constraint 'jsonSchema'"},
      {R"({"fields": [{"name": "a", "description": "b", "type": "string", "constraints": {"minimum": "x"}}]})",
       "constraint 'minimum'"},
      {R"({"fields": [{"name": "a", "description": "b", "type": "string", "constraints": {"enum": []}}]})",
       "constraint 'enum'"},
      {R"({"fields": [{"name": "a", "description": "b", "type": "string", "constraints": {"pattern": "("}}]})",
       "no regular expression"},
      {R"({"fields": [{"name": "a", "description": "b", "type": "string"},
                      {"name": "a", "description": "b", "type": "string"}]})",
       "'a' stands twice"},
  };
  for (const auto& c : cases) {
    const auto read = parse_table_schema(c.text, "t.schema.json");
    ASSERT_FALSE(read.has_value()) << c.text;
    EXPECT_THAT(read.error().what, HasSubstr(c.what));
    EXPECT_THAT(read.error().where, HasSubstr("t.schema.json"));
  }
}

TEST(TableFaults, NoneForASoundTableInAnyOrderOfColumnsWithBlanks) {
  EXPECT_THAT(faults_of("row,plot, sown ,drilled,role,size,less\n"
                        " 3 ,0101,2024-09-03,TRUE,check,0.5,3\n,7,,,,,\n"),
              IsEmpty());
  EXPECT_THAT(faults_of("plot\n1\n"), IsEmpty()) << "columns not required may be left out";
}

TEST(TableFaults, NamesUnknownAndMissingColumns) {
  EXPECT_THAT(
      faults_of("\n\nrow,wor\n1,2\n"),
      ElementsAre(HasSubstr("t.csv line 3: column 'wor' is not known (use plot, row, size, less, "
                            "sown, drilled, role; a newer version of the program may know it)"),
                  HasSubstr("t.csv line 3: column 'plot' is missing (Number on the stake.)")));
}

TEST(TableFaults, NamesEveryBadCellWithLineColumnAndRemedy) {
  EXPECT_THAT(
      faults_of("plot,row,size,less,sown,drilled,role\n"
                ",0,0.4,3.1,2024-02-30,yes,chek\n"
                "12345,10,1e3,x,3/9/2024,T,TEST\n"
                "1a,1.5,,,,,\n"
                "1,,,,,,\"te\nst\"\n"),
      ElementsAre(
          HasSubstr("t.csv line 2, column plot: the cell is empty (Number on the stake.)"),
          HasSubstr("t.csv line 2, column row: '0' is out of range (enter 1 to 9)"),
          HasSubstr("t.csv line 2, column size: '0.4' is out of range (enter 0.5 or more)"),
          HasSubstr("t.csv line 2, column less: '3.1' is out of range (enter 3 or less)"),
          HasSubstr(
              "t.csv line 2, column sown: '2024-02-30' is not a date (write it as YYYY-MM-DD"),
          HasSubstr("t.csv line 2, column drilled: 'yes' is neither true nor false"),
          HasSubstr("t.csv line 2, column role: 'chek' is not one of: test, check"),
          HasSubstr("t.csv line 3, column plot: the text is too long"),
          HasSubstr("t.csv line 3, column row: '10' is out of range"),
          HasSubstr("t.csv line 3, column size: '1e3' is not a number"),
          HasSubstr("t.csv line 3, column less: 'x' is not a number"),
          HasSubstr("t.csv line 3, column sown: '3/9/2024' is not a date"),
          HasSubstr("t.csv line 3, column drilled: 'T' is neither"),
          HasSubstr("t.csv line 3, column role: 'TEST' is not one of"),
          HasSubstr("t.csv line 4, column plot: '1a' cannot stand here"),
          HasSubstr("t.csv line 4, column row: '1.5' is not a whole number"),
          HasSubstr("t.csv line 5, column role: the cell holds a line break")));
}

TEST(ParseBoolean, ReadsTheSpellingsOfTheStandardOnly) {
  for (const char* text : {"true", "True", "TRUE", "1"})
    EXPECT_EQ(parse_boolean(text), true) << text;
  for (const char* text : {"false", "False", "FALSE", "0"})
    EXPECT_EQ(parse_boolean(text), false) << text;
  EXPECT_FALSE(parse_boolean("").has_value());
}

}  // namespace
}  // namespace ligule::files
