// fuzz_seeds FOLDER: what each target begins with, made of the files and fixtures of the tests, in
// FOLDER/TARGET.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>
#include <utility>

#include "storage/trial/plan.h"
#include "storage/trial/record_line.h"
#include "sync/seal/container.h"
#include "tests/fuzz/require.h"
#include "tests/fuzz/sections.h"
#include "tests/fuzz/targets.h"
#include "tests/storage/trial/sample_plan.h"
#include "tests/sync/seal/rated_season.h"

namespace ligule::fuzz {
namespace {

namespace fs = std::filesystem;

fs::path tests() {
  return LIGULE_TEST_DATA;
}
fs::path tree() {
  return tests().parent_path();
}
// A long file is taken in part: the fuzzer is quick with short inputs.
constexpr std::size_t kMostBytes = 3000;

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  require(file.good(), "cannot read " + path.string());
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string beginning_of(const fs::path& path) {
  std::string text = bytes_of(path);
  if (text.size() > kMostBytes) text.resize(text.rfind('\n', kMostBytes) + 1);
  return text;
}

class Seeds {
 public:
  explicit Seeds(fs::path folder) : folder_(std::move(folder)) {
    for (const Target& target : kTargets) fs::create_directories(folder_ / target.name);
  }
  void add(std::string_view target, std::string_view input) {
    std::ofstream file(folder_ / target / ("seed-" + std::to_string(++count_)), std::ios::binary);
    file << input;
  }
  [[nodiscard]] int count() const { return count_; }

