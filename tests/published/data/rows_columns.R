## Plots in rows and columns, in R: lm for value = entry + row + column, for the test of a trend beside entry + block and for
## the adjustment by neighbours; textbook formulas for the efficiency of complete designs.
## Run in this folder: Rscript rows_columns.R (R 4.2.2, jsonlite); writes rows_columns.expected.json.
library(stats); library(jsonlite)
suppressWarnings(RNGkind("Mersenne-Twister", "Inversion", "Rejection"))
treatment <- function(d) setNames(rep(list("contr.treatment"), length(d)), d)
## Gomez & Gomez (1984), Latin square of four maize hybrids, t/ha, from memory; the book's table, from memory too:
## SS rows 0.030154, columns 0.827342, treatments 0.426842, error 0.129585; efficiency 3.25 over none, 0.87 and 3.94 over blocks.
maize <- data.frame(row = rep(1:4, each = 4), column = rep(1:4, 4),
  entry = c("B","D","C","A", "C","A","D","B", "A","C","B","D", "D","B","A","C"),
  value = c(1.640,1.210,1.425,1.345, 1.475,1.185,1.400,1.290, 1.670,0.710,1.665,1.180, 1.565,1.290,1.655,0.660))
maize$block <- maize$row
square <- function(seed, t, gone) {
  set.seed(seed); s <- outer(1:t, 1:t, function(i, j) (i + j - 2) %% t + 1)[sample(t), sample(t)]
  d <- expand.grid(row = 1:t, column = 1:t); d$entry <- LETTERS[s[cbind(d$row, d$column)]]
  d$value <- round(5 + rnorm(t)[d$row] + rnorm(t)[d$column] + rnorm(t, 0, .5)[match(d$entry, LETTERS)] + rnorm(nrow(d), 0, .4), 2)
  d$block <- d$row; d[setdiff(seq_len(nrow(d)), gone), ]
}
## Blocks of two rows; ground that falls off from column to column.
field <- function(seed, entries, blocks, columns, gone, slope) {
  set.seed(seed); d <- expand.grid(column = 1:columns, row = 1:(entries * blocks / columns))
  d$block <- (d$row - 1) %/% (entries / columns) + 1
  d$entry <- unlist(lapply(1:blocks, function(b) sample(sprintf("E%02d", 1:entries))))
  d$value <- round(8 + rnorm(entries, 0, .6)[as.integer(factor(d$entry))] + rnorm(blocks, 0, .5)[d$block] +
    slope * d$column + rnorm(nrow(d), 0, .5), 3)
  d[setdiff(seq_len(nrow(d)), gone), ]
}
## Least-squares means: each level of each factor the same, covariates at their means.
means <- function(f, d, factors, covariates = character()) {
  X <- model.matrix(f); e <- levels(d$entry)
  L <- t(vapply(e, function(k) { x <- colMeans(X); x[] <- 0; x["(Intercept)"] <- 1
    if (k != e[1]) x[paste0("entry", k)] <- 1
    for (g in factors) { n <- nlevels(d[[g]]); x[paste0(g, levels(d[[g]])[-1])] <- 1 / n }
    for (v in covariates) x[v] <- mean(d[[v]]); x }, numeric(ncol(X))))
  V <- L %*% vcov(f) %*% t(L); at <- which(upper.tri(V), arr.ind = TRUE); at <- at[order(at[, 1], at[, 2]), , drop = FALSE]
  list(mean = as.vector(L %*% coef(f)), se = sqrt(diag(V)), sed = apply(at, 1, function(p) sqrt(V[p[1], p[1]] + V[p[2], p[2]] - 2 * V[p[1], p[2]])))
}
line <- function(less, more) { a <- anova(less, more); list(df = a$Df[2], ss = a$`Sum of Sq`[2], f = a$F[2], p = a$`Pr(>F)`[2]) }
terms_of <- function(f, d, factors, covariates = character()) c(means(f, d, factors, covariates), list(
  mse = sum(residuals(f)^2) / f$df.residual, df_error = f$df.residual))
one <- function(name, d) {
  d$entry <- factor(d$entry, sort(unique(d$entry), method = "radix"))
  for (k in c("row", "column", "block")) { d[[paste0(k, "_at")]] <- d[[k]]; d[[k]] <- factor(d[[k]]) }
  options(contrasts = c("contr.treatment", "contr.treatment"))
  full <- lm(value ~ row + column + entry, d); a <- anova(full)
  placed <- c(terms_of(full, d, c("row", "column")), list(row_ss = a["row", "Sum Sq"], column_ss = a["column", "Sum Sq"],
    entry = line(lm(value ~ row + column, d), full), row = line(lm(value ~ column + entry, d), full),
    column = line(lm(value ~ row + entry, d), full), residuals = as.vector(residuals(full))))
  out <- list(name = name, entries = nlevels(d$entry), placed = placed,
    plots = lapply(seq_len(nrow(d)), function(i) list(entry = as.integer(d$entry)[i] - 1L, row = d$row_at[i], column = d$column_at[i], block = d$block_at[i], value = d$value[i])))
  if (all(d$row_at == d$block_at)) return(out)
  plain <- lm(value ~ block + entry, d)
  x <- d$row_at - mean(d$row_at); y <- d$column_at - mean(d$column_at)
  both <- lm(value ~ block + entry + x + I(x^2) + y + I(y^2), d)
  r <- residuals(plain)
  d$beside <- vapply(seq_len(nrow(d)), function(i) mean(r[abs(d$row_at - d$row_at[i]) + abs(d$column_at - d$column_at[i]) == 1]), 0)
  near <- lm(value ~ block + beside + entry, d)
  out$plain <- c(terms_of(plain, d, "block"), list(residuals = as.vector(r)))
  out$rows <- line(lm(value ~ block + entry + y + I(y^2), d), both)
  out$columns <- line(lm(value ~ block + entry + x + I(x^2), d), both)
  out$df_both <- both$df.residual
  out$neighbours <- c(terms_of(near, d, "block", "beside"), list(slope = coef(near)[["beside"]], entry = line(lm(value ~ block + beside, d), near)))
  out
}
rough <- field(21, 10, 4, 5, c(3, 17, 18), -0.15); offset <- rough; offset$value <- offset$value + 1e4
all <- list(one("maize", maize), one("square_with_gaps", square(4, 6, c(5, 20, 33))), one("field", rough), one("field_offset", offset),
  one("larger_field", field(22, 24, 4, 12, integer(), 0.05)))
write(toJSON(list(made_with = R.version.string, sets = all), auto_unbox = TRUE, digits = I(15), na = "null"), "rows_columns.expected.json")
