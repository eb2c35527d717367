#include "sync/print/plot_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "storage/files/csv.h"
#include "storage/trial/plot_path.h"
#include "sync/print/sheet_layout.h"
#include "sync/print/sheet_words.h"
#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::print {
namespace {

using results::element;
using results::escaped;

constexpr double kMargin = 10, kHead = 33, kFoot = 8;
// A printer that rounds up must not begin another page.
constexpr double kSpare = 2;
constexpr double kPlotWidth = 18, kPlaceWidth = 20, kEntryWidth = 34, kLastWidth = 16;
// Of what columns want, as much is enough: paper is held upright where that has room.
constexpr double kLeastOfWidth = 0.85;
// Of the letters of the key and of a heading, measured generously.
constexpr double kKeyLetter = 1.36, kKeyLine = 3.4, kNameLetter = 1.95, kNameLine = 4;
constexpr double kSmallLetter = 1.3, kSmallLine = 3.1;

constexpr std::string_view kSheetStyle = R"(
.sheet { display: flex; flex-direction: column; break-after: page; }
.sheet:last-child { break-after: auto; }
.top { display: flex; justify-content: space-between; align-items: baseline; }
.of { font-size: 12pt; font-weight: bold; white-space: nowrap; }
.head { height: 33mm; overflow: hidden; }
.head p { margin: 0 0 1mm; }
.trial { white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }
.lines { display: flex; gap: 6mm; margin: 4mm 0 2mm; }
.lines span { white-space: nowrap; }
.line { flex: 1; border-bottom: .3mm solid #000; }
.how, .key, .foot { font-size: 7.5pt; line-height: 1.25; }
.key p { margin: 0 0 .8mm; }
.foot { margin-top: auto; }
table { width: calc(100% - .5mm); table-layout: fixed; border: .5mm solid #000; }
th, td { padding: 0 1mm; vertical-align: middle; overflow-wrap: break-word; }
th { font-size: 7.5pt; line-height: 1.2; font-weight: normal; vertical-align: top; padding-top: .8mm; }
th b { display: block; font-size: 9.5pt; }
.plot td { height: 9mm; }
.band td { height: 6.5mm; border-top: .9mm solid #000; font-size: 9pt; font-weight: bold; }
.band .way { font-size: 15pt; line-height: 5mm; vertical-align: -.5mm; padding: 0 1.5mm; }
.stake { font-size: 17pt; font-weight: bold; line-height: 1; white-space: nowrap; }
.place { font-size: 7.5pt; line-height: 1.2; }
.entry div { max-height: 8.4mm; overflow: hidden; font-size: 7.5pt; line-height: 1.1; }
.last { font-size: 7.5pt; line-height: 1.15; border-right-style: none; padding-right: 0; }
.last i { font-size: 6.5pt; white-space: nowrap; }
.box { border-width: .4mm; }
.part { border-left: .2mm dashed #000; }
.more { border-right: .2mm dashed #000; }
.kept { text-align: center; font-size: 9pt; border-width: .4mm; }
.by { font-size: 8pt; font-style: italic; }
)";

struct Column {
  SheetColumn what;
  SheetHeading heading;
  bool last = false;  // there is room for what plots had last
};

std::string place_of(const PlanPlot& plot) {
  std::string place = fmt::format("block {}", plot.block);
  if (plot.row > 0) place += fmt::format("<br>row {}, col {}", plot.row, plot.column);
  return place;
}

class Sheets {
 public:
  explicit Sheets(const PlotSheets& wish)
      : wish_(wish), plan_(*wish.plan), path_(plan_.along_path()), along_(path_along(path_)) {
    for (SheetColumn& column : sheet_columns(plan_, *wish.occasion, *wish.definitions)) {
      if (column.typed == TypedIn::kTablet) {
        left_out_.push_back(results::in_words(column.measure));
        continue;
      }
      SheetHeading heading = sheet_heading(column, wish.unit);
      const bool last = has_last(column.measure);
      columns_.push_back({std::move(column), std::move(heading), last});
    }
    const PaperSize size = size_of(wish.paper);
    lying_ = kLeastOfWidth * wanted_width() > size.width - 2 * kMargin;
    width_ = (lying_ ? size.height : size.width) - 2 * kMargin;
    height_ = (lying_ ? size.width : size.height) - 2 * kMargin - kSpare;
  }

  [[nodiscard]] PrintedSheets print() const {
    const double room = height_ - kHead - kFoot - heading_height();
    const std::vector<SheetStep> steps = this->steps();
    const std::vector<SheetRun> runs = split_into_sheets(
        steps, {room - height_of(key_lines(true)), room - height_of(key_lines(false))});
    std::string body;
    for (std::size_t n = 0; n < runs.size(); ++n) body += sheet(n, runs, steps);
    const std::string title = plan_.codes.trial + " " + wish_.occasion->code + ", plot sheets";
    return {page_text({.title = title,
                       .paper = wish_.paper,
                       .lying = lying_,
                       .margin = kMargin,
                       .style = kSheetStyle,
                       .body = std::move(body)}),
            runs.size()};
  }

 private:
  [[nodiscard]] bool has_last(const std::string& measure) const {
    return wish_.seen != nullptr && std::ranges::any_of(wish_.seen->last, [&](const auto& each) {
             return each.first.second == measure;
           });
  }

  [[nodiscard]] double width_of(const Column& column) const {
    return column.heading.width + (column.last ? kLastWidth : 0);
  }
  [[nodiscard]] double wanted_width() const {
    double width = kPlotWidth + kPlaceWidth + (wish_.names ? kEntryWidth : 0);
    for (const Column& column : columns_) width += width_of(column);
    return width;
  }

  [[nodiscard]] double heading_height() const {
    const double widen = width_ / wanted_width();
    double highest = 14;
    for (const Column& column : columns_) {
      const double width = width_of(column) * widen - 2;
      const SheetHeading& heading = column.heading;
      double height = 1.5 + kNameLine * lines_in(heading.name, width, kNameLetter) +
                      kSmallLine * lines_in(heading.how, width, kSmallLetter);
      if (!heading.better.empty())
        height += kSmallLine * lines_in(heading.better, width, kSmallLetter);
      highest = std::max(highest, height);
    }
    return highest;
  }

  // What of a scale the heading has no room for; whole: with what is judged.
  [[nodiscard]] std::string key_line(const Column& column, const Scale& scale, bool whole) const {
    std::string line = steps_in_words(scale);
    if (whole && !scale.definition.empty() && scale.kind != ScaleKind::kText)
      line.append(line.empty() ? "" : ". ").append(scale.definition);
    if (line.empty()) return {};
    std::string name = column.heading.name;
    if (column.what.scales.size() > 1) name += " (" + species_on(scale, column.what.measure) + ")";
    return name + ": " + line;
  }

  [[nodiscard]] std::string species_on(const Scale& scale, const std::string& measure) const {
    std::vector<std::string> names;
    for (const PlanEntry& entry : plan_.entries) {
      if (sheet_scale(plan_, *wish_.definitions, measure, entry.species) != &scale) continue;
      const Species* const species = wish_.definitions->find_species(entry.species);
      std::string name = species == nullptr ? entry.species : species->name;
      if (std::ranges::find(names, name) == names.end()) names.push_back(std::move(name));
    }
    return fmt::format("{}", fmt::join(names, ", "));
  }

  [[nodiscard]] std::vector<std::string> key_lines(bool whole) const {
    std::vector<std::string> lines;
    for (const Column& column : columns_)
      for (const Scale* const scale : column.what.scales)
        if (std::string line = key_line(column, *scale, whole); !line.empty())
          lines.push_back(std::move(line));
    if (!left_out_.empty())
      lines.push_back(
          fmt::format("Not on paper, on the tablet only: {}.", fmt::join(left_out_, ", ")));
    return lines;
  }
  [[nodiscard]] double height_of(const std::vector<std::string>& lines) const {
    double height = 1.5;
    for (const std::string& line : lines)
      height += .8 + kKeyLine * lines_in(line, width_, kKeyLetter);
    return height;
  }
  // What is judged stands on the first sheet; codes are looked up at every plot.
  [[nodiscard]] std::string key(bool whole) const {
    std::string html;
    for (const std::string& line : key_lines(whole)) {
      const std::size_t colon = line.find(':');
      std::string text = element("b", escaped(line.substr(0, colon)));
      text += escaped(line.substr(colon));
      html += element("p", text);
      html += '\n';
    }
    return html.empty() ? html : element("div", "\n" + html, "class=\"key\"") + "\n";
  }

  [[nodiscard]] std::vector<SheetStep> steps() const {
    std::vector<SheetStep> steps(path_.size());
    for (const std::size_t start : lane_starts(path_, along_)) steps[start].lane = true;
    for (std::size_t n = 0; n < path_.size(); ++n)
      steps[n].block = n == 0 || path_[n].block != path_[n - 1].block;
    return steps;
  }

  [[nodiscard]] std::string sheet(std::size_t n, const std::vector<SheetRun>& runs,
                                  const std::vector<SheetStep>& steps) const {
    std::string html =
        head(n + 1, runs.size()) + key(n == 0) + "<table>\n" + columns() + headings() + "<tbody>\n";
    for (std::size_t i = runs[n].first; i < runs[n].first + runs[n].count; ++i) {
      const bool first = i == runs[n].first;
      if (first || steps[i].lane || steps[i].block) html += band(i, steps[i], first);
      html += row(path_[i]);
    }
    html += "</tbody>\n</table>\n" + foot();
    return element("section", "\n" + html,
                   fmt::format("class=\"sheet\" style=\"height: {:.1f}mm\"", height_)) +
           "\n";
  }

  [[nodiscard]] std::string head(std::size_t n, std::size_t all) const {
    const std::string title = plan_.codes.trial + " \u00b7 " + what();
    std::string html = "<div class=\"top\">" + element("h1", escaped(title)) +
                       element("span", fmt::format("sheet {} of {}", n, all), "class=\"of\"") +
                       "</div>\n";
    const std::string field = plan_.field.empty() ? "" : ", field " + plan_.field;
    html += element("p",
                    escaped(fmt::format("{} \u00b7 {}{} \u00b7 sown {} \u00b7 {} plots{}",
                                        plan_.title, plan_.site_name, field,
                                        format_date(plan_.sown), path_.size(), due())),
                    "class=\"trial\"") +
            "\n";
    html +=
        "<div class=\"lines\"><span>Date</span><span class=\"line\">&nbsp;</span>"
        "<span>Rater, initials</span><span class=\"line\">&nbsp;</span>"
        "<span>Typed in on, by</span><span class=\"line\">&nbsp;</span></div>\n";
    html += element("p", how(), "class=\"how\"") + "\n";
    return element("div", "\n" + html, "class=\"head\"") + "\n";
  }

  [[nodiscard]] std::string what() const {
    const PlanOccasion& occasion = *wish_.occasion;
    if (occasion.job == Job::kRate) return occasion.code;
    return fmt::format("cutting {} of {}", occasion.cutting, occasion.year);
  }
  [[nodiscard]] std::string due() const {
    const auto& due = wish_.occasion->due;
    return due ? " \u00b7 due " + format_date(*due) : std::string();
  }

  [[nodiscard]] std::string how() const {
    std::string html =
        "One value in a box. Leave open what you did not see. Strike through what is wrong and "
        "write the right value beside it.";
    if (std::ranges::any_of(columns_, &Column::last))
      html += " Small figures: what the plot had last, and when.";
    if (wish_.seen != nullptr && !wish_.seen->given.empty())
      html += " Kept: a tablet has it already.";
    if (!wish_.names) html += " No entry is named: rate what you see.";
    return html;
  }

  [[nodiscard]] std::string columns() const {
    const double all = wanted_width();
    const auto col = [all](double width) {
      return fmt::format("<col style=\"width: {:.2f}%\">", 100 * width / all);
    };
    std::string html = "<colgroup>" + col(kPlotWidth) + col(kPlaceWidth);
    if (wish_.names) html += col(kEntryWidth);
    for (const Column& column : columns_) {
      if (column.last) html += col(kLastWidth);
      for (int n = 0; n < column.heading.boxes; ++n)
        html += col(column.heading.width / column.heading.boxes);
    }
    return html + "</colgroup>\n";
  }

  [[nodiscard]] static int cells_of(const Column& column) {
    return column.heading.boxes + (column.last ? 1 : 0);
  }

  [[nodiscard]] std::string headings() const {
    std::string html = "<thead><tr><th><b>Plot</b></th><th><b>Where</b></th>";
    if (wish_.names) html += "<th><b>Entry</b></th>";
    for (const Column& column : columns_) {
      const SheetHeading& heading = column.heading;
      std::string text = element("b", escaped(heading.name)) + escaped(heading.how);
      if (!heading.better.empty()) text += "<br>" + escaped(heading.better);
      html += element("th", text, fmt::format("colspan=\"{}\"", cells_of(column)));
    }
    return html + "</tr></thead>\n";
  }

  [[nodiscard]] int all_cells() const {
    int cells = wish_.names ? 3 : 2;
    for (const Column& column : columns_) cells += cells_of(column);
    return cells;
  }

  // Which way one walks from here, by the next plot of the lane; empty: it is the only one.
  [[nodiscard]] std::string way(std::size_t n) const {
    if (n + 1 == path_.size() || !in_one_lane(path_[n], path_[n + 1], along_)) return {};
    if (along_ == PathAlong::kRows) {
      const int by = path_[n + 1].column - path_[n].column;
      return by == 0 ? "" : by > 0 ? "\u2192" : "\u2190";
    }
    // Row 1 is the one that a person in front of the field stands at.
    const int by = path_[n + 1].row - path_[n].row;
    return by == 0 ? "" : by > 0 ? "\u2191" : "\u2193";
  }

  [[nodiscard]] std::string band(std::size_t n, const SheetStep& step, bool first_of_sheet) const {
    std::string text;
    if (n == 0)
      text = "Begin here";
    else if (step.lane)
      text = "Turn";
    else if (first_of_sheet)
      text = "Go on";
    std::string html = escaped(text);
    if (const std::string arrow = way(n); !arrow.empty())
      html += element("span", arrow, "class=\"way\"");
    else if (!html.empty())
      html += " \u00b7 ";
    html += fmt::format("block {}", path_[n].block);
    if (path_[n].row > 0)
      html += along_ == PathAlong::kRows ? fmt::format(", row {}", path_[n].row)
                                         : fmt::format(", column {}", path_[n].column);
    return element("tr", element("td", html, fmt::format("colspan=\"{}\"", all_cells())),
                   "class=\"band\"") +
           "\n";
  }

  [[nodiscard]] std::string row(const PlanPlot& plot) const {
    std::string html = element("td", escaped(plot.number), "class=\"stake\"") +
                       element("td", place_of(plot), "class=\"place\"");
    if (wish_.names) {
      const PlanEntry* const entry = entry_on(plan_, wish_.as_sown, plot);
      const std::string label = entry == nullptr ? plot.entry : entry->label();
      html += element("td", element("div", escaped(label)), "class=\"entry\"");
    }
    if (is_on_sheet(plan_, *wish_.occasion, wish_.as_sown, plot)) {
      for (const Column& column : columns_) html += boxes(plot, column);
    } else {
      html +=
          element("td", "pass by: not in this " + std::string(job()),
                  fmt::format("class=\"by\" colspan=\"{}\"", all_cells() - (wish_.names ? 3 : 2)));
    }
    return element("tr", html, "class=\"plot\"") + "\n";
  }
  [[nodiscard]] std::string_view job() const {
    return wish_.occasion->job == Job::kRate ? "rating" : "cutting";
  }

  [[nodiscard]] std::string boxes(const PlanPlot& plot, const Column& column) const {
    const results::PlotMeasure which{plan_.plot(plot).uuid, column.what.measure};
    std::string html;
    if (column.last) html += element("td", last(which, column), "class=\"last\"");
    const int boxes = column.heading.boxes;
    if (wish_.seen != nullptr && wish_.seen->given.contains(which))
      return html +
             element("td", "\u2713 kept", fmt::format("class=\"kept\" colspan=\"{}\"", boxes));
    for (int n = 0; n < boxes; ++n) {
      std::string kinds = "class=\"box";
      kinds.append(n > 0 ? " part" : "").append(n + 1 < boxes ? " more\"" : "\"");
      html += element("td", "", kinds);
    }
    return html;
  }

  [[nodiscard]] std::string last(const results::PlotMeasure& which, const Column& column) const {
    const auto at = wish_.seen->last.find(which);
    if (at == wish_.seen->last.end()) return {};
    const auto& [text, unit, on] = at->second;
    const std::string usual = sheet_unit(*column.what.scales.front(), wish_.unit);
    std::string html = escaped(text);
    if (!unit.empty() && unit != usual) html += " " + escaped(unit);
    const std::string day = results::day_and_month(on);
    if (static_cast<int>(on.year()) != wish_.occasion->year)
      return html + "<br>" + element("i", fmt::format("{} {}", day, static_cast<int>(on.year())));
    return day == text ? html : html + "<br>" + element("i", day);
  }

  [[nodiscard]] std::string foot() const {
    const bool here = std::ranges::any_of(
        columns_, [](const Column& column) { return column.what.typed == TypedIn::kFromPaper; });
    const bool weighs = std::ranges::any_of(
        columns_, [](const Column& column) { return column.what.typed == TypedIn::kTakeIn; });
    std::string text = "Typed in by: ";
    if (here)
      text += fmt::format("ligule-desk from-paper --trial {} {}{}", plan_.codes.trial, asked_by(),
                          wish_.names ? " --names open" : "");
    if (weighs)
      text += fmt::format("{}ligule-desk take-in --on-paper", here ? "; weights by: " : "");
    return element("p", escaped(text), "class=\"foot\"") + "\n";
  }
  [[nodiscard]] std::string asked_by() const {
    const PlanOccasion& occasion = *wish_.occasion;
    if (occasion.job == Job::kRate) return "--rating " + occasion.code;
    return fmt::format("--cutting {}/{}", occasion.year, occasion.cutting);
  }

  const PlotSheets& wish_;
  const Plan& plan_;
  std::vector<PlanPlot> path_;
  PathAlong along_;
  std::vector<Column> columns_;
  std::vector<std::string> left_out_;  // measures
  bool lying_ = false;
  double width_ = 0, height_ = 0;  // millimetres to print on
};

}  // namespace

PrintedSheets plot_sheets(const PlotSheets& wish) {
  return Sheets(wish).print();
}

std::string plot_sheets_csv(const PlotSheets& wish) {
  std::vector<std::string> columns{"plot"};
  for (const SheetColumn& column : sheet_columns(*wish.plan, *wish.occasion, *wish.definitions))
    if (column.typed != TypedIn::kTablet) columns.push_back(column.measure);
  std::vector<std::vector<std::string>> rows;
  for (const PlanPlot& plot : wish.plan->along_path()) {
    if (!is_on_sheet(*wish.plan, *wish.occasion, wish.as_sown, plot)) continue;
    std::vector<std::string>& row = rows.emplace_back(columns.size());
    row.front() = plot.number;
  }
  return files::csv_text(columns, rows);
}

}  // namespace ligule::print