 private:
  fs::path folder_;
  int count_ = 0;
};

void add_tables(Seeds& seeds) {
  const std::pair<char, const char*> files[] = {
      {'b', "demo-plots/desk/entry-list.csv"},    {'c', "demo-plots/desk/site-sheet.csv"},
      {'d', "demo-plots/desk/occasion-list.csv"}, {'g', "demo-plots/desk/varieties.csv"},
      {'h', "demo-plots/desk/site-notes.csv"},    {'i', "demo-plots/desk/weather.csv"},
      {'e', "tests/published/data/alfalfa.csv"},  {'e', "tests/published/data/missing_plots.csv"},
      {'e', "tests/published/data/edge.csv"},     {'k', "demo-plots/past/TF24-ratings.csv"},
  };
  for (const auto& [letter, name] : files) {
    seeds.add("tables", letter + beginning_of(tree() / name));
    seeds.add("tables", 'a' + beginning_of(tree() / name));
  }
  seeds.add(
      "tables",
      "fname,same_as,differs_from,from_year,decided_by,note\r\n"
      "LX 4,Alder Brook,,2024,MT,named at release\r\nCorrawen,,Corrowen,,MT,both on sale\r\n");
  seeds.add("tables", "jdate,released_by,changed,tables\r\n2026-11-02,MT,\"first, as planned\"," +
                          std::string(64, 'a') + "\r\n");
  seeds.add("tables",
            "kplot,percent_stand,plant_height_canopy,note\r\n101,85,12+11.5,geese\r\n102,-,,\r\n");
  seeds.add(
      "tables",
      "l107 85 12+11.5 V=10+R0=15 60+25+15; geese\n- - - -\nto 108\n90 - - 100+0+0\nback\ndone\n");
  seeds.add("tables",
            "mplot=Plot No,part=Bag of,date=Day,time=Hour,gross=\"Weight, lb\",tare=Tare,bag=Bag\n"
            "harvester 4\r\nPlot No,Bag of,Day,Hour,\"Weight, lb\",Tare,Bag\r\n"
            "101,1,2026-06-01,09:12,24.5,1.2,7\r\n102,1,2026-06-01,09:14,,1.2,8\r\n");
  seeds.add("tables", "nVariety,Seed lot,Seed on hand\r\nA,L1,12 lb\r\nA,L1,5.5 kg\r\nB,L2,\r\n");
}

void add_scale_lines(Seeds& seeds) {
  const char* const lines[] = {" 12.40\r\n 12.40\r\n 12.40\r\n", "  0.02 lb\r\n 31.5\r\n 31.5\r\n",
                               "S N +   12.345 kg\r\nD G -    0.020 kg\r\n OL \r\n",
                               "12,40 kg\r\n1.234,5 kg\r\n", "\x02 12.4 kg M\x03\x02 12.4 kg\x03"};
  for (char form = '0'; form < '7'; ++form)
    for (const char* line : lines) seeds.add("scale_lines", form + std::string(line));
  seeds.add("scale_lines", section("forms", bytes_of(tree() / "assets" / "indicators.json")) +
                               section("bytes", lines[2]));
}

void add_drives(Seeds& seeds) {
  for (const auto& file : fs::directory_iterator(tree() / "demo-plots" / "day")) {
    if (file.path().extension() == ".drive") seeds.add("drive_file", beginning_of(file));
  }
  seeds.add("drive_file", "wait 1500\nswipe left # on\nshot a.png\nlist \"a b.json\"\nquit\n");
  seeds.add("drive_file", "type \"a \\\"b\\\" \\\\ \\n\"\nexpect \"GROUP/x\"\n");
}

void add_plans(Seeds& seeds) {
  for (const auto& folder : fs::directory_iterator(tree() / "demo-plots" / "plans")) {
    std::string input = "f";
    for (const auto& file : fs::directory_iterator(folder)) {
      if (file.path().extension() == ".csv")
        input += section(file.path().filename().string(), bytes_of(file));
    }
    seeds.add("plan_folder", input);
  }
  seeds.add("plan_folder", 'p' + plan_text(sample_plan()));
  seeds.add("plan_folder", 'p' + plan_text(ledger::sample::plan()));
}

std::string payload_of(const std::string& sealed) {
  std::string input = "m";
  const auto members = seal::read_container(sealed, "s.zip").value();
  for (const seal::Member& member : members) {
    const std::string path = member.name.substr(member.name.find('/') + 1);
    if (path.starts_with("data/")) input += section(path, member.bytes);
  }
  return input;
}

std::string rows_of(const seal::Season& season) {
  std::string lines;
  for (std::size_t i = 1; i < season.bodies.size(); ++i)
    lines.append(season.bodies[i]).append("\n");
  return lines;
}

// Records of every kind that replaces or settles another.
seal::Season settled_season() {
  namespace sample = ledger::sample;
  seal::Season season;
  season.take(sample::plan_record(100, sample::plan()));
  const Record first = sample::reading(110, "101", "percent_stand", "85");
  const Record second = sample::reading(111, "102", "seedling_vigor", "7");
  const Record event = sample::event(112, "clipping");
  for (const Record& record :
       {first, second, sample::correction(113, first, "80"), sample::withdrawal(114, second), event,
        sample::event_back(115, event), sample::settlement(116, {first}, "82")})
    season.take(record);
  return season;
}

void add_seasons(Seeds& seeds) {
  for (const seal::Season& season :
       {seal::small_season(), seal::rated_season(), settled_season()}) {
    const std::string sealed = season.sealed();
    seeds.add("season_file", 'z' + sealed);
    seeds.add("season_file", payload_of(sealed));
    seeds.add("season_rows", rows_of(season));
  }
  seeds.add("season_file", 'z' + bytes_of(tests() / "sync" / "seal" / "data" / "format1.zip"));
}

void add_ledgers(Seeds& seeds) {
  for (int which = 0; which < 16; ++which) {
    const char first = static_cast<char>(which);
    seeds.add("ledger_file", std::string(1, first));
    for (int place = 0; place < 4; ++place) {
      std::string change{first, 0, static_cast<char>(place * 60), 40, 2, 'a', 'b'};
      seeds.add("ledger_file", change);
    }
  }
}

}  // namespace
}  // namespace ligule::fuzz

int main(int count, char** arguments) {
  if (count != 2) {
    std::cerr << "fuzz_seeds: name the folder to write to\n";
    return 2;
  }
  ligule::fuzz::Seeds seeds(arguments[1]);
  ligule::fuzz::add_tables(seeds);
  ligule::fuzz::add_scale_lines(seeds);
  ligule::fuzz::add_drives(seeds);
  ligule::fuzz::add_plans(seeds);
  ligule::fuzz::add_seasons(seeds);
  ligule::fuzz::add_ledgers(seeds);
  std::cout << seeds.count() << " inputs to begin with\n";
  return 0;
}
