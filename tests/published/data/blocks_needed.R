## Blocks for a wished least significant difference, and the chance to find a true difference of that size, in R.
## Run in this folder: Rscript blocks_needed.R (R 4.2.2, base only); writes blocks_needed.csv.
lsd <- function(mse, t, b, alpha) qt(1 - alpha / 2, (b - 1) * (t - 1)) * sqrt(2 * mse / b)
chance <- function(d, mse, t, b, alpha) { df <- (b - 1) * (t - 1); q <- qt(1 - alpha / 2, df); ncp <- d / sqrt(2 * mse / b)
  by_pt <- pt(q, df, ncp, lower.tail = FALSE) + pt(-q, df, ncp)
  ## A second way: the normal given the estimate s of the error, averaged over s (chi-squared).
  g <- function(x) { s <- sqrt(x / df); (pnorm(ncp - q * s) + pnorm(-q * s - ncp)) * dchisq(x, df) }
  ends <- qchisq(c(0, 0.001, 0.1, 0.5, 0.9, 0.999, 1), df); x <- seq(max(0, df - 12 * sqrt(2 * df)), df + 14 * sqrt(2 * df), length.out = 20001)
  by_sum <- if (df > 100) sum(g(x)) * (x[2] - x[1]) else sum(vapply(1:6, function(i) integrate(g, ends[i], ends[i + 1], rel.tol = 1e-10)$value, 0))
  stopifnot(abs(by_pt - by_sum) < 1e-9); by_pt }
first <- function(enough) { for (b in 2:200) if (enough(b)) return(b); NA }
cases <- expand.grid(mse = c(0.095, 0.31, 110558.4), t = c(2, 3, 12, 40), alpha = c(0.05, 0.1), of_root = c(0.1, 0.25, 0.3, 0.8, 1.5, 4))
rows <- lapply(seq_len(nrow(cases)), function(i) { with(cases[i, ], { d <- of_root * sqrt(mse)
  b <- first(function(b) lsd(mse, t, b, alpha) <= d); b80 <- first(function(b) chance(d, mse, t, b, alpha) >= 0.8)
  at <- if (is.na(b)) 200 else b
  data.frame(mse = mse, treatments = t, alpha = alpha, wished = d, blocks = b, looked_at = at, lsd = lsd(mse, t, at, alpha),
             chance = chance(d, mse, t, at, alpha), blocks_80 = b80) }) })
out <- do.call(rbind, rows)
for (k in c("mse", "wished", "lsd", "chance")) out[[k]] <- sprintf("%.15g", out[[k]])
write.csv(out, "blocks_needed.csv", row.names = FALSE, quote = FALSE, na = "")
