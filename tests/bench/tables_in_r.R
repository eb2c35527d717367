# What `ligule-desk tables` does, by R's own lm: each cutting of each test and the year's total in randomised complete
# blocks. Reads the values file and writes tests.csv and means.csv of the same columns into a folder. With `all` also the
# analysis over cuttings (split plot in time) of each test and the long-term summary: over_cuttings.csv and long_term.csv
# with those of the columns that lm has an answer for.
# Arguments: VALUES.csv FOLDER [all]
given <- commandArgs(trailingOnly = TRUE)
plots <- read.csv(given[1], colClasses = c(rep = "character", cutting = "character", entry = "character"))

analyse <- function(d, test, year, cutting) {
  d$rep <- factor(d$rep)
  d$entry <- factor(d$entry)
  fit <- lm(value ~ rep + entry, d)
  table <- anova(fit)
  mse <- table["Residuals", "Mean Sq"]
  df <- table["Residuals", "Df"]
  r <- nlevels(d$rep)
  t <- nlevels(d$entry)
  mean <- mean(d$value)
  # Least-squares means: every block weighs the same.
  weights <- cbind(1, matrix(1 / r, t, r - 1), diag(t)[, -1, drop = FALSE])
  ls <- as.vector(weights %*% coef(fit))
  se <- sqrt(rowSums((weights %*% vcov(fit)) * weights))
  lsd <- qt(0.975, df) * sqrt(2 * mse / r)
  list(tests = data.frame(test, year, cutting, entries = t, reps = r, n = nrow(d), mean, mse, df_error = df,
                          f_entry = table["entry", "F value"], p_entry = table["entry", "Pr(>F)"],
                          cv_percent = 100 * sqrt(mse) / mean, lsd_05 = lsd),
       means = data.frame(test, year, cutting, entry = levels(d$entry), n = r, mean = ls, se,
                          percent_of_mean = 100 * ls / mean(ls), in_top_group = as.integer(max(ls) - ls <= lsd)))
}

results <- list()
for (d in split(plots, plots$test)) {
  test <- d$test[1]
  year <- d$year[1]
  for (part in split(d, d$cutting)) results[[length(results) + 1]] <- analyse(part, test, year, part$cutting[1])
  total <- aggregate(value ~ rep + entry, d, sum)
  results[[length(results) + 1]] <- analyse(total, test, year, "total")
}

# Entries are the main units and cuttings the sub-units, not randomised: what rep x cutting takes out tests the cuttings.
over_cuttings <- function(d) {
  for (name in c("rep", "entry", "cutting")) d[[name]] <- factor(d[[name]])
  table <- anova(lm(value ~ rep + entry + rep:entry + cutting + rep:cutting + cutting:entry, d))
  source <- c("rep", "entry", "rep:entry", "cutting", "rep:cutting", "entry:cutting", "Residuals")
  tested_with <- c("rep:entry", "rep:entry", NA, "rep:cutting", NA, "Residuals", NA)
  df <- table[source, "Df"]
  ms <- table[source, "Mean Sq"]
  error <- match(tested_with, source)
  f <- ms / ms[error]
  data.frame(test = d$test[1], year = d$year[1], over = "cuttings",
             source = c("rep", "entry", "error a (rep x entry)", "cutting", "error b (rep x cutting)", "entry x cutting",
                        "error c (rep x entry x cutting)"), df,
             ss = table[source, "Sum Sq"], ms, f, p = pf(f, df, df[error], lower.tail = FALSE))
}

# Least-squares means of entries from a table of means, every test weighing the same. Percents have a standard error of
# their distance from the average entry, which is 100 in every test without any error.
over_tests <- function(column, totals) {
  totals$test <- factor(totals$test)
  totals$entry <- factor(totals$entry)
  fit <- lm(reformulate(c("test", "entry"), column), totals)
  k <- nlevels(totals$test)
  t <- nlevels(totals$entry)
  weights <- cbind(1, matrix(1 / k, t, k - 1), diag(t)[, -1, drop = FALSE])
  means <- as.vector(weights %*% coef(fit))
  if (column == "percent_of_mean") weights <- sweep(weights, 2, colMeans(weights))
  list(mean = means, se = sqrt(rowSums((weights %*% vcov(fit)) * weights)))
}

long_term <- function(means) {
  totals <- means[means$cutting == "total", ]
  percent <- over_tests("percent_of_mean", totals)
  mean <- over_tests("mean", totals)
  data.frame(entry = levels(factor(totals$entry)), tests = as.vector(table(totals$entry)),
             percent_of_mean = as.vector(tapply(totals$percent_of_mean, totals$entry, base::mean)),
             corrected_percent = percent$mean, corrected_percent_se = percent$se, corrected_mean = mean$mean,
             corrected_se = mean$se)
}

written <- lapply(c(tests = "tests", means = "means"), function(name) do.call(rbind, lapply(results, `[[`, name)))
if ("all" %in% given[-(1:2)]) {
  written$over_cuttings <- do.call(rbind, lapply(split(plots, plots$test), over_cuttings))
  written$long_term <- long_term(written$means)
}
dir.create(given[2], showWarnings = FALSE)
for (name in names(written)) {
  write.csv(written[[name]], file.path(given[2], paste0(name, ".csv")), row.names = FALSE, na = "")
}
