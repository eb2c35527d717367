#include "sync/print/planting_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <vector>

#include "storage/trial/number.h"
#include "storage/trial/plot_path.h"
#include "sync/results/html.h"
#include "sync/results/labels.h"

namespace ligule::print {
namespace {

using results::element;
using results::escaped;

// Treated seed and drill: common practice, no source; the seed's label is the law.
constexpr std::string_view kCautions =
    "<p class=\"caution\"><b>Care.</b> Treated seed: gloves, and a mask where it dusts; nothing of "
    "it "
    "goes into food, feed or water; wash before eating. What the seed's label says decides. Before "
    "anybody reaches into the drill: stop the engine and take the key.</p>\n";

// A hair of the right margin is left, where a browser's page ends a fraction of a pixel early.
constexpr std::string_view kListStyle = R"(
body { padding-right: .4mm; font-size: 9.5pt; }
.facts { margin: 0 0 2mm; }
.seed td, .seed th { white-space: nowrap; padding: .8mm 1.2mm; }
.seed thead th, .seed .name, .seed .lacks { white-space: normal; }
.seed .lacks { font-size: 8.5pt; }
.drill { break-before: page; }
.plots { width: 100%; }
.plots td { vertical-align: middle; }
.plots .wide { width: 40%; }
.pass th { border-top: .6mm solid #000; }
.pass { break-after: avoid; }
.plots tbody { break-inside: avoid; }
.big { font-size: 12pt; font-weight: bold; }
)";

std::string cell(std::string_view text, std::string_view kind = {}) {
  return element("td", escaped(text), kind.empty() ? "" : fmt::format("class=\"{}\"", kind));
}
std::string head_cell(std::string_view name) {
  return element("th", escaped(name), "scope=\"col\"");
}

std::string stated(const StatedLength& length) {
  return length.text + " " + length.unit;
}

std::string border_fact(const Plan& plan, const Sowing& sowing) {
  if (plan.border.text.empty()) return " No border is stated in the plan, and none is counted.";
  std::string text = " Border " + stated(plan.border) + " around them all: ";
  if (sowing.border)
    return text + format_fixed(sowing.border->area.value(), 0) +
           " m², counted as sown with filler " + sowing.border->entry + ".";
  return text + "its seed is not counted.";
}

// What the drill's driver asks first.
std::string facts(const Plan& plan, const Sowing& sowing, std::size_t passes) {
  const double square_feet = convert<SquareFeet>(sowing.plot_area).value();
  std::string text = fmt::format(
      "Site {}, field {}. To be sown {}, {}, in {} {}. Plots {} by {}: {} m², {} square feet.",
      plan.site_name, plan.field, format_date(plan.sown), plan.drilled ? "drilled" : "broadcast",
      passes, passes == 1 ? "pass" : "passes", stated(plan.plot_length), stated(plan.plot_width),
      format_fixed(sowing.plot_area.value(), 2), format_fixed(square_feet, 1));
  if (!plan.alley.text.empty()) text += " Alley " + stated(plan.alley) + ".";
  text += border_fact(plan, sowing);
  return element("p", escaped(text), "class=\"facts\"") + "\n";
}

std::string rate_text(const EntrySowing& sown) {
  if (!sown.rate) return {};
  return sown.rate->text + " " + sown.rate->unit + (sown.rate_from_plan ? "" : " *");
}

std::string grams(const std::optional<Kilograms>& mass, int decimals) {
  return mass ? format_fixed(convert<Grams>(*mass).value(), decimals) : std::string();
}

// Live seeds on the ground, by the unit that the rate is of: "79/sq ft".
std::string dense_text(const EntrySowing& sown) {
  if (!sown.dense || !sown.rate) return {};
  if (sown.rate->unit == "kg/ha") return format_fixed(sown.dense->value(), 0) + "/m²";
  return format_fixed(convert<SeedsPerSquareFoot>(*sown.dense).value(), 0) + "/sq ft";
}

std::string entry_row(const PlanEntry& entry, const EntrySowing& sown, double spare, Names names) {
  std::string code = escaped(entry.code);
  if (entry.role != EntryRole::kTest) code += " " + element("small", escaped(name_of(entry.role)));
  std::string row = element("th", code, "scope=\"row\"");
  if (names == Names::kOpen) row += cell(entry.label(), "name");
  row += cell(entry.seed_lot) + cell(rate_text(sown), "number");
  row += cell(sown.live_share ? format_fixed(100 * *sown.live_share, 2) : "", "number");
  row += cell(sown.bulk && sown.rate ? format_fixed(rate_in(*sown.bulk, sown.rate->unit), 2) : "",
              "number");
  row += cell(dense_text(sown), "number");
  row += cell(sown.live_seeds ? format_fixed(*sown.live_seeds, 0) : "", "number");
  row += cell(std::to_string(sown.plots), "number");
  if (sown.packet) {
    row += cell(packet_text(*sown.packet), "number big");
    row += cell(grams(sown.total(), 0), "number") + cell(grams(sown.total(spare), 0), "number");
  } else {
    row += element("td", escaped("No weight: " + sown.lacks), "class=\"lacks\" colspan=\"3\"");
  }
  return element("tr", row) + "\n";
}

// The border, sown with a filler: `sown`.
std::string border_row(const BorderSowing& border, const EntrySowing& sown, const PlanEntry& entry,
                       double spare, Names names) {
  std::string row =
      element("th", "Border " + element("small", escaped(entry.code)), "scope=\"row\"");
  if (names == Names::kOpen) row += cell(entry.label(), "name");
  row += cell(entry.seed_lot) + cell(rate_text(sown), "number");
  row += cell("") + cell("") + cell("") + cell("") + cell("");
  if (border.seed) {
    row += cell("") + cell(grams(border.seed, 0), "number");
    row += cell(grams(*border.seed * (1 + spare), 0), "number");
  } else {
    row += element("td", escaped("No weight: see " + entry.code), "class=\"lacks\" colspan=\"3\"");
  }
  return element("tr", row) + "\n";
}

std::string seed_table(const Plan& plan, const Sowing& sowing, Names names) {
  const std::string spare = format_number(100 * sowing.spare);
  std::string head = head_cell("Entry");
  if (names == Names::kOpen) head += head_cell("Name");
  for (const std::string_view name :
       {"Seed lot", "Pure live seed sown", "Pure live, %", "As in the bag", "Live seeds",
        "Live seeds a plot", "Plots", "Packet", "All plots, g"})
    head += head_cell(name);
  head += head_cell("With " + spare + " % spare, g");
  std::string body;
  for (std::size_t i = 0; i < plan.entries.size(); ++i)
    body += entry_row(plan.entries[i], sowing.entries.at(i), sowing.spare, names);
  if (sowing.border) {
    const PlanEntry* const filler = plan.find_entry(sowing.border->entry);
    const EntrySowing* const sown = sowing.of(sowing.border->entry);
    if (filler != nullptr && sown != nullptr)
      body += border_row(*sowing.border, *sown, *filler, sowing.spare, names);
  }
  return "<h2>Seed by entry</h2>\n<table class=\"seed\">\n" +
         element("thead", element("tr", head)) + "\n" + element("tbody", body) + "\n</table>\n";
}

std::string seed_notes(const Sowing& sowing) {
  std::string text =
      sowing.live == LiveSeed::kGerminatedAndHard
          ? "Pure live is purity x (germination + hard or dormant seed, where the plan states "
            "some)."
          : "Pure live is purity x germination; hard or dormant seed is not counted.";
  text +=
      " A packet holds seed as it is in the bag: rate x plot area / pure live. Of coated seed the "
      "coating counts as inert: its purity is that of the seed alone.";
  const bool foreign = std::ranges::any_of(
      sowing.entries, [](const EntrySowing& sown) { return sown.rate && !sown.rate_from_plan; });
  if (foreign) text += " * The plan states no rate; this one was given for the list.";
  return element("p", escaped(text)) + "\n";
}

std::string lots_table(const std::vector<LotSowing>& lots) {
  if (lots.empty()) return {};
  std::string head;
  for (const std::string_view name :
       {"Seed lot", "Entries", "Wanted with spare, g", "On hand, g", "Short, g"})
    head += head_cell(name);
  std::string body;
  for (const LotSowing& lot : lots) {
    std::string row = element("th", escaped(lot.lot), "scope=\"row\"") + cell(lot.entries);
    const int decimals = lot.decimals();
    row += cell(lot.wanted ? grams(lot.wanted, decimals) : "not known", "number");
    row += cell(lot.on_hand ? grams(lot.on_hand, decimals) : "not stated", "number");
    row += cell(grams(lot.lacking(), decimals), "number big");
    body += element("tr", row) + "\n";
  }
  return "<h2>Seed on hand</h2>\n<table class=\"seed\">\n" + element("thead", element("tr", head)) +
         "\n" + element("tbody", body) + "\n</table>\n";
}

std::string plot_row(const PlanPlot& plot, const PlanEntry& entry, const EntrySowing& sown) {
  std::string row = cell(std::to_string(plot.path), "number") + cell(plot.number, "big");
  row += cell(std::to_string(plot.block), "number") + cell(std::to_string(plot.row), "number");
  row += cell(std::to_string(plot.column), "number");
  row += cell(entry.code + (entry.role == EntryRole::kFiller ? " filler" : ""), "big");
  row += cell(entry.seed_lot);
  row += cell(sown.packet ? packet_text(*sown.packet) : "", "number") + cell("", "wide");
  return element("tr", row) + "\n";
}

// The plots of one pass: a lane of the path.
std::string pass_head(std::span<const PlanPlot> plots, PathAlong along, std::size_t number) {
  const PlanPlot& first = plots.front();
  const PlanPlot& last = plots.back();
  const std::string lane =
      along == PathAlong::kRows
          ? fmt::format("row {}, column {} to {}", first.row, first.column, last.column)
          : fmt::format("column {}, row {} to {}", first.column, first.row, last.row);
  const std::string text = fmt::format("Pass {}: {}, {} {}", number, lane, plots.size(),
                                       plots.size() == 1 ? "plot" : "plots");
  return element("tr", element("th", escaped(text), "colspan=\"9\""), "class=\"pass\"") + "\n";
}

std::string plots_table(const Plan& plan, const Sowing& sowing,
                        const std::vector<PlanPlot>& along) {
  const PathAlong lanes = path_along(along);
  const std::vector<std::size_t> starts = lane_starts(along, lanes);
  std::string bodies;
  for (std::size_t pass = 0; pass < starts.size(); ++pass) {
    const std::size_t from = starts[pass];
    const std::size_t to = pass + 1 < starts.size() ? starts[pass + 1] : along.size();
    const auto plots = std::span(along).subspan(from, to - from);
    std::string body = pass_head(plots, lanes, pass + 1);
    for (const PlanPlot& plot : plots) {
      const PlanEntry* const entry = plan.find_entry(plot.entry);
      const EntrySowing* const sown = sowing.of(plot.entry);
      if (entry != nullptr && sown != nullptr) body += plot_row(plot, *entry, *sown);
    }
    bodies += element("tbody", body);
    bodies += '\n';
  }
  const std::string title = "Planting list " + plan.codes.trial + ", along the plot path";
  std::string head;
  for (const std::string_view name : {"Step", "Plot", "Block", "Row", "Column", "Entry", "Seed lot",
                                      "Packet", "Sown, and what went otherwise"})
    head += head_cell(name);
  return "<table class=\"plots\">\n" +
         element("thead", element("tr", element("th", escaped(title), "colspan=\"9\"")) +
                              element("tr", head)) +
         "\n" + bodies + "</table>\n";
}

}  // namespace

std::string planting_page(const Plan& plan, const Sowing& sowing, const PlantingPage& page) {
  const std::vector<PlanPlot> along = plan.along_path();
  std::string body =
      element("h1", escaped("Planting list " + plan.codes.trial + ": " + plan.title)) + "\n";
  body += facts(plan, sowing, lane_starts(along).size());
  body += kCautions;
  body += seed_table(plan, sowing, page.names);
  body += seed_notes(sowing);
  body += lots_table(page.lots);
  body += element("div", plots_table(plan, sowing, along), "class=\"drill\"") + "\n";
  return page_text({.title = "Planting list " + plan.codes.trial,
                    .paper = page.paper,
                    .lying = false,
                    .margin = 12,
                    .style = kListStyle,
                    .body = body});
}

std::string store_text(Kilograms seed, int decimals) {
  return grams(seed, decimals) + " g";
}

std::string planting_table(const Plan& plan, const Sowing& sowing) {
  results::CsvText csv(
      "step,pass,plot,block,row,column,entry,role,seed_lot,rate,rate_unit,pure_live_percent,"
      "packet_g,lacks");
  const std::vector<PlanPlot> along = plan.along_path();
  const PathAlong lanes = path_along(along);
  std::size_t pass = 0;
  for (std::size_t i = 0; i < along.size(); ++i) {
    const PlanPlot& plot = along[i];
    if (i == 0 || !in_one_lane(along[i - 1], plot, lanes)) ++pass;
    const PlanEntry* const entry = plan.find_entry(plot.entry);
    const EntrySowing* const sown = sowing.of(plot.entry);
    if (entry == nullptr || sown == nullptr) continue;
    csv.add(std::to_string(plot.path)).add_count(pass).add(plot.number);
    csv.add(std::to_string(plot.block)).add(std::to_string(plot.row));
    csv.add(std::to_string(plot.column)).add(entry->code).add(name_of(entry->role));
    csv.add(entry->seed_lot).add(sown->rate ? sown->rate->text : "");
    csv.add(sown->rate ? sown->rate->unit : "");
    csv.add(sown->live_share ? std::optional(100 * *sown->live_share) : std::nullopt);
    csv.add(sown->packet ? std::optional(convert<Grams>(*sown->packet).value()) : std::nullopt);
    csv.add(sown->lacks);
    csv.end_line();
  }
  return std::move(csv).take();
}

}  // namespace ligule::print
