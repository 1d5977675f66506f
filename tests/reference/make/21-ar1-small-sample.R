# Makes expected/21-ar1-small-sample.json: small-sample degrees of freedom of autoregressive fits.
# Run in tests/reference:  Rscript make/21-ar1-small-sample.R
# V = s * rho_row^|row difference| * rho_col^|col difference| + g * I, parameters (s, rho_row,
# rho_col, g), REML by V written out and polished. Satterthwaite: all derivatives numerical
# (numDeriv). Kenward-Roger (1997, Biometrics 53, 983-997, with their R_ij): V and its first and
# second derivatives written out, expected information.
suppressMessages(library(numDeriv))
options(contrasts = c("contr.treatment", "contr.poly"), digits = 15)
num <- function(x) { s <- sprintf("%.15g", x); ifelse(as.numeric(s) == x, s, sprintf("%.17g", x)) }
arr <- function(x) paste0("[", paste(num(x), collapse = ", "), "]")
pw <- function(r, d, k) if (k == 0) r^d else if (k == 1) ifelse(d == 0, 0, d * r^(d - 1)) else ifelse(d < 2, 0, d * (d - 1) * r^(d - 2))
one <- function(id, y, X, row, col) {
  n <- length(y); p <- ncol(X); dr <- abs(outer(row, row, "-")); dc <- abs(outer(col, col, "-"))
  V <- function(t) t[1] * t[2]^dr * t[3]^dc + t[4] * diag(n)
  dev <- function(t) { U <- chol(V(t)); Xs <- backsolve(U, X, transpose = TRUE); ys <- backsolve(U, y, transpose = TRUE); q <- qr(Xs)
    (n - p) * log(2 * pi) + 2 * sum(log(diag(U))) + 2 * sum(log(abs(diag(qr.R(q))))) + sum(qr.resid(q, ys)^2) }
  tr <- function(u) c(exp(u[1]), tanh(u[2]), tanh(u[3]), exp(u[4]))
  best <- NULL
  for (a in c(0.3, 0.85)) for (b in c(0.3, 0.85)) for (h in c(0.1, 0.5)) {
    o <- try(nlminb(c(log(var(y) * (1 - h)), atanh(a), atanh(b), log(var(y) * h)), function(u) tryCatch(dev(tr(u)), error = function(e) 1e10), control = list(rel.tol = 1e-14, eval.max = 2000, iter.max = 1000)), TRUE)
    if (!inherits(o, "try-error") && (is.null(best) || o$objective < best$objective)) best <- o
  }
  t <- tr(best$par); for (k in 1:4) t <- t - solve(hessian(dev, t, method.args = list(d = 0.01)), grad(dev, t))
  phi <- function(t) solve(crossprod(X, solve(V(t), X)))
  P0 <- phi(t); b <- P0 %*% crossprod(X, solve(V(t), y)); W <- 2 * solve(hessian(dev, t, method.args = list(d = 0.01))); J <- jacobian(function(t) as.vector(phi(t)), t)
  sat <- function(l) { g <- apply(J, 2, function(d) sum(l * (matrix(d, p, p) %*% l))); v <- sum(l * (P0 %*% l)); 2 * v^2 / sum(g * (W %*% g)) }
  V1 <- list(t[2]^dr * t[3]^dc, t[1] * pw(t[2], dr, 1) * t[3]^dc, t[1] * t[2]^dr * pw(t[3], dc, 1), diag(n))
  V2 <- matrix(list(0), 4, 4); set <- function(i, j, M) { V2[[i, j]] <<- M; V2[[j, i]] <<- M }
  set(1, 2, pw(t[2], dr, 1) * t[3]^dc); set(1, 3, t[2]^dr * pw(t[3], dc, 1)); set(2, 2, t[1] * pw(t[2], dr, 2) * t[3]^dc)
  set(2, 3, t[1] * pw(t[2], dr, 1) * pw(t[3], dc, 1)); set(3, 3, t[1] * t[2]^dr * pw(t[3], dc, 2))
  Vi <- solve(V(t)); VX <- Vi %*% X; PP <- Vi - VX %*% P0 %*% t(VX)
  E <- matrix(0, 4, 4); for (i in 1:4) for (j in 1:4) E[i, j] <- sum(diag(PP %*% V1[[i]] %*% PP %*% V1[[j]]))
  WK <- 2 * solve(E); Pm <- lapply(V1, function(M) -t(VX) %*% M %*% VX); L <- matrix(0, p, p)
  for (i in 1:4) for (j in 1:4) { R <- if (is.matrix(V2[[i, j]])) t(VX) %*% V2[[i, j]] %*% VX else 0
    L <- L + WK[i, j] * (t(VX) %*% V1[[i]] %*% Vi %*% V1[[j]] %*% VX - Pm[[i]] %*% P0 %*% Pm[[j]] - R / 4) }
  PA <- P0 + 2 * P0 %*% L %*% P0
  krf <- function(C) { q <- nrow(C); Th <- t(C) %*% solve(C %*% P0 %*% t(C)) %*% C; A1 <- 0; A2 <- 0
    for (i in 1:4) for (j in 1:4) { a <- Th %*% P0 %*% Pm[[i]] %*% P0; c <- Th %*% P0 %*% Pm[[j]] %*% P0; A1 <- A1 + WK[i, j] * sum(diag(a)) * sum(diag(c)); A2 <- A2 + WK[i, j] * sum(diag(a %*% c)) }
    B <- (A1 + 6 * A2) / (2 * q); g <- ((q + 1) * A1 - (q + 4) * A2) / ((q + 2) * A2); d <- 3 * q + 2 * (1 - g)
    c1 <- g / d; c2 <- (q - g) / d; c3 <- (q + 2 - g) / d; Es <- 1 / (1 - A2 / q); Vs <- (2 / q) * (1 + c1 * B) / ((1 - c2 * B)^2 * (1 - c3 * B))
    rho <- Vs / (2 * Es^2); m <- 4 + (q + 2) / (q * rho - 1); lam <- m / (Es * (m - 2)); e <- C %*% b
    c(df2 = m, F = lam * sum(e * solve(C %*% PA %*% t(C), e)) / q) }
  satf <- function(C) { s <- eigen(C %*% P0 %*% t(C), symmetric = TRUE); U <- t(s$vectors) %*% C; nu <- apply(U, 1, sat); q <- nrow(C); E <- sum(nu / (nu - 2)); c(df2 = 2 * E / (E - q), F = sum((U %*% b)^2 / s$values) / q) }
  A <- diag(p)[-1, , drop = FALSE]; kr <- krf(A); sf <- satf(A); krdf <- sapply(1:p, function(i) unname(krf(diag(p)[i, , drop = FALSE])["df2"]))
  cat(id, t, -dev(t) / 2, kr, sf, "\n")
  paste0('  "', id, '": {"parameters": ', arr(t), ', "loglik": ', num(-dev(t) / 2), ',\n   "satterthwaite": {"se": ', arr(sqrt(diag(P0))), ',\n    "df": ', arr(sapply(1:p, function(i) sat(diag(p)[, i]))), ',\n    "test": {"df2": ', num(sf["df2"]), ', "F": ', num(sf["F"]), '}},\n   "kenward_roger": {"se": ', arr(sqrt(diag(PA))), ',\n    "df": ', arr(krdf), ',\n    "test": {"df2": ', num(kr["df2"]), ', "F": ', num(kr["F"]), "}}}")
}
b <- read.csv("fit/beans-ar1/table.csv")
w <- read.csv("data/wheat2.csv")
parts <- c(one("beans", b$yield, model.matrix(~ factor(gen), b), b$row, b$col),
  one("wheat2", w$yield, model.matrix(~ factor(variety), w), w$row, w$col))
writeLines(c("{",
  ' "about": "Autoregressive fits with a nugget: parameters (spatial variance, row and column correlation, nugget), standard errors, df and the joint test of all but the intercept; made by make/21-ar1-small-sample.R from fit/beans-ar1/table.csv (yield by gen) and data/wheat2.csv (yield by variety).",',
  ' "tolerance": "parameters, standard errors and F 1e-6 relative, log-likelihood 1e-9 relative, Kenward-Roger df 1e-5, Satterthwaite df 1e-4 (numerical derivatives).",',
  paste0(' "r_version": "', R.version.string, '",'),
  paste0(' "packages": {"numDeriv": "', packageVersion("numDeriv"), '"},'),
  ' "sets": {', paste(parts, collapse = ",\n"), " }", "}"), "expected/21-ar1-small-sample.json")
