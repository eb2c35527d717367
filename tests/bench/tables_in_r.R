# What `ligule-desk tables` does, by R's own lm: each cutting of each test and the year's total in randomised complete
# blocks. Reads the values file and writes tests.csv and means.csv of the same columns into a folder.
# Arguments: VALUES.csv FOLDER
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
dir.create(given[2], showWarnings = FALSE)
for (name in c("tests", "means")) {
  write.csv(do.call(rbind, lapply(results, `[[`, name)), file.path(given[2], paste0(name, ".csv")), row.names = FALSE)
}
