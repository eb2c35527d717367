#include "storage/files/words.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/storage/files/faulty_file_system.h"

namespace ligule::files {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

class WordFiles : public testing::Test {
 protected:
  void SetUp() override { ASSERT_TRUE(files_->make_folders(folder_ / "words").has_value()); }
  void write(const char* name, std::string_view text) {
    ASSERT_TRUE(files_->write_durably(folder_ / name, text, Access::kEveryone).has_value());
  }
  std::vector<std::string> faults(std::string_view language = "en") {
    const auto loaded = load_words(*files_, folder_.path(), language);
    std::vector<std::string> out;
    if (!loaded)
      for (const Error& fault : loaded.error()) out.push_back(one_line(fault));
    return out;
  }

  TestFolder folder_;
  std::unique_ptr<FileSystem> files_ = real_file_system();
};

TEST_F(WordFiles, ASoundFileLoads) {
  write("words/en.json",
        R"({"language": "en", "name": "English", "texts": {"key.later": "Later", "a.b": "c"}})");
  const auto loaded = load_words(*files_, folder_.path(), "en");
  ASSERT_TRUE(loaded.has_value());
  EXPECT_EQ(loaded->name, "English");
  EXPECT_EQ(loaded->texts.size(), 2U);
  EXPECT_EQ(loaded->texts.at("key.later"), "Later");
}

TEST_F(WordFiles, OursLoads) {
  const auto loaded = load_words(*files_, LIGULE_SOURCE_ASSETS, "en");
  ASSERT_TRUE(loaded.has_value()) << one_line(loaded.error().front());
  EXPECT_GT(loaded->texts.size(), 100U);
}

TEST_F(WordFiles, AMissingFileIsNotFound) {
  const auto loaded = load_words(*files_, folder_.path(), "en");
  ASSERT_FALSE(loaded.has_value());
  EXPECT_EQ(loaded.error().front().kind, ErrorKind::kNotFound);
}

TEST_F(WordFiles, TextThatIsNoJsonNamesItsLine) {
  write("words/en.json", "{\n\"language\": \"en\",,\n}");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("words/en.json line 2")));
}

TEST_F(WordFiles, EveryFaultIsListed) {
  write("words/en.json", R"({"language": "es", "texts": {"a.b": 3, "c.d": "", "e.f": "x"}})");
  const auto all = faults();
  EXPECT_EQ(all.size(), 4U);
  EXPECT_THAT(all, Contains(HasSubstr("the language is 'es'")));
  EXPECT_THAT(all, Contains(HasSubstr("'name' should be a text")));
  EXPECT_THAT(all, Contains(HasSubstr("'a.b' should be a text")));
  EXPECT_THAT(all, Contains(HasSubstr("'c.d' should be a text")));
}

TEST_F(WordFiles, AFileWithoutTextsIsAFault) {
  write("words/en.json", R"({"language": "en", "name": "English"})");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("the object 'texts' is missing")));
  write("words/en.json", R"([1])");
  EXPECT_THAT(faults(), Contains(HasSubstr("the object 'texts' is missing")));
}

TEST_F(WordFiles, AKeyGivenTwiceIsAFault) {
  write("words/en.json",
        R"({"language": "en", "name": "English", "texts": {"a.b": "x", "a.b": "y"}})");
  EXPECT_THAT(faults(), ElementsAre(HasSubstr("'a.b' stands twice")));
}

TEST_F(WordFiles, PhrasesOfErrorsLoadByListOrNameEveryFault) {
  ASSERT_TRUE(files_->make_folders(folder_ / "errors").has_value());
  write(
      "errors/es.json",
      R"({"language": "es", "texts": {"keep {0}": "deje {0}"}, "places": {"{0} line {1}": "x"}})");
  const auto loaded = load_phrases(*files_, folder_.path(), "es");
  ASSERT_TRUE(loaded.has_value()) << one_line(loaded.error().front());
  EXPECT_EQ(loaded->texts.at("keep {0}"), "deje {0}");
  EXPECT_EQ(loaded->places.at("{0} line {1}"), "x");
  write("errors/es.json", R"({"language": "en", "texts": {"a b": 1, "c": "x", "c": "y"}})");
  const auto faulty = load_phrases(*files_, folder_.path(), "es");
  ASSERT_FALSE(faulty.has_value());
  std::vector<std::string> lines;
  for (const Error& fault : faulty.error()) lines.push_back(one_line(fault));
  EXPECT_THAT(lines, testing::UnorderedElementsAre(
                         HasSubstr("errors/es.json: the language is 'en'"),
                         HasSubstr("errors/es.json: 'c' stands twice"),
                         HasSubstr("errors/es.json: 'a b' should be a text"),
                         HasSubstr("errors/es.json: the object 'places' is missing")));
  EXPECT_FALSE(load_phrases(*files_, folder_.path(), "fr").has_value());
}

TEST_F(WordFiles, OurPhrasesLoad) {
  const auto loaded = load_phrases(*files_, LIGULE_SOURCE_ASSETS, "es");
  ASSERT_TRUE(loaded.has_value()) << one_line(loaded.error().front());
  EXPECT_GT(loaded->texts.size(), 300U);
}

TEST_F(WordFiles, LanguagesAreTheFilesThere) {
  write("words/en.json", "{}");
  write("words/es.json", "{}");
  write("words/notes.txt", "x");
  const auto codes = languages(*files_, folder_.path());
  ASSERT_TRUE(codes.has_value());
  EXPECT_THAT(*codes, ElementsAre("en", "es"));
}

TEST_F(WordFiles, NoFolderOfWordsIsAnError) {
  const auto codes = languages(*files_, folder_ / "nowhere");
  ASSERT_FALSE(codes.has_value());
  EXPECT_EQ(codes.error().kind, ErrorKind::kNotFound);
}

}  // namespace
}  // namespace ligule::files
