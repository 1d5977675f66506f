# Makes the cases fit/made-units-*: the unit rule of the contract by plain least squares in base R.
# Run in tests/reference:  Rscript make/24-units-cases.R
# A term's sum of squares: lm.fit with all other fixed terms (sum-to-zero coding) and the indicators
# of each listed unit within which the term varies. Its error: what the coarsest unit within which
# it is constant takes away from that fit with all fixed terms, on its own df; the residual of the fit
# with all units where it varies within all. Differences and means: weights of the fixed columns,
# variance wᵀ(XᵀMX)⁻w times the mean square. A coarse factor at one of b levels of a finer one:
# [MS_unit + (b - 1) MS_residual]/b, df after Satterthwaite.
suppressMessages(library(jsonlite))
cross <- function(d, cols) do.call(paste, c(d[cols], sep = "\r"))
indicators <- function(z) { f <- factor(z); model.matrix(~ f - 1) }
rss <- function(X, y) { q <- qr(X, tol = 1e-9); c(sum(qr.resid(q, y)^2), length(y) - q$rank) }

analyse <- function(req, d) {
  keep <- !is.na(d$y); all <- d; d <- d[keep, ]; y <- d$y
  fac <- c(req$fixedBlocks, req$treatments); cov <- req$covariates
  L <- d; for (f in fac) { L[[f]] <- factor(L[[f]], levels = sort(unique(L[[f]]), method = "radix")); contrasts(L[[f]]) <- "contr.sum" }
  for (v in cov) L[[v]] <- L[[v]] - mean(L[[v]])
  tr <- req$treatments
  inter <- unlist(lapply(seq_along(tr)[-1], function(k) combn(tr, k, paste, collapse = ":")))
  labels <- c(req$fixedBlocks, cov, tr, inter)
  tm <- terms(as.formula(paste("~", paste(labels, collapse = " + "))), keep.order = TRUE)
  X <- model.matrix(tm, L); asg <- attr(X, "assign")
  units <- lapply(req$randomUnits, function(u) list(name = paste(u, collapse = " × "), code = cross(d, u)))
  Z <- lapply(units, function(u) indicators(u$code)); levels <- vapply(Z, ncol, 1L)
  constant <- function(parts, u) all(tapply(cross(d, parts), u$code, function(v) length(unique(v))) == 1)
  info <- lapply(labels, function(l) {
    parts <- strsplit(l, ":")[[1]]
    cst <- vapply(units, function(u) constant(parts, u), TRUE)
    list(varies = which(!cst), unit = if (any(cst)) which(cst)[which.min(levels[cst])] else NA)
  })
  names(info) <- labels
  zz <- function(s) do.call(cbind, c(list(matrix(1, length(y), 1)), Z[s]))
  ms <- function(e) {
    a <- rss(cbind(zz(e$varies), X), y)
    if (is.na(e$unit)) return(c(a[1] / a[2], a[2]))
    b <- rss(cbind(zz(c(e$varies, e$unit)), X), y); df <- a[2] - b[2]; c((a[1] - b[1]) / df, df)
  }
  rows <- lapply(seq_along(labels), function(i) {
    e <- info[[i]]; a <- rss(cbind(zz(e$varies), X[, asg != i]), y); b <- rss(cbind(zz(e$varies), X), y); m <- ms(e)
    df <- a[2] - b[2]; ss <- a[1] - b[1]; F <- ss / df / m[1]
    list(term = labels[i], df = df, ss = ss, ms = ss / df, dfError = m[2], statistic = F, kind = "F", p = pf(F, df, m[2], lower.tail = FALSE), stratum = if (is.na(e$unit)) "residual" else units[[e$unit]]$name)
  })
  # Weights of the fixed columns for the mean at some levels, all else equally weighted.
  wmean <- function(at) {
    g <- expand.grid(lapply(fac, function(f) levels(L[[f]])), stringsAsFactors = FALSE); names(g) <- fac
    for (f in names(at)) g <- g[g[[f]] == at[[f]], , drop = FALSE]
    for (f in fac) { g[[f]] <- factor(g[[f]], levels = levels(L[[f]])); contrasts(g[[f]]) <- "contr.sum" }
    for (v in cov) g[[v]] <- 0
    colMeans(model.matrix(tm, g))
  }
  solved <- function(varies, w) {
    zq <- qr(zz(varies), tol = 1e-9); if (!length(varies)) { R <- X; r <- y } else { R <- qr.resid(zq, X); r <- qr.resid(zq, y) }
    R[, colSums(R^2) < 1e-18 * colSums(X^2)] <- 0; use <- colSums(R^2) > 0
    stopifnot(all(abs(w[!use]) < 1e-12)); R <- R[, use]; w <- w[use]; V <- solve(crossprod(R))
    c(sum(w * (V %*% crossprod(R, r))), as.numeric(t(w) %*% V %*% w))
  }
  row <- function(s, m) { t <- s[1] / sqrt(s[2] * m[1]); h <- qt(.975, m[2]) * sqrt(s[2] * m[1]); list(est = s[1], se = sqrt(s[2] * m[1]), df = m[2], t = t, p = 2 * pt(-abs(t), m[2]), lower = s[1] - h, upper = s[1] + h) }
  cmp <- lapply(req$compare, function(c1) {
    lv <- levels(L[[c1$means]]); by <- if (length(c1$by)) levels(L[[c1$by]]) else ""
    e <- info[[c1$means]]; m <- ms(e); out <- list()
    if (length(c1$by)) { e2 <- info[[paste(intersect(tr, c(c1$means, c1$by)), collapse = ":")]]; m2 <- ms(e2); b <- length(by)
      v <- (m[1] + (b - 1) * m2[1]) / b; m <- c(v, v^2 / ((m[1] / b)^2 / m[2] + ((b - 1) * m2[1] / b)^2 / m2[2]))
      if (identical(e, e2)) m <- ms(e) }
    for (k in by) for (i in seq_along(lv)) for (j in seq_along(lv)) if (i < j) {
      at <- function(l) { a <- setNames(list(l), c1$means); if (k != "") a[[c1$by]] <- k; a }
      r <- row(solved(e$varies, wmean(at(lv[i])) - wmean(at(lv[j]))), m)
      o <- list(a = lv[i], b = lv[j], difference = r$est, se = r$se, df = r$df, statistic = r$t, p = r$p, lower = r$lower, upper = r$upper)
      if (k != "") o$within <- setNames(list(k), c1$by); out <- c(out, list(o))
    }
    list(of = list(c1$means), by = as.list(c1$by), method = "none", rows = out)
  })
  # Means rest on the outermost unit and, by (levels - 1)/levels, on that of their own factor.
  out <- list(n = length(y), dropped = sum(!keep), terms = rows, residual = { m <- ms(list(varies = seq_along(units), unit = NA)); list(df = m[2], ms = m[1]) }, comparisons = cmp)
  if (length(units) == 1) out$means <- lapply(req$means, function(f) {
    e <- info[[f]]; m0 <- ms(list(varies = integer(), unit = 1L)); m1 <- ms(e); k <- nlevels(L[[f]])
    m <- if (is.na(e$unit)) { v <- (m0[1] + (k - 1) * m1[1]) / k; c(v, v^2 / ((m0[1] / k)^2 / m0[2] + ((k - 1) * m1[1] / k)^2 / m1[2])) } else m0
    list(of = list(f), rows = lapply(levels(L[[f]]), function(l) {
      w <- wmean(setNames(list(l), f)); g <- w; g[-1] <- 0; dv <- w; dv[1] <- 0
      s <- c(solved(integer(), g)[1] + solved(e$varies, dv)[1], solved(integer(), w)[2]); r <- row(s, m)
      o <- setNames(list(l), f); o$mean <- r$est; o$se <- r$se; o$df <- r$df; o$lower <- r$lower; o$upper <- r$upper; o
    }))
  })
  out
}

