// The part of the report that shows one test.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "sync/results/labels.h"
#include "sync/results/report_tests.h"

namespace ligule::results {

// The events of one test as lists, a year each; empty where there are none.
[[nodiscard]] std::string event_lists(std::span<const EventLine> events, const std::string& test);

// What the entries of one test were made of, a table each cutting; empty where nothing was
// separated.
[[nodiscard]] std::string composition_tables(std::span<const EntryComposition> compositions,
                                             const std::string& test);

inline constexpr std::string_view kPressHeader = "test,table,row,column,printed,marked,group";

// What is told of a test, behind what stands there already. Its section of the report: headings,
// what was done to the test, its weather, tables of yields with the ratings of their year, charts,
// notes and events. And its lines of press.csv: every table of entries as it is printed, for
// whoever prints it again, a line a cell.
void add_test_texts(const ReportTest& test, const ReportText& text, std::string& sections,
                    CsvText& press);

}  // namespace ligule::results
