# Makes expected/20-smooth.json: smooth surfaces over the positions of a trial, by REML.
# Run in tests/reference:  Rscript make/20-smooth.R
# Two routes that share the model's columns and nothing else: dense REML with V written out and
# the optimum polished by Newton steps from high-accuracy derivatives (`dense`), and mgcv::gam
# with the same columns as penalised parametric terms at the same variances, method = "REML"
# (`gam`; left to itself it may stop in a lower valley of the criterion, on wheat2 at log-likelihood
# -530.356; it takes no more columns than rows, so there is none for rack_a).
suppressMessages({ library(splines); library(numDeriv); library(mgcv) })
options(contrasts = c("contr.treatment", "contr.poly"), digits = 15)

# Curvature part of a P-spline: cubic B-splines on equal segments, second differences, by the
# eigenvectors of the penalty that have positive eigenvalues.
curves <- function(place, segments) {
  B <- splineDesign((-3):(segments + 3), place, ord = 4, outer.ok = TRUE)
  D <- diff(diag(segments + 3), differences = 2)
  e <- eigen(crossprod(D), symmetric = TRUE); k <- seq_len(segments + 1)
  B %*% e$vectors[, k] %*% diag(1 / sqrt(e$values[k]))
}
rowprod <- function(A, B) { out <- NULL; for (i in seq_len(ncol(A))) out <- cbind(out, A[, i] * B); out }
std <- function(v) { v <- v - mean(v); v / sqrt(mean(v^2)) }
# Surface of every group: fixed trends (mean 0 in the group) and three sets of random columns with
# the plane taken out; mean square sum over a set is 1 per pot.
surface <- function(row, col, group, row_segments, col_segments) {
  n <- length(row); trends <- NULL; Z <- list(NULL, NULL, NULL)
  for (g in unique(group)) {
    i <- which(group == g); r <- std(row[i]); c <- std(col[i])
    Zr <- curves((row[i] - min(row[i])) / diff(range(row[i])) * row_segments, row_segments)
    Zc <- curves((col[i] - min(col[i])) / diff(range(col[i])) * col_segments, col_segments)
    plane <- cbind(1, r, c, r * c)
    parts <- list(cbind(Zr, Zr * c), cbind(Zc, Zc * r), rowprod(Zr, Zc))
    full <- function(M) { out <- matrix(0, n, ncol(M)); out[i, ] <- M; out }
    trends <- cbind(trends, full(cbind(r, c, r * c - mean(r * c))))
    for (k in 1:3) Z[[k]] <- cbind(Z[[k]], full(qr.resid(qr(plane), parts[[k]])))
  }
  list(trends = trends, Z = lapply(Z, function(M) M * sqrt(n / sum(M^2))))
}
# REML by V written out: -2 log L as (n-p) log 2 pi + log|V| + log|X'V^-1 X| + r'V^-1 r, profiled.
dense <- function(y, X, Z) {
  n <- length(y); p <- ncol(X); K <- lapply(Z, tcrossprod)
  f <- function(ratio, full = FALSE) {
    H <- diag(n); for (k in seq_along(K)) H <- H + ratio[k] * K[[k]]
    U <- chol(H); Xs <- backsolve(U, X, transpose = TRUE); ys <- backsolve(U, y, transpose = TRUE)
    q <- qr(Xs); s2 <- sum(qr.resid(q, ys)^2) / (n - p)
    d <- (n - p) * (log(2 * pi * s2) + 1) + 2 * sum(log(diag(U))) + 2 * sum(log(abs(diag(qr.R(q)))))
    if (!full) return(d)
    b <- qr.coef(q, ys); r <- y - X %*% b; w <- backsolve(U, backsolve(U, r, transpose = TRUE))
    list(variances = c(ratio, 1) * s2, loglik = -d / 2, coefficients = unname(b),
      se = unname(sqrt(diag(chol2inv(qr.R(q))) * s2)), fitted = as.vector(y - w))
  }
  best <- NULL
  for (a in c(0.01, 0.3, 3)) {
    o <- nlminb(rep(a, length(K)), f, lower = 0, control = list(rel.tol = 1e-15, x.tol = 1e-13, eval.max = 4000, iter.max = 2000))
    if (is.null(best) || o$objective < best$objective) best <- o
  }
  ratio <- best$par; free <- ratio > 1e-6; ratio[!free] <- 0
  h <- function(l) { r <- ratio; r[free] <- exp(l); f(r) }
  if (any(free)) { l <- log(ratio[free]); for (k in 1:5) l <- l - solve(hessian(h, l), grad(h, l)); ratio[free] <- exp(l) }
  if (any(!free)) { up <- sapply(which(!free), function(k) { r <- ratio; r[k] <- 1e-5; f(r) - f(ratio) }); stopifnot(all(up > 0)) }
  f(ratio, TRUE)
}
bygam <- function(y, X, Z, v) {
  s2 <- v[length(v)]; v <- pmax(v, 1e-9 * s2)
  pen <- setNames(lapply(seq_along(Z), function(k) list(diag(ncol(Z[[k]])), sp = s2 / v[k])), names(Z))
  m <- gam(as.formula(paste("y ~ X - 1 +", paste(names(Z), collapse = " + "))), data = c(list(y = y, X = X), Z), paraPen = pen, method = "REML", scale = s2)
  list(loglik = -as.numeric(m$gcv.ubre), fitted = as.vector(fitted(m)))
}
num <- function(x) { s <- sprintf("%.15g", x); ifelse(as.numeric(s) == x, s, sprintf("%.17g", x)) }
arr <- function(x) paste0("[", paste(num(x), collapse = ", "), "]")
str <- function(s) paste0('"', gsub('"', '\\"', s, fixed = TRUE), '"')
one <- function(id, file, setup, y, X, Z, shown) {
  d <- dense(y, X, Z); g <- if (sum(sapply(Z, ncol)) + ncol(X) <= length(y)) bygam(y, X, Z, d$variances)
  cat(id, "\n", d$variances, "\n", d$loglik, g$loglik, if (!is.null(g)) max(abs(d$fitted - g$fitted)), "\n")
  paste0("  ", str(id), ": {\n   \"file\": ", str(file), ",\n   \"setup\": ", str(setup),
    ",\n   \"dense\": {\"variances\": ", arr(d$variances), ", \"loglik\": ", num(d$loglik),
    ",\n    \"coefficients\": ", arr(d$coefficients[shown]), ",\n    \"se\": ", arr(d$se[shown]), ",\n    \"fitted\": ", arr(d$fitted),
    "},\n   \"gam\": ", if (is.null(g)) "null" else paste0("{\"loglik\": ", num(g$loglik), ",\n    \"fitted\": ", arr(g$fitted), "}"), "\n  }")
}
w <- read.csv("data/wheat2.csv"); sw <- surface(w$row, w$col, rep(1, nrow(w)), 10, 10)
names(sw$Z) <- c("Zr", "Zc", "Zj"); Xw <- model.matrix(~ factor(variety), w)
a <- read.csv("data/rack_a.csv"); a <- a[a$status == "alive", ]; a$pos <- a$col + 4 * (as.integer(factor(substr(a$tray_id, 2, 2))) - 1)
sa <- surface(a$row, a$pos, a$shelf, 2, 10)
names(sa$Z) <- c("Zr", "Zc", "Zj"); Xa <- model.matrix(~ factor(shelf) + feed * variety, a)
Zt <- list(Zt = model.matrix(~ factor(tray_id) - 1, a))
parts <- c(
  one("wheat2", "data/wheat2.csv", "yield; variety; one surface over row and col, 10 and 10 segments; variances: row, column, joint curvature, residual", w$yield, cbind(Xw, sw$trends), sw$Z, seq_len(ncol(Xw))),
  one("rack_a", "data/rack_a.csv", "final_g of living plants; shelf, feed, variety, feed x variety; a surface per shelf over row and col + 4 x (tray of the shelf - 1), 2 and 10 segments; tray_id random; variances: tray, row, column, joint curvature, residual", a$final_g, cbind(Xa, sa$trends), c(Zt, sa$Z), seq_len(ncol(Xa))))
writeLines(c("{",
  ' "about": "Smooth surfaces over position as mixed models, by REML; made by make/20-smooth.R.",',
  ' "tolerance": "dense: variances and standard errors 1e-6 relative (a component at zero is 0), log-likelihood 1e-9 relative, fitted values 1e-6 of the residual standard deviation. gam, at the variances of dense: log-likelihood 1e-9 relative, fitted values 1e-6 of the residual standard deviation.",',
  paste0(' "r_version": ', str(R.version.string), ","),
  paste0(' "packages": {"mgcv": ', str(as.character(packageVersion("mgcv"))), ', "numDeriv": ', str(as.character(packageVersion("numDeriv"))), "},"),
  ' "sets": {', paste(parts, collapse = ",\n"), " }", "}"), "expected/20-smooth.json")
