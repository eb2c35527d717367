#include "tests/app/program/invented_site.h"

#include <stdlib.h>

#include <fstream>

#include "storage/files/definitions.h"
#include "storage/files/zone.h"
#include "sync/gather/enrol.h"
#include "sync/seal/begin.h"

namespace ligule::program_test {

InventedSite::InventedSite() {
  std::string name = (std::filesystem::temp_directory_path() / "ligule-program-XXXXXX").string();
  if (mkdtemp(name.data()) == nullptr) std::abort();
  folder_ = name;
}

InventedSite::~InventedSite() {
  std::error_code ignored;
  std::filesystem::remove_all(folder_, ignored);
}

std::string InventedSite::file(std::string_view name) const {
  return (folder_ / name).string();
}

Plan InventedSite::plan() {
  Plan plan;
  plan.codes = {"INVENTED", "home", "STAND"};
  plan.title = "Stand counts";
  plan.site_name = "Invented farm";
  plan.zone = "America/New_York";
  plan.field = "7";
  plan.sown = parse_date("2025-09-10").value();
  plan.design = "rcb";
  plan.plot_length = {"20", "ft"};
  plan.plot_width = {"5", "ft"};
  plan.swath_length = {"18", "ft"};
  plan.swath_width = {"3", "ft"};
  plan.bag_tare = {"30", "g"};
  for (int e = 1; e <= 20; ++e) {
    const std::string code = (e < 10 ? "E0" : "E") + std::to_string(e);
    plan.entries.push_back(
        {code, "tall_fescue", "Variety " + code, Endophyte::kFree, "", EntryRole::kTest, ""});
    for (const int block : {1, 2}) {
      plan.plots.push_back(
          {std::to_string(100 * block + e), block, code, block, e, 20 * (block - 1) + e});
    }
  }
  plan.occasions = {{"2026-stand", Job::kRate, 2026, 0, {"percent_stand"}, std::nullopt}};
  return plan;
}

void InventedSite::enrol(bool demo) const {
  enrol(plan(), demo);
}

void InventedSite::enrol(const Plan& plan, bool demo) const {
  const auto files = files::real_file_system();
  const Definitions definitions = files::load_definitions(*files, LIGULE_SOURCE_ASSETS).value();
  auto ledger = need(ledger::Ledger::create(this->ledger()));
  const auto morning =
      need(files::local_to_utc(plan.zone, parse_date(kDay).value(), std::chrono::hours(7)));
  const Stamp at = stamp_at(morning, need(files::offset_at(plan.zone, morning)));
  const seal::Beginning beginning{"Invented tablet", "test", at, demo};
  need(seal::begin_stream(ledger, *files, beginning));
  auto ids = need(seal::continued_ids(ledger, beginning));
  const std::vector plans{plan};
  if (!gather::enrol(ledger, plans, definitions, ids, at)) std::abort();
}

program::Arguments InventedSite::drive(std::string_view lines) const {
  std::ofstream(file("test.drive")) << lines;
  program::Arguments arguments;
  arguments.ledger = ledger();
  arguments.headless = true;
  arguments.today = parse_date(kDay).value();
  arguments.drive = file("test.drive");
  return arguments;
}

std::map<std::string, std::string> InventedSite::kept() const {
  const auto ledger = need(ledger::Ledger::open(this->ledger(), ledger::Access::kReadOnly));
  const Plan plan = InventedSite::plan();
  std::map<std::string, std::string> values;
  for (const ledger::Claim& claim : need(ledger.claims(plan.id()))) {
    const PlanPlot* plot = plan.find_plot(PlotId{claim.record.subject.value_or(Uuid{})});
    if (plot != nullptr) values[plot->number] = claim.record.entered;
  }
  return values;
}

namespace {

// Only while one thread runs: between the runs of a test.
void set_variable(const std::string& name, const std::optional<std::string>& value) {
  if (value) {
    setenv(name.c_str(), value->c_str(), 1);  // NOLINT(concurrency-mt-unsafe)
  } else {
    unsetenv(name.c_str());  // NOLINT(concurrency-mt-unsafe)
  }
}

}  // namespace

Variable::Variable(std::string name, const std::optional<std::string>& value)
    : name_(std::move(name)) {
  const char* held = getenv(name_.c_str());  // NOLINT(concurrency-mt-unsafe)
  if (held != nullptr) before_ = held;
  set_variable(name_, value);
}

Variable::~Variable() {
  set_variable(name_, before_);
}

std::string on_the_card(std::string_view more) {
  return "type \"AB\\n\"\nexpect \"Today\"\ntap \"Today/STAND/2026-stand/Rate\"\n"
         "tap \"Stake/101\"\n" +
         std::string(more);
}

Ran run(const program::Arguments& arguments, const work::AppendCall& append,
        const std::function<flow::Supply()>& supply) {
  std::ostringstream errors;
  const program::Exit exit = program::run(arguments, {errors, append, supply});
  return {exit, errors.str()};
}

}  // namespace ligule::program_test
