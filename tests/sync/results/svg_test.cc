#include "sync/results/svg.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::results {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

TEST(Svg, IsAnElementWithItsSizeAndATitle) {
  Svg svg(120, 40);
  svg.line(1, 2.25, 30, 4, "grid");
  const std::string html = svg.element("Means & more");
  EXPECT_THAT(html, StartsWith("<svg viewBox=\"0 0 120 40\" width=\"120\" height=\"40\" role"));
  EXPECT_THAT(html, HasSubstr("<title>Means &amp; more</title>"));
  EXPECT_THAT(html,
              HasSubstr("<line x1=\"1.0\" y1=\"2.2\" x2=\"30.0\" y2=\"4.0\" class=\"grid\"/>"));
}

TEST(Svg, LabelsStayText) {
  Svg svg(10, 10);
  svg.text(1, 1, "<b>&", Anchor::kEnd, "scale");
  svg.box(0, 0, 4, 4, "plot", "<i>");
  const std::string html = svg.element("");
  EXPECT_THAT(html, HasSubstr("text-anchor=\"end\" class=\"scale\">&lt;b&gt;&amp;</text>"));
  EXPECT_THAT(html, HasSubstr("<title>&lt;i&gt;</title></rect>"));
}

TEST(Svg, AShapeWithoutATipIsOneElement) {
  Svg svg(10, 10);
  svg.box(0, 0, 4, 4, "plot");
  svg.dot(5, 5, 2, "best");
  const std::string html = svg.element("");
  EXPECT_THAT(html, HasSubstr("height=\"4.0\" class=\"plot\"/>"));
  EXPECT_THAT(html, HasSubstr("<circle cx=\"5.0\" cy=\"5.0\" r=\"2.0\" class=\"best\"/>"));
}

}  // namespace
}  // namespace ligule::results