made <- function(id, req, d) {
  dir <- file.path("fit", paste0("made-units-", id)); dir.create(dir, FALSE, TRUE)
  d$y <- round(d$y, 5); names <- c("tests", "denominator")
  full <- list(response = "y", treatments = as.list(req$treatments), covariates = as.list(req$covariates), fixedBlocks = as.list(req$fixedBlocks), randomUnits = lapply(req$randomUnits, as.list), tests = "marginal", denominator = "units", means = lapply(req$means, list), compare = lapply(req$compare, function(c1) list(means = list(c1$means), by = as.list(c1$by), method = "none", against = NULL)))
  write.csv(d, file.path(dir, "table.csv"), row.names = FALSE, na = "", quote = FALSE, eol = "\n")
  e <- analyse(req, read.csv(file.path(dir, "table.csv"), stringsAsFactors = FALSE))
  writeLines(toJSON(full, auto_unbox = TRUE, null = "null", pretty = TRUE), file.path(dir, "request.json"))
  writeLines(toJSON(list(source = "Made up with a fixed seed by make/24-units-cases.R; not real plants", computed_by = "plain least squares (lm.fit, qr) by the rule at the head of that file", versions = list(R = R.version.string, jsonlite = as.character(packageVersion("jsonlite"))), tolerances = list(default = 1e-8, p = 1e-6), expected = e), auto_unbox = TRUE, null = "null", digits = I(15), pretty = TRUE), file.path(dir, "expected.json"))
  cat("wrote", dir, "\n")
}
pair <- function(means, by = character()) list(means = means, by = by)
lose <- function(d, k) { d$y[sample(nrow(d), k)] <- NA; d }
# Trays of 8 pots on shelves; feed by tray, cultivar by pot.
trays <- function(shelves, per, pots = 8) {
  d <- expand.grid(pot = seq_len(pots), t = seq_len(per), s = seq_len(shelves))
  d$shelf <- paste0("s", d$s); d$tray <- paste0(d$shelf, "t", d$t); d$cultivar <- c("k", "l")[d$pot %% 2 + 1]; d
}
RNGversion("4.2.0"); set.seed(20260301)

