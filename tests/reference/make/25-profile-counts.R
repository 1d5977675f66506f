# Makes expected/25-profile-counts.json: likelihood-ratio tests and profile-likelihood limits of
# single differences, by uniroot on the deviance of glm with the difference held by an offset.
# Run in tests/reference:  Rscript make/25-profile-counts.R
suppressMessages({library(jsonlite); library(MASS)})
tight <- glm.control(epsilon = 1e-14, maxit = 500)
limits <- function(X, y, w, family, phi, df) {
  full <- glm.fit(X, y, family = family, control = tight); b <- sum(w * full$coefficients)
  k <- which.max(abs(w)); H <- X[, -k, drop = FALSE] - outer(X[, k] / w[k], w[-k])
  root <- function(v) { d <- glm.fit(H, y, family = family, offset = X[, k] / w[k] * v, control = tight)$deviance; sqrt(max(d - full$deviance, 0) / phi) }
  q <- if (is.finite(df)) qt(.975, df) else qnorm(.975)
  lim <- function(s) uniroot(function(h) root(b + s * h) - q, c(1e-6, 20), tol = 1e-13)$root * s + b
  r <- root(0) * sign(b)
  c(difference = b, statistic = r, p = if (is.finite(df)) 2 * pt(-abs(r), df) else 2 * pnorm(-abs(r)), lower = lim(-1), upper = lim(1))
}
sprays <- read.csv("data/insectsprays.csv", stringsAsFactors = TRUE)
quine <- read.csv("data/quine.csv", stringsAsFactors = TRUE)
case <- function(f, d, a, b, family, quasi = FALSE) {
  m <- glm(f, family = family, data = d, control = tight); X <- model.matrix(m); w <- setNames(numeric(ncol(X)), colnames(X))
  if (a %in% names(w)) w[a] <- 1; if (b %in% names(w)) w[b] <- w[b] - 1
  phi <- if (quasi) sum(residuals(m, "pearson")^2) / m$df.residual else 1
  as.list(limits(X, m$y, w, family, phi, if (quasi) m$df.residual else Inf))
}
nb <- glm.nb(Days ~ Eth + Sex + Age + Lrn, quine, control = tight)
out <- list(
  made = "make/25-profile-counts.R", R = R.version.string,
  sprays_C_E = case(count ~ spray, sprays, "sprayC", "sprayE", poisson()),
  sprays_C_E_quasi = case(count ~ spray, sprays, "sprayC", "sprayE", poisson(), TRUE),
  quine_Sex = case(Days ~ Eth + Sex + Age + Lrn, quine, "(none)", "SexM", poisson()),
  quine_Eth_quasi = case(Days ~ Eth + Sex + Age + Lrn, quine, "(none)", "EthN", poisson(), TRUE),
  quine_Lrn_negbin = case(Days ~ Eth + Sex + Age + Lrn, quine, "(none)", "LrnSL", negative.binomial(nb$theta)))
writeLines(toJSON(out, auto_unbox = TRUE, digits = I(16), pretty = TRUE), "expected/25-profile-counts.json")
