#include "sync/print/page.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::print {
namespace {

using testing::HasSubstr;

TEST(Page, IsOneDocumentOfItsPaper) {
  const std::string text = page_text({.title = "Plots <101> & more",
                                      .paper = Paper::kA4,
                                      .lying = true,
                                      .margin = 10,
                                      .style = ".x { color: #000; }\n",
                                      .body = "<h1>Plots</h1>\n"});
  EXPECT_THAT(text, HasSubstr("<title>Plots &lt;101&gt; &amp; more</title>"));
  EXPECT_THAT(text, HasSubstr("@page { size: 297mm 210mm; margin: 10mm; }"));
  EXPECT_THAT(text, HasSubstr(".x { color: #000; }\n</style>"));
  EXPECT_THAT(text, HasSubstr("<body>\n<h1>Plots</h1>\n</body>"));
}

TEST(Page, ANamedPaperReadsBackAndNothingElse) {
  for (const Paper paper : {Paper::kLetter, Paper::kA4})
    EXPECT_EQ(parse_paper(name_of(paper)).value(), paper);
  EXPECT_EQ(parse_paper("a5").error().mend, "use letter or a4");
}

}  // namespace
}  // namespace ligule::print
