// A report put together of its parts, which are made beside each other. For this room only.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>

#include "sync/results/report.h"
#include "sync/results/report_tests.h"

namespace ligule::results {

// A report that only lacks what it is a report of: that hangs on the digest of its tables.
struct ReportPage {
  std::string html;
  std::size_t release_at = 0;  // where that is to stand
};

// `sections`: what add_test_texts() gave of the tests, in their order; `long_term`: the section of
// this name, or nothing.
[[nodiscard]] ReportPage report_page(std::span<const ReportTest> tests,
                                     std::span<const std::string> sections,
                                     std::string_view long_term, const ReportText& text);

[[nodiscard]] std::string with_release(ReportPage page, const ReleaseState& release);

}  // namespace ligule::results
