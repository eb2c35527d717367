#include "app/program/arguments.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::program {
namespace {

using testing::HasSubstr;

Arguments taken(const std::vector<std::string>& given) {
  const auto parsed = parse_arguments(given);
  if (!parsed) {
    ADD_FAILURE() << one_line(parsed.error());
    return {};
  }
  const auto* arguments = std::get_if<Arguments>(&*parsed);
  EXPECT_NE(arguments, nullptr);
  return arguments == nullptr ? Arguments{} : *arguments;
}

std::string refusal(const std::vector<std::string>& given) {
  const auto parsed = parse_arguments(given);
  if (parsed) return "taken";
  EXPECT_EQ(parsed.error().kind, ErrorKind::kInvalid);
  return one_line(parsed.error());
}

TEST(ArgumentLine, WithoutAnyIsTheUsualLedgerInAWindow) {
  const Arguments arguments = taken({});
  EXPECT_FALSE(arguments.ledger);
  EXPECT_FALSE(arguments.headless);
  EXPECT_FALSE(arguments.size);
  EXPECT_FALSE(arguments.ppi);
  EXPECT_FALSE(arguments.today);
  EXPECT_FALSE(arguments.drive);
}

TEST(ArgumentLine, AllOfThem) {
  const Arguments arguments = taken({"--ledger", "a.ledger", "--headless", "--size", "1280x800",
                                     "--ppi", "189.5", "--today", "2026-05-04", "--drive", "d"});
  EXPECT_EQ(arguments.ledger, "a.ledger");
  EXPECT_TRUE(arguments.headless);
  EXPECT_EQ(arguments.size, (platform::Size{1280, 800}));
  EXPECT_EQ(arguments.ppi, 189.5);
  EXPECT_EQ(arguments.today, parse_date("2026-05-04").value());
  EXPECT_EQ(arguments.drive, "d");
}

TEST(ArgumentLine, HelpAndVersionAreTold) {
  for (const auto& [asked, part] :
       {std::pair{"--help", "--drive FILE"}, {"--version", "ligule "}}) {
    const auto parsed = parse_arguments({asked});
    ASSERT_TRUE(parsed);
    const auto* told = std::get_if<Told>(&*parsed);
    ASSERT_NE(told, nullptr);
    EXPECT_THAT(told->text, HasSubstr(part));
    EXPECT_TRUE(told->text.ends_with("\n"));
  }
}

TEST(ArgumentLine, WhatCannotBeMeantIsRefusedByName) {
  EXPECT_THAT(refusal({"--headless"}), HasSubstr("--headless: without a display nobody can tap"));
  for (const char* size : {"1280", "x", "1280x", "x800", "0x0", "1280x99999", "-1x800",
                           "1280x800x2", "12 80x800", "big"}) {
    EXPECT_THAT(refusal({"--size", size}), HasSubstr("is no size of a window")) << size;
  }
  for (const char* ppi : {"0", "29", "1001", "many", "nan", "1e3"})
    EXPECT_THAT(refusal({"--ppi", ppi}), HasSubstr("dots per inch")) << ppi;
  for (const char* day : {"2026-02-30", "today", "26-5-4", "2026-05-04x"})
    EXPECT_THAT(refusal({"--today", day}), HasSubstr("is not a date")) << day;
  EXPECT_THAT(refusal({"--ledgre", "x"}), HasSubstr("--ledgre"));
  EXPECT_THAT(refusal({"--drive"}), HasSubstr("--drive"));
  EXPECT_THAT(refusal({"left over"}), HasSubstr("left over"));
}

}  // namespace
}  // namespace ligule::program
