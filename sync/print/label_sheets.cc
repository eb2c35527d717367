#include "sync/print/label_sheets.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <tuple>
#include <vector>

#include "storage/trial/stake_code.h"
#include "sync/print/square_code.h"
#include "sync/results/html.h"

namespace ligule::print {
namespace {

using results::escaped;

// Millimetres. What printers leave free at the edge is about 6 (common practice, no source).
constexpr double kPrintMargin = 8;
// Below the labels: how to print them, with a bar to measure.
constexpr double kBelowLabels = 7;
// A page that is full to the last hair spills over onto the next one.
constexpr double kSlack = 0.5;
constexpr double kPad = 1.8;
// Smallest square of a code and smallest letters outdoors: common practice, no source.
constexpr double kLeastModule = 0.35;
constexpr double kLeastLetters = 1.7;
constexpr double kPlenty = 1000;

constexpr std::string_view kLabelStyle = R"(
.sheet { break-after: page; overflow: hidden; padding-right: .4mm; }
.sheet:last-child { break-after: auto; }
.grid { display: grid; border-top: .1mm dashed #777; border-left: .1mm dashed #777; }
.label { display: flex; align-items: center; overflow: hidden;
  border-right: .1mm dashed #777; border-bottom: .1mm dashed #777; break-inside: avoid; }
.label svg { flex: none; display: block; shape-rendering: crispEdges; }
.words { flex: 1 1 0; min-width: 0; line-height: 1.12; overflow-wrap: anywhere; }
.words b { display: block; line-height: 1; }
.words span { display: block; }
.foot { display: flex; align-items: flex-end; justify-content: space-between; font-size: 2.6mm; }
.bar { width: 50mm; border: .3mm solid #000; border-top: none; height: 2mm; flex: none; }
@media screen { .sheet { margin-bottom: 10mm; outline: .2mm solid #ccc; } }
)";

// A line of a label and how large its letters would like to be.
struct Line {
  std::string text;
  double size = 0;
  bool whole = false;  // in bold, on one line: the plot's number, the packet's weight
};

struct LabelSize {
  double width = 0, height = 0;
  double code = 0;   // side of the code with its quiet zone
  double words = 0;  // width left for words
};

// Widths in ems of the widest letters of usual sans typefaces, so that what fits here fits there:
// common practice, no source.
double ems_of(const Line& line) {
  double ems = 0;
  for (const char c : line.text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte & 0xC0U) == 0x80U) continue;  // goes on with a letter that is counted
    const bool wide = (c >= 'A' && c <= 'Z') || byte >= 0x80U;
    ems += wide ? 0.74 : 0.57;
  }
  return line.whole ? ems * 1.06 : ems;
}

// Lines break between words: of several each loses up to a fifth of its width.
double lines_high(const Line& line, double width) {
  constexpr double kBroken = 1.25;
  const double lines = ems_of(line) * line.size / width;
  return lines <= 1 ? 1.0 : std::ceil(kBroken * lines);
}

// Shrinks the lines until they fit; false where letters would be too small to read. A plot's number
// and a packet's weight stay on one line.
bool fit(std::vector<Line>& lines, double width, double height) {
  constexpr double kShrink = 0.94;
  constexpr double kLeading = 1.15;
  for (Line& line : lines)
    if (line.whole) line.size = std::min(line.size, width / ems_of(line));
  for (;;) {
    double sum = 0;
    for (const Line& line : lines)
      sum += line.size * (line.whole ? 1.0 : lines_high(line, width) * kLeading);
    const bool readable =
        std::ranges::all_of(lines, [](const Line& line) { return line.size >= kLeastLetters; });
    if (!readable || sum <= height) return readable;
    for (Line& line : lines) line.size *= kShrink;
  }
}

std::vector<Line> words_of(const Plan& plan, const PlanPlot& plot, const PlanEntry& entry,
                           const EntrySowing& sown, const LabelSheets& wanted,
                           const LabelSize& size) {
  const double usual = std::clamp(0.12 * size.height, 2.2, 4.6);
  std::vector<Line> lines{
      {plot.number, 0.42 * size.height, true},
      {fmt::format("{} · block {}", plan.codes.trial, plot.block), usual},
      {"entry " + entry.code + (entry.role == EntryRole::kFiller ? " (filler)" : ""), usual}};
  if (wanted.names == Names::kOpen) lines.push_back({entry.label(), usual});
  if (wanted.what == LabelFor::kPackets) {
    // What the plan does not say has room to be written.
    lines.push_back({"lot " + (entry.seed_lot.empty() ? "______" : entry.seed_lot), usual});
    lines.push_back({sown.packet ? packet_text(*sown.packet) : "______ g", 1.4 * usual, true});
  }
  return lines;
}

Error no_room(std::string what, const LabelSize& size) {
  return {ErrorKind::kInvalid, std::move(what),
          fmt::format("labels of {:.0f} x {:.0f} mm", size.width, size.height),
          "ask for fewer --columns or --rows"};
}

// A label before its letters have a size.
struct Label {
  std::string text;  // of the code
  std::string code;  // drawn
  std::vector<Line> lines;
};

Result<Label> label(const Plan& plan, const PlanPlot& plot, const Sowing& sowing,
                    const LabelSheets& wanted, const LabelSize& size) {
  const PlanEntry* const entry = plan.find_entry(plot.entry);
  const EntrySowing* const sown = sowing.of(plot.entry);
  if (entry == nullptr || sown == nullptr)
    return fail(ErrorKind::kInvalid, "plot " + plot.number + " holds no entry of the plan");
  Label made{.text = stake_text(plan.codes.trial, plot.number),
             .code = {},
             .lines = words_of(plan, plot, *entry, *sown, wanted, size)};
  const auto code = square_code(made.text);
  if (!code) return std::unexpected(code.error());
  if (size.code / static_cast<double>(code->whole_side()) < kLeastModule)
    return std::unexpected(no_room("the code of plot " + plot.number + " has no room", size));
  made.code = svg_of(*code, made.text);
  if (!fit(made.lines, size.words, size.height - 2 * kPad))
    return std::unexpected(no_room("the words of plot " + plot.number + " have no room", size));
  return made;
}

// The same line of every label in one size, that of the fullest.
void even_out(std::vector<Label>& labels) {
  std::vector<double> sizes;
  for (const Label& each : labels) {
    sizes.resize(std::max(sizes.size(), each.lines.size()), kPlenty);
    for (std::size_t i = 0; i < each.lines.size(); ++i)
      sizes[i] = std::min(sizes[i], each.lines[i].size);
  }
  for (Label& each : labels)
    for (std::size_t i = 0; i < each.lines.size(); ++i) each.lines[i].size = sizes[i];
}

void add_label(std::string& body, const Label& made) {
  body += "<div class=\"label\">";
  body += made.code;
  body += "<div class=\"words\">";
  for (const Line& line : made.lines)
    fmt::format_to(std::back_inserter(body), "<{0} style=\"font-size:{1:.2f}mm\">{2}</{0}>",
                   line.whole ? "b" : "span", line.size, escaped(line.text));
  body += "</div></div>\n";
}

std::vector<PlanPlot> in_order(const Plan& plan, LabelOrder order) {
  std::vector<PlanPlot> plots = plan.along_path();
  if (order == LabelOrder::kPath) return plots;
  const auto place = [&](const PlanPlot& plot) {
    return std::ranges::find(plan.entries, plot.entry, &PlanEntry::code) - plan.entries.begin();
  };
  std::ranges::stable_sort(plots, {}, place);  // each entry's stay in the order of the path
  return plots;
}

LabelSize size_of_labels(const LabelSheets& wanted) {
  const PaperSize paper = size_of(wanted.paper);
  LabelSize size;
  size.width = (paper.width - 2 * kPrintMargin - kSlack) / static_cast<double>(wanted.columns);
  size.height =
      (paper.height - 2 * kPrintMargin - kBelowLabels - kSlack) / static_cast<double>(wanted.rows);
  size.code = std::min(size.height - 2 * kPad, 0.45 * size.width);
  size.words = size.width - size.code - 3 * kPad;
  return size;
}

std::string style_of(const LabelSheets& wanted, const LabelSize& size) {
  return fmt::format(
      "{}.sheet {{ height: {:.2f}mm; }}\n"
      ".grid {{ grid-template-columns: repeat({}, {:.3f}mm); grid-auto-rows: {:.3f}mm; }}\n"
      ".label {{ padding: 0 {:.2f}mm; gap: {:.2f}mm; }}\n"
      ".label svg {{ width: {:.3f}mm; height: {:.3f}mm; }}\n.foot {{ height: {:.2f}mm; }}\n",
      kLabelStyle, size_of(wanted.paper).height - 2 * kPrintMargin - kSlack, wanted.columns,
      size.width, size.height, kPad, kPad, size.code, size.code, kBelowLabels - 1);
}

}  // namespace

Result<PrintedLabels> label_sheets(const Plan& plan, const Sowing& sowing,
                                   const LabelSheets& wanted) {
  if (wanted.columns == 0 || wanted.rows == 0)
    return fail(ErrorKind::kInvalid, "a sheet has at least one column and one row", {},
                "ask for others");
  const LabelSize size = size_of_labels(wanted);
  if (size.words <= 0 || size.code <= 0)
    return std::unexpected(no_room("nothing has room on them", size));
  std::vector<Label> labels;
  labels.reserve(plan.plots.size());
  for (const PlanPlot& plot : in_order(plan, wanted.order)) {
    auto made = label(plan, plot, sowing, wanted, size);
    if (!made) return std::unexpected(made.error());
    labels.push_back(*std::move(made));
  }
  even_out(labels);
  const std::size_t on_sheet = wanted.columns * wanted.rows;
  const std::size_t sheets = (labels.size() + on_sheet - 1) / on_sheet;
  const std::string kind = wanted.what == LabelFor::kStakes ? "stakes" : "packets";
  std::string body;
  for (std::size_t sheet = 0; sheet < sheets; ++sheet) {
    body += "<div class=\"sheet\"><div class=\"grid\">\n";
    const std::size_t end = std::min(labels.size(), (sheet + 1) * on_sheet);
    for (std::size_t i = sheet * on_sheet; i < end; ++i) add_label(body, labels[i]);
    fmt::format_to(
        std::back_inserter(body),
        "</div><div class=\"foot\"><span>{} {}, sheet {} of {}. Labels {:.1f} x {:.1f} "
        "mm. Print at 100 %: this bar is then 50 mm long.</span><div class=\"bar\"></div>"
        "</div></div>\n",
        escaped(plan.codes.trial), kind, sheet + 1, sheets, size.width, size.height);
  }
  const std::string style = style_of(wanted, size);
  return PrintedLabels{.page = page_text({.title = plan.codes.trial + " " + kind,
                                          .paper = wanted.paper,
                                          .lying = false,
                                          .margin = kPrintMargin,
                                          .style = style,
                                          .body = body}),
                       .labels = labels.size(),
                       .sheets = sheets,
                       .width = size.width,
                       .height = size.height};
}

}  // namespace ligule::print
