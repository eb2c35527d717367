#include "sync/print/page.h"

#include <fmt/format.h>

#include <utility>

#include "sync/results/html.h"

namespace ligule::print {
namespace {

constexpr std::string_view kPageStyle = R"(
* { box-sizing: border-box; }
body { margin: 0 auto; color: #000; background: #fff;
  font: 10pt/1.3 "Helvetica Neue", Arial, "Liberation Sans", sans-serif; }
h1 { margin: 0 0 1mm; font-size: 14pt; }
h2 { margin: 4mm 0 1mm; font-size: 11pt; }
table { border-collapse: collapse; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th, td { padding: .6mm 1.6mm; border: .2mm solid #000; text-align: left; vertical-align: top; }
.number { text-align: right; font-variant-numeric: tabular-nums; }
.caution { margin: 2mm 0; padding: 1.5mm 2.5mm; border: .5mm solid #000; }
@media screen { body { margin: 12mm auto; } }
)";

}  // namespace

std::string_view name_of(Paper paper) {
  return paper == Paper::kA4 ? "a4" : "letter";
}

Result<Paper> parse_paper(std::string_view text) {
  for (const Paper paper : {Paper::kLetter, Paper::kA4})
    if (text == name_of(paper)) return paper;
  return fail(ErrorKind::kInvalid, "'" + std::string(text) + "' is no paper known here", {},
              "use letter or a4");
}

PaperSize size_of(Paper paper) {
  // ISO 216 and, in inches, ANSI/ASME Y14.1 size A.
  return paper == Paper::kA4 ? PaperSize{210, 297} : PaperSize{8.5 * 25.4, 11 * 25.4};
}

std::string page_text(const Page& page) {
  PaperSize size = size_of(page.paper);
  if (page.lying) std::swap(size.width, size.height);
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<title>{}</title>\n<style>\n@page {{ size: {:.5g}mm {:.5g}mm; margin: {}mm; }}\n"
      "body {{ max-width: {:.5g}mm; }}{}{}</style>\n</head>\n<body>\n{}</body>\n</html>\n",
      results::escaped(page.title), size.width, size.height, page.margin,
      size.width - 2 * page.margin, kPageStyle, page.style, page.body);
}

}  // namespace ligule::print
