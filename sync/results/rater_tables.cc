#include "sync/results/rater_tables.h"

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

using Fields = std::vector<std::string>;

void add(Fields& fields, const std::optional<double>& number) {
  fields.push_back(exact_or_empty(number));
}

void add(Fields& fields, const std::optional<Agreed>& agreed) {
  add(fields, agreed ? std::optional(agreed->value) : std::nullopt);
  add(fields, agreed ? agreed->low : std::nullopt);
  add(fields, agreed ? agreed->high : std::nullopt);
}

Fields who(const RaterAgreement& of) {
  return {of.at.test, of.at.occasion, of.at.measure, std::string(name_of(of.kind)),
          of.rater,   of.other};
}

std::string agreement_rows(const RaterFigures& figures) {
  std::string text;
  for (const RaterAgreement& of : figures.agreements) {
    Fields fields = who(of);
    fields.push_back(std::to_string(of.n));
    add(fields, of.mean_difference);
    add(fields, of.spread);
    add(fields, of.concordance);
    add(fields, of.icc);
    add(fields, of.kappa);
    add(fields, of.drift_f);
    add(fields, of.drift_p);
    text += csv_line(fields);
  }
  return text;
}

std::string block_rows(const RaterFigures& figures) {
  std::string text;
  for (const RaterAgreement& of : figures.agreements) {
    for (const RaterBlock& block : of.blocks) {
      Fields fields = who(of);
      fields.push_back(std::to_string(block.block));
      fields.push_back(std::to_string(block.n));
      add(fields, block.mean_difference);
      add(fields, block.standard_error);
      text += csv_line(fields);
    }
  }
  return text;
}

std::string effect_rows(const RaterFigures& figures) {
  std::string text;
  for (const SurveyRaters& of : figures.surveys) {
    for (const SurveyRater& rater : of.raters) {
      Fields fields = {of.at.test, of.at.occasion, of.at.measure, rater.rater,
                       std::to_string(rater.n)};
      fields.push_back(exact(rater.effect));
      add(fields, rater.standard_error);
      fields.emplace_back(of.with_blocks ? "1" : "0");
      add(fields, of.f);
      add(fields, of.p);
      text += csv_line(fields);
    }
  }
  return text;
}

}  // namespace

std::vector<OutputFile> rater_files(const RaterFigures& figures) {
  std::vector<OutputFile> files;
  const auto add_file = [&files](const char* name, const std::string& head, std::string rows) {
    if (!rows.empty()) files.push_back({name, head + std::move(rows)});
  };
  add_file("raters.csv",
           "test,occasion,measure,kind,rater,other,n,mean_difference,spread,concordance,"
           "concordance_low,concordance_high,icc,icc_low,icc_high,kappa,drift_f,drift_p\n",
           agreement_rows(figures));
  add_file("rater_blocks.csv",
           "test,occasion,measure,kind,rater,other,block,n,mean_difference,se\n",
           block_rows(figures));
  add_file("rater_effects.csv", "test,occasion,measure,rater,n,effect,se,with_blocks,f,p\n",
           effect_rows(figures));
  return files;
}

}  // namespace ligule::results
