## Several tests together, in R: lm for least squares, lme4 for the random model, written out matrices for the rest.
## Run in this folder: Rscript several_tests.R (R 4.2.2, lme4 1.1-31, jsonlite); writes several_tests.expected.json.
suppressMessages(library(lme4)); library(jsonlite)
suppressWarnings(RNGkind("Mersenne-Twister", "Inversion", "Rejection"))
cells_of <- function(file, ...) {
  x <- fromJSON(file, simplifyVector = FALSE); for (k in c(...)) x <- x[[k]]
  do.call(rbind, lapply(x$entry_by_test, function(c) data.frame(entry = c$entry, test = c$test, value = c$mean)))
}
made_up <- function(seed, entries, tests, sd_entry, sd_test, sd_error, gone, digits = 2) {
  set.seed(seed)
  d <- expand.grid(entry = sprintf("E%02d", 1:entries), test = sprintf("T%02d", 1:tests), stringsAsFactors = FALSE)
  u <- rnorm(entries, 0, sd_entry); v <- rnorm(tests, 0, sd_test)
  d$value <- round(6 + u[match(d$entry, unique(d$entry))] + v[match(d$test, unique(d$test))] + rnorm(nrow(d), 0, sd_error), digits)
  d[runif(nrow(d)) >= gone, ]
}
## The average over the tests as if all entries had stood in all: R's lm and its vcov.
least_squares <- function(d) {
  f <- lm(value ~ entry + test, d, contrasts = list(entry = "contr.treatment", test = "contr.treatment"))
  ne <- nlevels(d$entry); nt <- nlevels(d$test)
  L <- t(vapply(1:ne, function(i) c(1, as.numeric(2:ne == i), rep(1 / nt, nt - 1)), numeric(ne + nt - 1)))
  list(mean = as.vector(L %*% coef(f)), se = sqrt(diag(L %*% vcov(f) %*% t(L))), df = f$df.residual,
       mse = sum(residuals(f)^2) / f$df.residual, fit = f)
}
## The same of percents of each test's mean: an entry's, beside the average of all, which is 100 by what a percent is.
percents <- function(d) {
  d$value <- 100 * d$value / ave(d$value, d$test)
  f <- lm(value ~ entry + test, d, contrasts = list(entry = "contr.treatment", test = "contr.treatment")); ne <- nlevels(d$entry)
  L <- cbind(0, (diag(ne) - 1 / ne)[, -1], matrix(0, ne, nlevels(d$test) - 1))
  list(mean = 100 + as.vector(L %*% coef(f)), se = sqrt(diag(L %*% vcov(f) %*% t(L))))
}
## Errors of predictions beside the average one: Henderson's equations inverted as they stand, and twice what estimated ratios add
## (Kackar & Harville 1984; Prasad & Rao 1990), by differences of the predictor and the expected information.
comparison <- function(d, theta_entry, theta_test, s2) {
  if (theta_entry == 0) return(rep(NA_real_, nlevels(d$entry)))
  Z <- list(model.matrix(~ 0 + entry, d), model.matrix(~ 0 + test, d)); g <- c(theta_entry, theta_test)^2
  used <- which(g > 0); X <- do.call(cbind, c(list(1), Z[used])); ne <- ncol(Z[[1]])
  penalty <- c(0, unlist(lapply(used, function(k) rep(1 / g[k], ncol(Z[[k]])))))
  C <- diag(ne) - 1 / ne; henderson <- s2 * diag(C %*% solve(crossprod(X) + diag(penalty))[1 + 1:ne, 1 + 1:ne] %*% C)
  H_at <- function(g) diag(nrow(d)) + g[1] * tcrossprod(Z[[1]]) + g[2] * tcrossprod(Z[[2]])
  P_at <- function(g) { Hi <- solve(H_at(g)); Hi - tcrossprod(rowSums(Hi)) / sum(Hi) }
  predictor <- function(g) g[1] * C %*% t(Z[[1]]) %*% P_at(g)
  moved <- lapply(used, function(k) { one <- function(h) { e <- replace(numeric(2), k, h); (predictor(g + e) - predictor(g - e)) / (2 * h) }
    h <- 2e-3 * g[k]; (4 * one(h / 2) - one(h)) / 3 })
  P <- P_at(g); V <- lapply(used, function(k) P %*% tcrossprod(Z[[k]])); tr <- function(m) sum(diag(m))
  n <- seq_along(used); info <- outer(n, n, Vectorize(function(i, j) (tr(V[[i]] %*% V[[j]]) - tr(V[[i]]) * tr(V[[j]]) / (nrow(d) - 1)) / 2))
  W <- solve(info); H <- H_at(g); added <- 0
  for (i in n) for (j in n) added <- added + W[i, j] * rowSums((moved[[i]] %*% H) * moved[[j]])
  sqrt(henderson + 2 * s2 * added)
}
## lme4's criterion as a function of theta, brought to its lowest point by hand; the default fit beside it.
random_model <- function(d) {
  form <- lFormula(value ~ 1 + (1 | entry) + (1 | test), d, REML = TRUE,
                   control = lmerControl(check.nobs.vs.nlev = "ignore"))
  dev <- do.call(mkLmerDevfun, form); order <- names(form$reTrms$cnms)
  plain <- suppressMessages(lmer(value ~ 1 + (1 | entry) + (1 | test), d, REML = TRUE))
  start <- pmax(getME(plain, "theta"), 1e-3)
  for (i in 1:20) start <- nlminb(start, dev, lower = 0, control = list(rel.tol = 1e-15, x.tol = 1e-12, iter.max = 1000, eval.max = 5000))$par
  start[start < 1e-6] <- 0
  ## nlminb stops up to 1e-4 short in theta, where the criterion is flat to 1e-9: Newton's steps on central differences of it.
  inside <- which(start > 0)
  slope <- function(x, k, h = 1e-3) { one <- function(h) { e <- replace(numeric(2), k, h); (dev(x + e) - dev(x - e)) / (2 * h) }; (4 * one(h / 2) - one(h)) / 3 }
  for (i in 1:10) { g <- vapply(inside, function(k) slope(start, k), 0)
    h <- outer(inside, inside, Vectorize(function(j, k) { e <- replace(numeric(2), k, 1e-3); (slope(start + e, j) - slope(start - e, j)) / 2e-3 }))
    start[inside] <- start[inside] - solve(h, g) }
  stopifnot(abs(vapply(inside, function(k) slope(start, k), 0)) < 1e-6)
  theta <- setNames(start, order); best <- dev(start); e <- environment(dev)
  ## Henderson's equations written out: predictions and the variance of their errors, the mean estimated too.
  Ze <- model.matrix(~ 0 + entry, d); Zt <- model.matrix(~ 0 + test, d); a <- theta[["entry"]]^2; b <- theta[["test"]]^2
  H <- diag(nrow(d)) + a * tcrossprod(Ze) + b * tcrossprod(Zt); Hi <- solve(H); one <- rep(1, nrow(d))
  P <- Hi - Hi %*% one %*% t(one) %*% Hi / sum(Hi); s2 <- as.numeric(t(d$value) %*% P %*% d$value) / (nrow(d) - 1)
  effect <- a * as.vector(t(Ze) %*% P %*% d$value); pev <- s2 * (a - a^2 * diag(t(Ze) %*% P %*% Ze))
  mu <- sum(Hi %*% d$value) / sum(Hi)
  ## lme4's own predictions at this theta.
  own <- mkMerMod(e, list(par = start, fval = best, conv = 0, feval = 1), form$reTrms, form$fr)
  r <- ranef(own)$entry[levels(d$entry), 1]
    stopifnot(max(abs(r - effect)) < 1e-8 * max(1e-3, abs(d$value)), abs(fixef(own) - mu) < 1e-8 * abs(mu), abs(sigma(own)^2 - s2) < 1e-8 * s2)
  list(theta_entry = a^0.5, theta_test = b^0.5, criterion = as.numeric(best), criterion_of_lmer = as.numeric(REMLcrit(plain)),
       mean = mu, error_variance = s2, effect = r, effect_se = sqrt(pmax(pev, 0)))
}
## Finlay & Wilkinson (1963): the entry's yields on the tests' means, these adjusted for who stood there.
regression <- function(d, ls) {
  ne <- nlevels(d$entry); nt <- nlevels(d$test); cf <- coef(ls$fit)
  index <- setNames(cf[1] + mean(c(0, cf[2:ne])) + c(0, cf[(ne + 1):(ne + nt - 1)]), levels(d$test))
  lapply(levels(d$entry), function(k) { s <- d[d$entry == k, ]; if (nrow(s) < 3) return(list(slope = NA, slope_se = NA))
    co <- summary(lm(s$value ~ index[as.character(s$test)]))$coefficients; list(slope = co[2, 1], slope_se = co[2, 2]) })
}
## Shukla (1972): his own formula where nothing is missing, else the same expectations solved with the residuals' matrix.
stability <- function(d, ls) {
  p <- nlevels(d$entry); q <- nlevels(d$test); r <- residuals(ls$fit); ss <- tapply(r^2, d$entry, sum)
  if (nrow(d) == p * q) return(as.vector(p / ((p - 2) * (q - 1)) * ss - sum(ss) / ((p - 1) * (p - 2) * (q - 1))))
  X <- model.matrix(ls$fit); Q <- diag(nrow(d)) - X %*% solve(crossprod(X)) %*% t(X); Z <- model.matrix(~ 0 + entry, d)
  A <- t(Z) %*% Q^2 %*% Z; keep <- diag(A) > 1e-9; out <- rep(NA_real_, p)
  if (rcond(A[keep, keep]) < 1e-9) return(out)
  out[keep] <- solve(A[keep, keep], ss[keep]); out
}
one <- function(name, d) {
  d$entry <- factor(d$entry, sort(unique(as.character(d$entry)), method = "radix")); d$test <- factor(d$test, sort(unique(as.character(d$test)), method = "radix"))
  d <- d[order(d$entry, d$test), ]; ls <- least_squares(d); m <- random_model(d); fw <- regression(d, ls); sh <- stability(d, ls)
  pc <- percents(d); cs <- comparison(d, m$theta_entry, m$theta_test, m$error_variance)
  n <- as.vector(table(d$entry))
  list(name = name, tests = nlevels(d$test), df_error = ls$df, mse = ls$mse, theta_entry = m$theta_entry, theta_test = m$theta_test,
    criterion = m$criterion, criterion_of_lmer = m$criterion_of_lmer, mean = m$mean, error_variance = m$error_variance,
    cells = lapply(seq_len(nrow(d)), function(i) list(entry = as.integer(d$entry)[i] - 1L, test = as.integer(d$test)[i] - 1L, value = d$value[i])),
    entries = lapply(seq_along(n), function(i) list(entry = levels(d$entry)[i], n = n[i], lsmean = ls$mean[i], lsmean_se = ls$se[i],
      effect = m$effect[i], effect_se = m$effect_se[i],
      comparison_se = cs[i], percent = pc$mean[i], percent_se = pc$se[i], slope = fw[[i]]$slope, slope_se = fw[[i]]$slope_se, shukla = sh[i])))
}
offset <- made_up(5, 9, 7, 0.5, 1.5, 0.4, 0.25); offset$value <- offset$value + 1e4
alike <- made_up(10, 6, 8, 0, 1, 0.6, 0.2); same_tests <- made_up(5, 8, 6, 0.8, 0, 0.5, 0.2)
all <- list(one("immer", cells_of("immer.expected.json", "by_site_year")), one("immer_incomplete", cells_of("immer.expected.json", "incomplete")),
  one("met_complete", cells_of("met_small.expected.json", "complete")), one("met_incomplete", cells_of("met_small.expected.json", "incomplete")),
  one("many", made_up(7, 24, 14, 0.5, 2.5, 0.35, 0.45)), one("offset", offset), one("alike", alike), one("same_tests", same_tests))
for (x in all) cat(x$name, x$theta_entry, x$theta_test, x$criterion, x$criterion_of_lmer - x$criterion, "\n")
write(toJSON(list(made_with = paste(R.version.string, "lme4", packageVersion("lme4")), tables = all), auto_unbox = TRUE, digits = I(15), na = "null"),
      "several_tests.expected.json")
