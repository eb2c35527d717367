// Two programs at one ledger: what comes of it is plain, and no value is lost by it.
#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <sstream>
#include <thread>

#include "storage/files/plan_folder.h"
#include "tests/app/program/invented_site.h"
#include "tests/app/scale/fake_scale.h"

namespace ligule::faults {
namespace {

using program_test::InventedSite;
using program_test::need;
using testing::IsEmpty;
using testing::SizeIs;

std::string whole_text(const std::string& file) {
  std::ifstream in(file, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

struct Done {
  int status = -1;
  std::string errors;
};

// A program of the build; what it says goes to files. It ends with this, whatever a test did not
// wait for.
class Running {
 public:
  Running(const InventedSite& site, const std::string& name, std::vector<std::string> words)
      : errors_(site.file(name + "-" + std::to_string(++started) + ".errors")) {
    words.insert(words.begin(), std::string(LIGULE_BUILD_DIR) + "/" + name);
    std::vector<char*> pointers;
    pointers.reserve(words.size() + 1);
    for (std::string& word : words) pointers.push_back(word.data());
    pointers.push_back(nullptr);
    child_ = fork();
    if (child_ != 0) return;
    dup2(open("/dev/null", O_WRONLY | O_CLOEXEC), 1);
    dup2(open(errors_.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600), 2);
    execv(pointers.front(), pointers.data());
    _exit(127);
  }
  Running(const Running&) = delete;
  Running& operator=(const Running&) = delete;
  Running(Running&&) = delete;
  Running& operator=(Running&&) = delete;
  ~Running() {
    if (child_ <= 0) return;
    kill_it();
    end();
  }
  [[nodiscard]] bool over() {
    return child_ > 0 && waitpid(child_, &status_, WNOHANG) == child_ && ended();
  }
  Done end() {
    if (child_ > 0) waitpid(child_, &status_, 0);
    ended();
    return {WIFEXITED(status_) ? WEXITSTATUS(status_) : 128 + WTERMSIG(status_),
            whole_text(errors_)};
  }
  void kill_it() const { kill(child_, SIGKILL); }

 private:
  static inline int started = 0;

  bool ended() {
    child_ = 0;
    return true;
  }
  std::string errors_;
  pid_t child_ = 0;
  int status_ = 0;
};

std::vector<std::string> words_of(const program::Arguments& arguments) {
  std::vector<std::string> words{"--ledger", arguments.ledger.value_or("").string(), "--headless",
                                 "--drive", arguments.drive.value_or("").string()};
  if (arguments.today) words.insert(words.end(), {"--today", std::string(program_test::kDay)});
  return words;
}

// In a ledger with real records, as the desk's commands take it.
program::Arguments real(program::Arguments arguments) {
  arguments.today.reset();
  return arguments;
}

Done desk(const InventedSite& site, const std::vector<std::string>& words) {
  return Running(site, "ligule-desk", words).end();
}

// A touch program that has kept 101 and then stands still until go(): its look at the screen goes
// into a pipe that nobody reads yet.
class Standing {
 public:
  Standing(const InventedSite& site, const std::string& then, bool demo = true)
      : gate_(site.file("gate.json")) {
    if (mkfifo(gate_.c_str(), 0600) != 0) std::abort();
    const program::Arguments arguments =
        site.drive(program_test::on_the_card("tap \"Stand/80\"\n") + "list " +
                   site.file("before.json") + "\nlist " + gate_ + "\n" + then);
    program_.emplace(site, "ligule", words_of(demo ? arguments : real(arguments)));
    stands_ = scale::comes([&] { return whole_text(site.file("before.json")).ends_with("]\n"); });
  }
  [[nodiscard]] bool stands() const { return stands_; }
  [[nodiscard]] Running& program() { return *program_; }
  void go() const { static_cast<void>(whole_text(gate_)); }

 private:
  std::string gate_;
  std::optional<Running> program_;
  bool stands_ = false;
};

void expect_whole(const InventedSite& site, std::size_t values) {
  EXPECT_THAT(site.kept(), SizeIs(values));
  EXPECT_THAT(need(need(ledger::Ledger::open(site.ledger())).check()), IsEmpty());
}

TEST(TwoPrograms, TheSecondWindowIsToldInOneLine) {
  const InventedSite site;
  site.enrol();
  Standing first(site, "tap \"Stand/75\"\n");
  ASSERT_TRUE(first.stands());
  // On its page too, where somebody looks.
  const program::Arguments look = site.drive(
      "expect \"another window of this program is open already\"\n"
      "expect \"go on in that window\"\ntap \"Close\"\n");
  const Done second = Running(site, "ligule", words_of(look)).end();
  EXPECT_EQ(second.status, 2);
  EXPECT_EQ(second.errors, "ligule: " + site.ledger() +
                               ": another window of this program has the ledger open (go on in "
                               "that window, or close it first)\n");
  first.go();
  const Done done = first.program().end();
  EXPECT_EQ(done.status, 0) << done.errors;
  expect_whole(site, 2);
  EXPECT_EQ(program_test::run(site.drive("expect \"Who has the tablet?\"\n")).errors, "");
}

TEST(TwoPrograms, OneThatWasKilledKeepsNobodyOut) {
  const InventedSite site;
  site.enrol();
  Standing first(site, "");
  ASSERT_TRUE(first.stands());
  first.program().kill_it();
  EXPECT_EQ(first.program().end().status, 128 + SIGKILL);
  const auto again =
      program_test::run(site.drive("wait 600000\ntype \"AB\\n\"\nexpect \"1 of 40\"\n"));
  EXPECT_EQ(again.errors, "");
  expect_whole(site, 1);
}

// A desk whose commands read and write the ledger that is open on the glass.
class Desk {
 public:
  explicit Desk(const InventedSite& site) : site_(site) {
    other_.enrol(false);  // demonstrations of one day would be one tablet
    EXPECT_EQ(
        desk(other_, {"seal", "--ledger", other_.ledger(), "--out", other_.file("out")}).status, 0);
    for (const auto& entry : std::filesystem::directory_iterator(other_.file("out")))
      if (entry.path().extension() == ".zip") file_ = entry.path().string();
    const auto files = files::real_file_system();
    Plan plan = InventedSite::plan();
    plan.codes.trial = "NEW";
    const auto schemas = files::load_plan_schemas(*files, LIGULE_SOURCE_ASSETS).value();
    EXPECT_TRUE(files::write_plan_folder(*files, site.file("new"), plan, schemas).has_value());
  }
  // Each gives what it ended with.
  Done trust() {
    return desk(
        site_, {"trust", other_.ledger() + ".pub", "--ledger", site_.ledger(), "--label", "Other"});
  }
  Done gather() { return desk(site_, {"gather", file_, "--ledger", site_.ledger()}); }
  Done enrol() { return desk(site_, {"enrol", site_.file("new"), "--ledger", site_.ledger()}); }
  Done seal() {
    return desk(site_, {"seal", "--ledger", site_.ledger(), "--out", site_.file("out")});
  }
  Done check() { return desk(site_, {"ledger-check", "--ledger", site_.ledger()}); }

 private:
  const InventedSite& site_;
  InventedSite other_;
  std::string file_;
};

TEST(TwoPrograms, TheDeskWorksOnTheLedgerThatIsOpenOnTheGlass) {
  const InventedSite site;
  site.enrol(false);
  Desk at_desk(site);
  Standing first(site, "tap \"Stand/75\"\ntap \"Stand/70\"\n", false);
  ASSERT_TRUE(first.stands());
  for (const Done& done :
       {at_desk.trust(), at_desk.gather(), at_desk.enrol(), at_desk.seal(), at_desk.check()}) {
    EXPECT_EQ(done.status, 0) << done.errors;
    EXPECT_EQ(done.errors, "");
  }
  first.go();
  const Done done = first.program().end();
  EXPECT_EQ(done.status, 0) << done.errors;
  EXPECT_EQ(done.errors, "");
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_THAT(need(ledger.check()), IsEmpty());
  EXPECT_THAT(need(ledger.streams()), SizeIs(2));
  EXPECT_THAT(need(ledger.plans()), SizeIs(2));
  EXPECT_EQ(site.kept().at("102"), "75");
  EXPECT_EQ(site.kept().at("103"), "70");
}

// Both write as fast as they can.
TEST(TwoPrograms, ADeskThatWritesAllTheWhileLosesTheTabletNothing) {
  const InventedSite site;
  site.enrol(false);
  Desk at_desk(site);
  EXPECT_EQ(at_desk.trust().status, 0);
  std::string lines = program_test::on_the_card("");
  for (int place = 1; place <= 20; ++place) {
    lines += "tap \"Stand/" + std::to_string(5 * (place % 20 + 1)) + "\"\n";
  }
  Running tablet(site, "ligule", words_of(real(site.drive(lines))));
  int commands = 0;
  while (!tablet.over()) {
    for (const Done& done : {at_desk.gather(), at_desk.seal()}) {
      EXPECT_EQ(done.status, 0) << done.errors;
      ++commands;
    }
  }
  const Done done = tablet.end();
  EXPECT_EQ(done.status, 0) << done.errors;
  EXPECT_EQ(done.errors, "");
  EXPECT_GE(commands, 2);
  const auto ledger = need(ledger::Ledger::open(site.ledger()));
  EXPECT_THAT(need(ledger.check()), IsEmpty());
  EXPECT_THAT(need(ledger.streams()), SizeIs(2)) << "the tablet began a stream of its own anew";
  EXPECT_GE(site.kept().size(), 20U);
}

}  // namespace
}  // namespace ligule::faults
