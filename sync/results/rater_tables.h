// What is known of the raters as files: raters.csv, rater_blocks.csv, rater_effects.csv. At full
// precision; what can't be had is empty.
#pragma once

#include <string>
#include <vector>

#include "sync/results/output.h"
#include "sync/results/raters.h"

namespace ligule::results {

// raters.csv: test,occasion,measure,kind,rater,other,n,mean_difference,spread,concordance,
//   concordance_low,concordance_high,icc,icc_low,icc_high,kappa,drift_f,drift_p
// rater_blocks.csv: test,occasion,measure,kind,rater,other,block,n,mean_difference,se
// rater_effects.csv: test,occasion,measure,rater,n,effect,se,with_blocks,f,p
// raters.h says what each figure is. Only files that have a row; none where there are no figures.
[[nodiscard]] std::vector<OutputFile> rater_files(const RaterFigures& figures);

}  // namespace ligule::results
