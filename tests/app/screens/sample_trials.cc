// The Trials screen in its states.
#include "tests/app/screens/sample_views.h"

namespace ligule::screens::tests {
namespace {

flow::TrialsView with(flow::TrialsPage page) {
  flow::TrialsView view;
  view.head = sample_head();
  view.page = std::move(page);
  return view;
}

flow::TrialPageView page(flow::TrialTab tab) {
  flow::TrialPageView view;
  view.code = "TF24";
  view.title = "Tall fescue with endophyte, sown 2024";
  view.tab = tab;
  view.loaded = true;
  return view;
}

}  // namespace

flow::TrialsView trials_list() {
  flow::TrialListView list;
  for (const char* code : {"AL24", "SS26", "TF23", "TF24"})
    list.rows.push_back({TrialId{}, code, "Tall fescue with endophyte, sown 2024",
                         "Millrace station", "Creek bottom", "2024-09-10", 24, 96});
  return with(list);
}

flow::TrialsView trial_plots() {
  flow::TrialPageView view = page(flow::TrialTab::kPlots);
  for (int block = 1; block <= 4; ++block)
    for (int n = 1; n <= 12; ++n)
      view.plots.push_back({std::to_string(100 * block + n), n == 1, "F" + std::to_string(n), {}});
  view.plots[1].status = AsSownStatus::kHolds;
  view.plots[5].status = AsSownStatus::kAsPlanned;
  view.plots[13].status = AsSownStatus::kReseeded;
  view.plots[14].status = AsSownStatus::kUnknown;
  view.plots[15].status = AsSownStatus::kAbandoned;
  return with(view);
}

flow::TrialsView trial_entries(bool hidden) {
  flow::TrialPageView view = page(flow::TrialTab::kEntries);
  view.names_hidden = hidden;
  for (int n = 1; n <= 12; ++n)
    view.entries.push_back({"F" + std::to_string(n), "Tall fescue",
                            hidden ? "" : "Brindlewick Meadow (novel NQ12)", n == 12 && !hidden,
                            4});
  const std::vector<flow::EndophyteFact> known{
      {"97", "2024-08-01"}, {"", ""}, {"", "2024-08-01"}, {"60", ""}};
  for (std::size_t n = 0; n < known.size() && !hidden; ++n) view.entries[n].endophyte = known[n];
  return with(view);
}

namespace {

flow::SoilRow phosphorus(std::string on) {
  return {"p",
          "29 ppm",
          "mehlich_3",
          "58 lb/acre",
          {std::move(on), "6 in", "Lower Valley laboratory"},
          {{{},
            checks::SoilStanding::kBelow,
            {{"soil.class.medium"}, {"soil.optimum_below"}},
            "a table, relative levels of nutrients, of an invented laboratory"}}};
}

}  // namespace

flow::TrialsView trial_soil() {
  flow::TrialPageView view = page(flow::TrialTab::kSoil);
  view.soil_tested = true;
  const flow::SoilSampleView sample{"2024-08-02", "6 in", "Lower Valley laboratory"};
  view.soil = {{"ph",
                "6.4",
                "water",
                "",
                sample,
                {{{"tall fescue"},
                  checks::SoilStanding::kGood,
                  {{"soil.range_within", {"5.6", "6.5"}}},
                  "a table"}}},
               phosphorus("2024-08-02"),
               {"k", "", "", "", {}, {}}};
  return with(view);
}

// Nothing of it is short.
flow::TrialsView trial_soil_long() {
  flow::TrialPageView view = page(flow::TrialTab::kSoil);
  view.soil_tested = true;
  view.soil = {{"ph",
                "6.4",
                "calcium_chloride",
                "",
                {"2024-08-02", "6 in", "Laboratory of the Lower and the Upper Valley"},
                {{{"tall fescue", "orchardgrass", "perennial ryegrass"},
                  checks::SoilStanding::kAbove,
                  {{"soil.range_above", {"5.6", "6.5"}}},
                  "a table of ranges by species, sheet 5302"},
                 {{"alfalfa"}, checks::SoilStanding::kNoVerdict, {{"soil.no_range"}}, ""}}},
               phosphorus("2025-08-12"),
               {"k",
                "150",
                "ammonium_acetate",
                "",
                {},
                {{{"tall fescue", "orchardgrass"},
                  checks::SoilStanding::kBelow,
                  {{"soil.minimum_below", {"200 lb/acre", "250 lb/acre"}},
                   {"soil.unit_assumed", {"lb/acre"}}},
                  "common practice, no source"}}},
               {"organic_matter",
                "2.4 %",
                "a method of their own",
                "",
                {},
                {{{}, checks::SoilStanding::kNoVerdict, {{"soil.no_table"}}, ""}}}};
  return with(view);
}

flow::TrialsView trial_events() {
  flow::TrialPageView view = page(flow::TrialTab::kEvents);
  const auto id = [](std::uint8_t n) {
    RecordId made;
    made.uuid.bytes[0] = n;
    return made;
  };
  view.events = {{"damage",
                  true,
                  "2026-05-18",
                  "2",
                  "KV",
                  "deer walked through plots 204 to 207",
                  id(1),
                  std::nullopt,
                  true,
                  {}},
                 {"mowing",
                  true,
                  "2026-05-11",
                  "",
                  "JRM",
                  "alleys only",
                  id(2),
                  flow::EventTakenBack{"2026-05-12", "JRM", "mistap"},
                  false,
                  {}},
                 {"spray",
                  true,
                  "2026-05-10",
                  "2",
                  "KV",
                  "wind from the west",
                  id(5),
                  std::nullopt,
                  true,
                  {{"event.fact.material", {"broadleaf herbicide"}},
                   {"event.fact.rate", {"1 pint/acre"}},
                   {"event.fact.no_entry_hours", {"2026-05-11 22:30", "24"}}}},
                 {"grazing_in",
                  true,
                  "2026-04-28",
                  "",
                  "JRM",
                  "",
                  id(6),
                  std::nullopt,
                  true,
                  {{"event.fact.animals", {"cattle"}},
                   {"event.fact.head", {"14"}},
                   {"event.fact.height_before", {"9 in"}}}},
                 {"fertilizer",
                  true,
                  "2026-04-02",
                  "",
                  "JRM",
                  "",
                  id(3),
                  std::nullopt,
                  true,
                  {{"event.fact.material", {"urea"}}, {"event.fact.rate", {"50 lb N/acre"}}}},
                 {"a word nobody knows",
                  false,
                  "2026-03-01",
                  "",
                  "JRM",
                  "of another program",
                  id(4),
                  std::nullopt,
                  true,
                  {}}};
  return with(view);
}

flow::TrialsView event_back() {
  const auto events = trial_events();
  return with(flow::EventBackView{std::get<flow::TrialPageView>(events.page).events.front(), true});
}

flow::TrialsView trial_without_events() {
  return with(page(flow::TrialTab::kEvents));
}

flow::TrialsView sown_form(bool holds) {
  flow::SownFormView view;
  view.plot = "214";
  for (int n = 1; n <= 12; ++n) view.entries.push_back("F" + std::to_string(n));
  view.since = "2026-05-20";
  if (holds) {
    view.status = AsSownStatus::kHolds;
    view.entry = "F7";
    view.stated = AsSownStatus::kReseeded;
    view.stated_since = "2026-04-02";
    view.can_keep = true;
    view.can_later = true;
    view.by_day = true;
  }
  return with(view);
}

flow::TrialsView sown_exchanged(bool typing) {
  flow::SownFormView view;
  view.plot = "214";
  view.status = AsSownStatus::kHolds;
  view.exchanged = true;
  view.near = {"212", "213", "215", "216", "114", "314"};
  view.other = "1213";
  view.sown = view.since = "2025-09-12";
  view.from_sowing = true;
  view.can_keep = true;
  if (typing) view.typing = "1213";
  return with(view);
}

namespace {

flow::EventFormView form_of(std::string what, std::vector<flow::EventFieldView> fields) {
  flow::EventFormView view;
  view.what = std::move(what);
  view.blocks = {1, 2, 3, 4};
  view.block = 2;
  view.on = "2026-05-18";
  view.can_later = true;
  view.fields = std::move(fields);
  view.can_keep = true;
  return view;
}

}  // namespace

flow::TrialsView new_event_form() {
  flow::EventFormView view = form_of("", {{"words", "", ""}});
  view.can_keep = false;
  return with(view);
}

flow::TrialsView event_form(bool writing) {
  flow::EventFormView view =
      form_of("damage", {{"words", "deer walked through plots 204 to 207", ""}});
  if (writing) view.writing = view.fields.front();
  return with(view);
}

flow::TrialsView spray_form(std::string_view writing) {
  flow::EventFormView view = form_of("spray", {{"material", "broadleaf herbicide", ""},
                                               {"rate", "1 pint/acre", ""},
                                               {"no_entry_hours", "24", ""},
                                               {"ended", "10:30 pm", ""},
                                               {"words", "wind from the west", ""}});
  view.no_entry = NoEntryBy::kHours;
  view.comes_to = "2026-05-19 22:30";
  for (const flow::EventFieldView& field : view.fields)
    if (field.key == writing) view.writing = field;
  return with(view);
}

flow::TrialsView spray_until_form() {
  flow::EventFormView view = form_of(
      "spray",
      {{"material", "", ""}, {"rate", "", ""}, {"until_clock", "2 pm", ""}, {"words", "", ""}});
  view.no_entry = NoEntryBy::kUntil;
  view.until_day = "2026-05-20";
  view.comes_to = "2026-05-20 14:00";
  return with(view);
}

flow::TrialsView grazing_form(bool writing) {
  flow::EventFormView view = form_of("grazing_in", {{"animals", "cattle", ""},
                                                    {"head", "14", ""},
                                                    {"height_before", "9", "in"},
                                                    {"words", "", ""}});
  view.animals = "cattle";
  if (writing) view.writing = view.fields[2];
  return with(view);
}

flow::TrialsView plan_folders(bool some) {
  flow::PlanPickView view;
  view.loaded = true;
  if (some)
    view.folders = {{"/media/kv/STICK/TF26", "TF26", "STICK"},
                    {"/media/kv/STICK/AL26-june", "AL26-june", "STICK"},
                    {"/media/kv/STICK/AL26", "AL26", "STICK", "AL26-june"}};
  return with(view);
}

flow::TrialsView found_copies() {
  flow::PlanPickView view = std::get<flow::PlanPickView>(plan_folders(true).page);
  view.folders.pop_back();  // so that all of it stands on low glass
  view.copies = {{"/media/kv/CARD/a.ledger", "CARD", "North 1", {"minutes", 12}, 1312},
                 {"/media/kv/CARD/b.ledger", "CARD", "Seed hall tablet", {"days", 3}, 96}};
  return with(view);
}

flow::TrialsView found_files() {
  flow::PlanPickView view = std::get<flow::PlanPickView>(found_copies().page);
  const std::string name = "season-01a21b34-5c6d-7e8f-9a0b-1c2d3e4f5a6b-1-1312.zip";
  view.folders.pop_back();
  view.files = {{"/media/kv/STICK/" + name, name, "STICK"}};
  return with(view);
}

flow::TrialsView offered_file(bool known) {
  return with(flow::OfferedFileView{
      {"/media/kv/STICK/s.zip", "South 2", "K3MQ-7XWA-2PLD-VN5T", known, 1312, {}},
      "2026-05-19",
      false,
      true});
}

flow::TrialsView file_faulty() {
  return with(
      flow::FileFaultyView{{{ErrorKind::kDamaged, "the season file reads back differently",
                             "season-01.zip", "this disk or stick may be worn out: use another"}}});
}

flow::TrialsView offered_copy(bool reading) {
  return with(flow::OfferedCopyView{
      {"/media/kv/CARD/a.ledger", "CARD", "North 1", {"minutes", 12}, 1312}, reading, !reading});
}

flow::TrialsView plan_checked() {
  return with(flow::PlanCheckedView{"TF26",
                                    "Tall fescue, sown 2026",
                                    24,
                                    96,
                                    9,
                                    false,
                                    false,
                                    {{ErrorKind::kInvalid, "a novel endophyte without its strain",
                                      "entries.csv line 2", "state the strain if known"}},
                                    true});
}

flow::TrialsView plan_faulty() {
  flow::PlanFaultyView view;
  for (int n = 2; n < 30; ++n) {
    const std::string plot = "1" + std::to_string(n);
    view.faults.push_back({ErrorKind::kInvalid, "entry 'F7' of plot " + plot + " is not known",
                           "plots.csv line " + std::to_string(n),
                           "add it to the entries, or mend the code"});
  }
  return with(view);
}

}  // namespace ligule::screens::tests
