## 24 oats in incomplete blocks of four, in R's lm: value = entry + incomplete block, whole and with plots missing; and beside
## complete blocks and no blocks at all.
## Run in this folder: Rscript incomplete_blocks.R (R 4.2.2, jsonlite); writes incomplete_blocks.expected.json.
library(stats); library(jsonlite)
plots <- read.csv("incomplete_blocks.csv", stringsAsFactors = TRUE)
plots$part <- interaction(plots$rep, plots$block)
differences <- function(m, X, e) {
  V <- vcov(m); keep <- colnames(V); X <- X[, keep]
  pairs <- combn(length(e), 2)
  apply(pairs, 2, function(p) { d <- X[p[1], ] - X[p[2], ]; drop(d %*% V %*% d) })
}
one <- function(name, gone) {
  d <- droplevels(plots[setdiff(seq_len(nrow(plots)), gone), ])
  ct <- list(entry = "contr.treatment", part = "contr.sum")
  m <- lm(value ~ part + entry, d, contrasts = ct)
  a <- anova(m); e <- levels(d$entry)
  # Contrasts that sum to 0: without the part's columns a mean stands at the plain mean over all parts.
  X <- matrix(0, length(e), length(coef(m)), dimnames = list(e, names(coef(m))))
  X[, "(Intercept)"] <- 1
  for (i in seq_along(e)[-1]) X[i, paste0("entry", e[i])] <- 1
  means <- drop(X %*% coef(m)); se <- sqrt(diag(X %*% vcov(m) %*% t(X)))
  within <- differences(m, X, e)
  beside <- function(f, contrasts) {
    o <- lm(f, d, contrasts = contrasts)
    Y <- matrix(0, length(e), length(coef(o)), dimnames = list(e, names(coef(o)))); Y[, 1] <- 1
    for (i in seq_along(e)[-1]) Y[i, paste0("entry", e[i])] <- 1
    r <- mean(differences(o, Y, e)) / mean(within); g <- o$df.residual; f <- m$df.residual
    c(r, r * (f + 1) * (g + 3) / ((f + 3) * (g + 1)))
  }
  d$rep <- factor(d$rep)
  list(name = name, gone = I(gone), df_error = m$df.residual, mse = sum(residuals(m)^2) / m$df.residual,
    f = a["entry", "F value"], p = a["entry", "Pr(>F)"], entry = e, mean = unname(means), se = unname(se),
    lsd = qt(.975, m$df.residual) * mean(sqrt(within)),
    over_blocks = beside(value ~ rep + entry, list(rep = "contr.sum")), over_none = beside(value ~ entry, NULL))
}
writeLines(toJSON(list(sets = list(one("whole", integer()), one("missing", c(5L, 20L, 47L, 71L)))), digits = NA,
  auto_unbox = TRUE, pretty = TRUE), "incomplete_blocks.expected.json")