d <- trays(3, 4); d$feed <- c("mid", "strong", "weak", "weak")[(d$t + d$s) %% 4 + 1]
d$y <- 10 + rnorm(12)[as.integer(factor(d$tray))] + rnorm(nrow(d)) + (d$feed == "strong") * .5
made("one-missing", list(treatments = c("feed", "cultivar"), fixedBlocks = "shelf", randomUnits = list("tray"), means = c("feed", "cultivar"), compare = list(pair("feed"), pair("cultivar"), pair("feed", "cultivar"), pair("cultivar", "feed"))), lose(d[c("shelf", "tray", "feed", "cultivar", "y")], 17))

d <- trays(4, 3); d$feed <- c("p", "q")[(d$t + d$s) %% 2 + 1]; d$light <- c("bright", "dim")[d$s %% 2 + 1]
d$y <- 20 + rnorm(4)[d$s] + rnorm(12, 0, .6)[as.integer(factor(d$tray))] + rnorm(nrow(d), 0, .7)
made("nested-missing", list(treatments = c("light", "feed", "cultivar"), randomUnits = list("shelf", c("shelf", "tray")), compare = list(pair("light"), pair("feed"), pair("cultivar"))), lose(d[c("shelf", "tray", "light", "feed", "cultivar", "y")], 20))
d <- trays(6, 4); d$feed <- c("p", "q")[d$t %% 2 + 1]; d$light <- c("bright", "dim")[d$s %% 2 + 1]
d$y <- 20 + rnorm(6)[d$s] + rnorm(24, 0, .6)[as.integer(factor(d$tray))] + rnorm(nrow(d), 0, .7)
made("nested-complete", list(treatments = c("light", "feed", "cultivar"), randomUnits = list("shelf", c("shelf", "tray")), compare = list(pair("light"), pair("light", "feed"), pair("feed", "light"), pair("cultivar", "feed"))), d[c("shelf", "tray", "light", "feed", "cultivar", "y")])

d <- trays(3, 4); d$feed <- c("p", "q")[(d$t + d$s) %% 2 + 1]; d$high <- round(rnorm(12, 50, 8), 1)[as.integer(factor(d$tray))]; d$start <- round(rnorm(nrow(d), 4 + d$high / 40, .8), 2)
d$y <- 8 + .9 * d$start + .05 * d$high + rnorm(12, 0, .5)[as.integer(factor(d$tray))] + rnorm(nrow(d), 0, .6)
made("covariates", list(treatments = c("feed", "cultivar"), covariates = c("high", "start"), fixedBlocks = "shelf", randomUnits = list("tray"), means = c("feed", "cultivar"), compare = list(pair("feed"), pair("cultivar"))), lose(d[c("shelf", "tray", "feed", "cultivar", "high", "start", "y")], 9))

d <- expand.grid(pot = 1:3, c = 1:6, r = 1:4, b = 1:2); d$block <- paste0("b", d$b); d$row <- paste0(d$block, "r", d$r); d$col <- paste0(d$block, "c", d$c)
d$water <- c("dry", "wet")[d$r %% 2 + 1]; d$medium <- c("bark", "clay", "coir")[(d$c + d$b) %% 3 + 1]
d$y <- 12 + rnorm(8)[as.integer(factor(d$row))] + rnorm(12)[as.integer(factor(d$col))] + rnorm(48, 0, .4)[as.integer(factor(paste(d$row, d$col)))] + rnorm(nrow(d), 0, .5)
crossed <- list(treatments = c("water", "medium"), fixedBlocks = "block", randomUnits = list("row", "col", c("row", "col")), compare = list(pair("water"), pair("medium")))
d <- d[c("block", "row", "col", "water", "medium", "y")]
made("crossed-complete", crossed, d)
made("crossed-missing", crossed, lose(d, 25))

# Trays that differ less than their pots: a variance below zero.
d <- trays(2, 6, 6); d$feed <- c("p", "q", "r")[d$t %% 3 + 1]
d$y <- 5 + rnorm(nrow(d)); d$y <- d$y - .9 * ave(d$y, d$tray)
made("below-zero", list(treatments = c("feed", "cultivar"), fixedBlocks = "shelf", randomUnits = list("tray"), means = "feed", compare = list(pair("feed"))), lose(d[c("shelf", "tray", "feed", "cultivar", "y")], 5))
