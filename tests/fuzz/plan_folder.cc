#include "storage/files/plan_folder.h"

#include <string>

#include "storage/files/definitions.h"
#include "storage/trial/plan.h"
#include "tests/fuzz/memory_files.h"
#include "tests/fuzz/require.h"
#include "tests/fuzz/sections.h"
#include "tests/fuzz/targets.h"

namespace ligule::fuzz {
namespace {

struct PlanAssets {
  Definitions definitions;
  files::PlanSchemas schemas;
};

const PlanAssets& plan_assets() {
  static const PlanAssets read = [] {
    const auto files = files::real_file_system();
    const files::Path folder = LIGULE_SOURCE_ASSETS;
    return PlanAssets{files::load_definitions(*files, folder).value(),
                      files::load_plan_schemas(*files, folder).value()};
  }();
  return read;
}

void judge_plan(const Plan& plan) {
  const std::string text = plan_text(plan);
  const auto again = parse_plan_text(text);
  require(again.has_value() && plan_text(*again) == text, "a plan's canonical text is read back");
}

void folder(std::string_view input) {
  MemoryFiles files;
  for (const auto& [name, content] : sections(input)) {
    const auto written = files.write_durably("plan/" + name, content, files::Access::kEveryone);
    require(written.has_value(), "memory takes every file");
  }
  const auto& [definitions, schemas] = plan_assets();
  const auto read = files::read_plan_folder(files, "plan", schemas, definitions);
  if (!read) {
    require(!read.error().empty(), "a plan that is refused has a fault");
    for (const Error& fault : read.error()) require(!fault.what.empty(), "a fault says what");
    return;
  }
  judge_plan(read->plan);
  const auto written = files::write_plan_folder(files, "anew", read->plan, schemas);
  require(written.has_value(), "a plan that was read can be written");
  const auto again = files::read_plan_folder(files, "anew", schemas, definitions);
  require(again.has_value() && plan_text(again->plan) == plan_text(read->plan),
          "a plan written anew is the same plan");
}

void canonical(std::string_view text) {
  if (const auto plan = parse_plan_text(text)) judge_plan(*plan);
  if (const auto scale = parse_scale_text(text)) {
    const auto again = parse_scale_text(scale_text(*scale));
    require(again.has_value() && *again == *scale, "a scale's canonical text is read back");
  }
}

}  // namespace

void plan_folder(std::string_view input) {
  if (input.starts_with('f')) folder(input.substr(1));
  if (input.starts_with('p')) canonical(input.substr(1));
}

}  // namespace ligule::fuzz
