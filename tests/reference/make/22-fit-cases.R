# Makes the cases fit/made-*: whole analyses by R of small made-up trials with a fixed seed.
# Run in tests/reference:  Rscript make/22-fit-cases.R [names of cases]
# `rfit` takes a request of the contract and a table of text and gives the figures by lm, glm,
# MASS::glm.nb, aov, nlme::lme, lme4/lmerTest (polished by lmerx of lib.R), pbkrtest, emmeans, car,
# spdep, mvtnorm; `ar1` by a dense likelihood. multcompView, which lib.R loads, is not needed here.
suppressMessages(library(jsonlite))
source(textConnection(sub("library(multcompView);", "", readLines("make/lib.R"), fixed = TRUE)))
invisible(Sys.setlocale("LC_ALL", "C.UTF-8"))
emm_options(cov.keep = character(0))
lev <- function(x) { u <- unique(x); nu <- suppressWarnings(as.numeric(u)); if (all(!is.na(nu))) u[order(nu)] else sort(u, method = "radix") }
`%||%` <- function(a, b) if (is.null(a)) b else a
subsets <- function(v) { out <- list(); for (k in seq_along(v)) if (k > 1) out <- c(out, combn(v, k, simplify = FALSE)); out }
normreq <- function(r) { d <- list(scale = "identity", counts = NULL, treatments = character(), interactions = "all", covariates = character(), covariateInteractions = list(), fixedBlocks = character(), randomUnits = list(), exactStrata = FALSE, position = NULL, tests = "adjusted", denominator = "satterthwaite", means = list(), compare = list(), confidence = 0.95, checks = character(), moran = NULL, redraw = NULL)
  for (n in names(r)) if (!is.null(r[[n]])) d[[n]] <- r[[n]]; d }
rfit <- function(req, d) {
  req <- normreq(req); out <- list(); tol <- list()
  y0 <- suppressWarnings(as.numeric(d[[req$response]])); all <- d; keep <- !is.na(y0); d <- d[keep, , drop = FALSE]; y <- y0[keep]
  out$n <- length(y); out$dropped <- sum(!keep)
  undo <- NULL
  if (req$scale == "log") { y <- log(y); undo <- exp } else if (req$scale == "log1p") { y <- log1p(y); undo <- expm1 } else if (req$scale == "sqrt") { y <- sqrt(y); undo <- function(v) pmax(v, 0)^2 }
  L <- data.frame(y = y); map <- list(); back <- list()
  addf <- function(nm, v = d[[nm]]) { if (!is.null(map[[nm]])) return(); s <- paste0("f", length(map) + 1); L[[s]] <<- factor(v, levels = lev(v)); map[[nm]] <<- s; back[[s]] <<- nm }
  addc <- function(nm, v = as.numeric(d[[nm]])) { s <- paste0("c", length(map) + 1); L[[s]] <<- v; map[[nm]] <<- s; back[[s]] <<- nm }
  for (b in req$fixedBlocks) addf(b); for (b in req$covariates) addc(b)
  pos <- req$position; ts <- as.list(c(req$fixedBlocks, req$covariates))
  if (!is.null(pos) && pos$model == "linear") { addc("row", as.numeric(d[[pos$row]])); addc("column", as.numeric(d[[pos$column]])); ts <- c(ts, "row", "column") }
  if (!is.null(pos) && pos$model == "edge") { g <- if (length(pos$within)) do.call(paste, c(all[pos$within], sep = "\r")) else rep("1", nrow(all)); rr <- as.numeric(all[[pos$row]]); cc <- as.numeric(all[[pos$column]]); e <- rep(FALSE, nrow(all)); for (k in unique(g)) { i <- which(g == k); e[i] <- rr[i] %in% range(rr[i]) | cc[i] %in% range(cc[i]) }; addf("edge", ifelse(e, "edge", "inner")[keep]); ts <- c(ts, "edge") }
  for (b in req$treatments) addf(b); ts <- c(ts, as.list(req$treatments))
  it <- if (identical(req$interactions, "all")) subsets(req$treatments) else if (identical(req$interactions, "none")) list() else req$interactions
  ts <- c(ts, it, req$covariateInteractions)
  sym <- function(t) paste(vapply(t, function(n) map[[n]], ""), collapse = ":")
  ftxt <- vapply(ts, sym, ""); tname <- vapply(ts, paste, "", collapse = ":")
  fx <- if (length(ftxt)) paste(ftxt, collapse = " + ") else "1"
  fo <- eval(parse(text = paste("y ~", fx)))
  fo <- terms(fo, keep.order = TRUE); lab <- attr(fo, "term.labels"); attributes(fo) <- NULL
  fo <- eval(parse(text = paste("y ~", fx)))
  tl <- function(l) { k <- vapply(strsplit(ftxt, ":"), function(v) paste(sort(v), collapse = ":"), ""); tname[match(paste(sort(strsplit(l, ":")[[1]]), collapse = ":"), k)] }
  facs <- grep("^f", names(L), value = TRUE); sumc <- setNames(rep(list("contr.sum"), length(facs)), facs)
  Fin <- function(x) if (is.finite(x)) unname(x) else NULL
  row_terms <- function(a, dfe, ss = TRUE) { r <- list(); for (l in rownames(a)) { if (l %in% c("Residuals", "(Intercept)", "NULL")) next; l2 <- trimws(l); if (is.na(tl(l2))) next; s <- a[l, "Sum Sq"]; df <- a[l, "Df"]; if (is.na(df) || df == 0) next; r <- c(r, list(list(term = tl(l2), df = df, ss = s, ms = s / df, dfError = dfe, statistic = a[l, "F value"], kind = "F", p = a[l, "Pr(>F)"]))) }; r }
  doemm <- function(rg, counts = FALSE, df = NULL) {
    ci <- function(e) as.data.frame(summary(e, infer = c(TRUE, TRUE), level = req$confidence))
    ren1 <- function(s) { names(s)[names(s) %in% c("emmean", "prediction", "rate", "response")] <- "mean"; names(s)[names(s) == "SE"] <- "se"; names(s)[names(s) %in% c("lower.CL", "asymp.LCL")] <- "lower"; names(s)[names(s) %in% c("upper.CL", "asymp.UCL")] <- "upper"; names(s)[names(s) %in% c("t.ratio", "z.ratio")] <- "statistic"; names(s)[names(s) == "p.value"] <- "p"; names(s)[names(s) == "estimate"] <- "difference"; s }
    out$means <<- lapply(req$means, function(of) { e <- emmeans(rg, unname(vapply(of, function(n) map[[n]], ""))); s <- ren1(ci(e)); s <- s[!is.na(s$mean), , drop = FALSE]
      rows <- lapply(seq_len(nrow(s)), function(i) { r <- list(); for (n in of) r[[n]] <- as.character(s[[map[[n]]]][i]); r$mean <- s$mean[i]; r$se <- s$se[i]; r$df <- Fin(s$df[i]); r$lower <- s$lower[i]; r$upper <- s$upper[i]; u <- if (counts) exp else undo; if (!is.null(u)) r$backTransformed <- u(s$mean[i]); r })
      list(of = as.list(of), rows = rows) })
    out$comparisons <<- lapply(req$compare, function(c1) { of <- c1$means; by <- c1$by; byn <- if (length(by)) unname(vapply(by, function(n) map[[n]], "")); ofn <- unname(vapply(of, function(n) map[[n]], ""))
      e <- emmeans(rg, ofn, by = byn); grid <- as.data.frame(e@grid)
      lin <- e@linfct; key <- do.call(paste, c(lapply(ofn, function(n) as.character(grid[[n]])), sep = " · ")); bykey <- if (length(by)) do.call(paste, c(lapply(byn, function(n) as.character(grid[[n]])), sep = "\r")) else rep("", nrow(grid))
      est <- as.data.frame(summary(e)); ok <- !is.na(est[["emmean"]] %||% est[["rate"]] %||% est[["prediction"]])
      rows <- list()
      for (b in unique(bykey)) { ii <- which(bykey == b & ok); if (length(ii) < 2) next
        prs <- if (!is.null(c1$against)) lapply(setdiff(ii, ii[key[ii] == c1$against]), function(a) c(a, ii[key[ii] == c1$against])) else if (c1$method == "dunnett") lapply(ii[-1], function(a) c(a, ii[1])) else combn(ii, 2, simplify = FALSE)
        co <- lapply(prs, function(p) { v <- rep(0, nrow(grid)); v[p[1]] <- 1; v[p[2]] <- -1; v })
        e2 <- emmeans(rg, ofn, by = NULL); e2 <- emmeans(rg, c(ofn, byn)); g2 <- as.data.frame(e2@grid); # same order check
        cc <- contrast(update(e, by = NULL), setNames(co, seq_along(co)), adjust = "none"); s <- ren1(as.data.frame(summary(cc, infer = c(TRUE, TRUE), level = req$confidence, adjust = "none")))
        t <- s$statistic; df <- s$df; m <- length(prs); k <- length(ii); al <- 1 - req$confidence
        p0 <- 2 * pt(-abs(t), df); hw <- switch(c1$method, none = qt(1 - al / 2, df), holm = qt(1 - al / 2 / m, df), bonferroni = qt(1 - al / 2 / m, df), tukey = suppressWarnings(sapply(df, function(v) qtukey(1 - al, k, v))) / sqrt(2), dunnett = NA)
        p <- switch(c1$method, none = p0, holm = p.adjust(p0, "holm"), bonferroni = p.adjust(p0, "bonferroni"), tukey = ptukey(abs(t) * sqrt(2), k, df, lower.tail = FALSE), dunnett = NA)
        if (c1$method == "dunnett") { R <- cov2cor(vcov(cc)); if (m == 1) { p <- p0; hw <- qt(1 - al / 2, df) } else { dfr <- df[1]; if (!is.finite(dfr)) dfr <- 0; set.seed(1)
          if (length(unique(round(df, 9))) == 1 && (dfr == round(dfr))) { p <- sapply(abs(t), function(q) 1 - mvtnorm::pmvt(rep(-q, m), rep(q, m), df = dfr, corr = R, algorithm = GenzBretz(maxpts = 2e6, abseps = 1e-7))); hw <- rep(mvtnorm::qmvt(1 - al, tail = "both", df = dfr, corr = R, algorithm = GenzBretz(maxpts = 2e5, abseps = 1e-5))$quantile, m) } else { p <- NULL; hw <- NULL } } }
        for (j in seq_len(m)) { r <- list(a = key[prs[[j]][1]], b = key[prs[[j]][2]], difference = s$difference[j], se = s$se[j], df = Fin(s$df[j]), statistic = t[j]); if (!is.null(p)) r$p <- p[j]; if (!is.null(hw)) { r$lower <- s$difference[j] - hw[j] * s$se[j]; r$upper <- s$difference[j] + hw[j] * s$se[j] }
          if (length(by)) r$within <- setNames(as.list(strsplit(b, "\r", fixed = TRUE)[[1]]), by); rows <- c(rows, list(r)) } }
      list(of = as.list(of), by = as.list(by), method = c1$method, rows = rows) })
  }
  L <<- L  # emmeans looks for it
  ck <- function(r) { if (!length(req$checks)) return()
    cols <- if (length(req$treatments)) req$treatments else req$fixedBlocks; g <- factor(do.call(paste, c(d[cols], sep = "\r"))); ch <- list()
    for (k in req$checks) ch[[k]] <- switch(k, "levene" = { a <- leveneTest(r, g, center = mean); list(statistic = a[1, 2], df = a[1, 1], dfError = a[2, 1], p = a[1, 3]) }, "brown-forsythe" = { a <- leveneTest(r, g, center = median); list(statistic = a[1, 2], df = a[1, 1], dfError = a[2, 1], p = a[1, 3]) }, "bartlett" = { a <- tryCatch(bartlett.test(r, g), error = function(e) NULL); if (is.null(a)) NULL else list(statistic = a$statistic[[1]], df = a$parameter[[1]], p = a$p.value) }, "shapiro-wilk" = { a <- shapiro.test(r); list(w = a$statistic[[1]], p = a$p.value) },
      "moran" = { mo <- req$moran; gg <- if (length(mo$within)) as.integer(factor(do.call(paste, c(d[mo$within], sep = "\r")))) else rep(1, nrow(d)); lw <- grid_lw(as.numeric(d[[mo$row]]), as.numeric(d[[mo$column]]) + gg * 1000, identical(mo$neighbours, "queen")); a <- moran.test(r, lw, randomisation = TRUE, alternative = "two.sided", zero.policy = TRUE); list(i = a$estimate[[1]], expected = a$estimate[[2]], variance = a$estimate[[3]], p = a$p.value) })
    out$checks <<- ch }
  coefs <- function(est, se, df) Map(function(e, s, f) { r <- list(estimate = unname(e), se = unname(s)); if (is.finite(f)) r$df <- f; r }, est, se, df) |> unname()
  if (!is.null(req$counts)) {
    gc <- glm.control(epsilon = req$epsilon %||% 1e-8, maxit = 500)
    mk <- function(ct) { L <<- L; if (req$counts == "negative-binomial") eval(bquote(glm.nb(.(fo), data = L, contrasts = .(ct), control = gc))) else eval(bquote(glm(.(fo), data = L, family = .(as.name(if (req$counts == "poisson") "poisson" else "quasipoisson")), contrasts = .(ct), control = gc))) }
    assign("gc", gc, globalenv()); m <- mk(NULL); phi <- sum(residuals(m, "pearson")^2) / m$df.residual
    out$dispersion <- if (req$counts == "negative-binomial") m$theta else phi
    dev <- list(); tt <- list()
    # direct: nested likelihood ratio with theta fixed
    Xof <- function(cd) { L2 <- L; for (f in facs) contrasts(L2[[f]]) <- if (cd == "sum") "contr.sum" else "contr.treatment"; mm <- model.matrix(terms(fo, keep.order = TRUE), L2); list(X = mm, asg = attr(mm, "assign")) }
    fam <- if (req$counts == "negative-binomial") MASS::negative.binomial(m$theta) else poisson()
    devX <- function(X) { g <- suppressWarnings(glm.fit(X, y, family = fam, control = gc)); c(g$deviance, g$rank) }
    xx <- Xof(if (req$tests == "marginal") "sum" else "treatment"); full <- devX(xx$X)
    T <- attr(terms(fo, keep.order = TRUE), "term.labels"); parts <- strsplit(T, ":")
    for (i in seq_along(T)) { oth <- switch(req$tests, sequential = seq_len(i - 1), marginal = setdiff(seq_along(T), i), adjusted = Filter(function(j) j != i && !all(parts[[i]] %in% parts[[j]]), seq_along(T)))
      a <- devX(xx$X[, xx$asg %in% c(0, oth), drop = FALSE]); b <- devX(xx$X[, xx$asg %in% c(0, oth, i), drop = FALSE]); df <- b[2] - a[2]; if (df == 0) next; x <- a[1] - b[1]
      r <- list(term = tl(T[i]), df = df); if (req$counts == "quasi-poisson") { r$statistic <- x / df / phi; r$kind <- "F"; r$dfError <- m$df.residual; r$p <- pf(r$statistic, df, m$df.residual, lower.tail = FALSE) } else { r$statistic <- x; r$kind <- "chi-square"; r$p <- pchisq(x, df, lower.tail = FALSE) }; tt <- c(tt, list(r)) }
    out$terms <- tt
    s <- if (req$counts == "quasi-poisson") summary(m) else summary(m); cf <- s$coefficients; out$coefficients <- coefs(cf[, 1], cf[, 2], rep(Inf, nrow(cf)))
    if (req$counts != "quasi-poisson") { out$logLik <- as.numeric(logLik(m)); out$aic <- AIC(m) }
    rg <- ref_grid(m, nesting = NULL, data = L); 
    doemm(rg, TRUE); ck(residuals(m, "pearson")); return(out)
  }
  units <- req$randomUnits; runame <- vapply(units, paste, "", collapse = " × ")
  if (!is.null(pos) && pos$model == "rows+columns") { units <- c(units, list(c(unlist(pos$within), pos$row)), list(c(unlist(pos$within), pos$column))); runame <- c(runame, "row", "column") }
  if (isTRUE(req$exactStrata)) {
    for (i in seq_along(units)) L[[paste0("u", i)]] <- factor(do.call(paste, c(d[units[[i]]], sep = "\r")))
    L <<- L
    a <- eval(parse(text = paste("aov(y ~", fx, "+ Error(", paste0("u", seq_along(units), collapse = " + "), "), L)"))); s <- summary(a); tt <- list()
    for (st in names(s)) { tb <- s[[st]][[1]]; dfe <- if ("Residuals" %in% trimws(rownames(tb))) tb[trimws(rownames(tb)) == "Residuals", "Df"] else NULL
      for (i in seq_len(nrow(tb))) { l <- trimws(rownames(tb)[i]); if (l == "Residuals") next; r <- list(term = tl(l), df = tb[i, 1], ss = tb[i, 2], ms = tb[i, 3]); if (!is.null(dfe)) { r$dfError <- dfe; r$statistic <- tb[i, "F value"]; r$p <- tb[i, "Pr(>F)"] }; un <- sub("^Error: ", "", st); r$stratum <- if (un == "Within") "residual" else runame[as.integer(sub("u", "", un))]; r$kind <- "F"; tt <- c(tt, list(r)) } }
    out$terms <- tt; tb <- s[["Error: Within"]][[1]]; i <- which(trimws(rownames(tb)) == "Residuals"); out$residual <- list(df = tb[i, 1], ss = tb[i, 2], ms = tb[i, 3])
    if (length(req$means) + length(req$compare)) { rg <- try(ref_grid(a, nesting = NULL, data = L)); if (!inherits(rg, "try-error")) doemm(rg) }
    return(out)
  }
  if (!is.null(pos) && pos$model == "ar1") {
    g <- if (length(pos$within)) do.call(paste, c(d[pos$within], sep = "\r")) else rep("1", nrow(d)); rr <- as.numeric(d[[pos$row]]); cc <- as.numeric(d[[pos$column]]); n <- nrow(d)
    same <- outer(g, g, "=="); dr <- abs(outer(rr, rr, "-")); dc <- abs(outer(cc, cc, "-")); X <- model.matrix(terms(fo, keep.order = TRUE), L); qq <- qr(X); X <- X[, qq$pivot[1:qq$rank], drop = FALSE]; p <- ncol(X)
    K <- lapply(units, function(u) { z <- do.call(paste, c(d[u], sep = "\r")); outer(z, z, "==") * 1 })
    V <- function(t) { v <- t[1] * (t[2]^dr) * (t[3]^dc) * same + t[4] * diag(n); for (k in seq_along(K)) v <- v + t[4 + k] * K[[k]]; v }
    dv <- function(t) { U <- chol(V(t)); Xs <- backsolve(U, X, transpose = TRUE); ys <- backsolve(U, y, transpose = TRUE); q <- qr(Xs); (n - p) * log(2 * pi) + 2 * sum(log(diag(U))) + 2 * sum(log(abs(diag(qr.R(q))))) + sum(qr.resid(q, ys)^2) }
    tr <- function(u) c(exp(u[1]), tanh(u[2]), tanh(u[3]), exp(u[4:length(u)])); best <- NULL; vy <- sum(lm.fit(X, y)$residuals^2) / (n - p)
    for (a in c(0.3, 0.85)) for (b in c(0.3, 0.85)) for (h in c(0.1, 0.6)) { o <- try(nlminb(c(log(vy * (1 - h)), atanh(a), atanh(b), log(vy * h), rep(log(vy * 0.1), length(K))), function(u) tryCatch(dv(tr(u)), error = function(e) 1e10), control = list(rel.tol = 1e-14, eval.max = 2000, iter.max = 1000)), TRUE); if (!inherits(o, "try-error") && (is.null(best) || o$objective < best$objective)) best <- o }
    t <- tr(best$par); out$logLik <- -best$objective / 2; out$spatial <- list(rowCorrelation = t[2], columnCorrelation = t[3], spatialVariance = t[1], nugget = t[4])
    Vi <- solve(V(t)); P0 <- solve(t(X) %*% Vi %*% X); b <- P0 %*% t(X) %*% Vi %*% y; out$coefficients <- coefs(as.vector(b), sqrt(diag(P0)), rep(Inf, p)); i <- 2:p; if (req$denominator == "asymptotic") out$wald <- list(chiSquare = as.numeric(t(b[i]) %*% solve(P0[i, i], b[i])), df = p - 1)
    out$tolAll <- 1e-3; return(out)
  }
  if (length(units) && !is.null(pos) && pos$model == "smooth") return(NULL)
  if (length(units)) {
    for (i in seq_along(units)) L[[paste0("u", i)]] <- factor(do.call(paste, c(d[units[[i]]], sep = "\r")))
    assign("L", L, globalenv())
    if (req$denominator == "containment") {
      m <- function(ct) eval(parse(text = sprintf("nlme::lme(y ~ %s, random = list(%s), data = L%s, control = lmeControl(msTol = 1e-12, tolerance = 1e-10, opt = 'optim', reltol = 1e-14, maxIter = 500, msMaxIter = 500))", fx, paste0("u", seq_along(units), " = ~1", collapse = ", "), if (ct) ", contrasts = sumc" else "")))
      assign("sumc", sumc, globalenv()); ma <- m(req$tests == "marginal"); a <- anova(ma, type = if (req$tests == "marginal") "marginal" else "sequential"); rr <- list(); for (l in rownames(a)[-1]) rr <- c(rr, list(list(term = tl(l), df = a[l, 1], dfError = a[l, 2], statistic = a[l, 3], kind = "F", p = a[l, 4]))); out$terms <- if (req$tests == "adjusted") list() else rr
      m0 <- m(FALSE); out$logLik <- as.numeric(logLik(m0)) ; out$logLik <- NULL; s <- summary(m0)$tTable; out$coefficients <- coefs(s[, 1], s[, 2], s[, 3]); doemm(ref_grid(m0, nesting = NULL, mode = "containment", data = L)); out$rowsFitted <- NULL; return(out)
    }
    ftx <- paste("y ~", fx, "+", paste0("(1 | u", seq_along(units), ")", collapse = " + "))
    m <- eval(parse(text = sprintf("lmerx(%s, L)", ftx))); assign("m", m, globalenv())
    dd <- if (req$denominator == "kenward-roger") "Kenward-Roger" else "Satterthwaite"; ty <- c(sequential = 1, adjusted = 2, marginal = 3)[[req$tests]]
    if (length(ts)) { a <- as.data.frame(anova(m, type = ty, ddf = dd)); rr <- list(); for (l in rownames(a)) { r <- list(term = tl(l), df = a[l, "NumDF"]); f <- a[l, "F value"]; if (req$denominator == "asymptotic") { if (dd != "Satterthwaite") next; r$statistic <- f * r$df; r$kind <- "chi-square"; r$p <- pchisq(r$statistic, r$df, lower.tail = FALSE) } else { r$dfError <- a[l, "DenDF"]; r$statistic <- f; r$kind <- "F"; r$p <- a[l, "Pr(>F)"] }; rr <- c(rr, list(r)) }; out$terms <- rr }
    v <- as.data.frame(VarCorr(m)); out$variance <- lapply(seq_len(nrow(v)), function(i) list(unit = if (v$grp[i] == "Residual") "residual" else runame[as.integer(sub("u", "", v$grp[i]))], variance = v$vcov[i]))
    out$logLik <- as.numeric(logLik(m)); out$criterion <- "REML"; out$aic <- AIC(m)
    cs <- coef(summary(m, ddf = dd)); out$coefficients <- coefs(cs[, "Estimate"], cs[, "Std. Error"], if (req$denominator == "asymptotic") rep(Inf, nrow(cs)) else cs[, "df"])
    if (req$denominator == "asymptotic") { own <- attr(terms(fo, keep.order = TRUE), "term.labels"); as1 <- attr(model.matrix(m), "assign"); tro <- which(vapply(strsplit(own, ":"), function(v) all(grepl("^f", v)) && all(unlist(back[v]) %in% req$treatments), TRUE)); ii <- which(as1 %in% (if (length(tro)) tro else seq_along(own))); b <- fixef(m)[ii]; out$wald <- list(chiSquare = as.numeric(b %*% solve(as.matrix(vcov(m))[ii, ii], b)), df = length(ii)) }
    out$rowsFitted <- unname(fitted(m)); ck(unname(residuals(m)))
    emm_options(lmerTest.limit = 1e5, pbkrtest.limit = 1e5)
    if (length(req$means) + length(req$compare)) doemm(ref_grid(m, nesting = NULL, lmer.df = req$denominator, data = L))
    return(out)
  }
  m <- eval(bquote(lm(.(fo), data = L))); Lc <- L; for (n in grep("^c", names(L), value = TRUE)) Lc[[n]] <- L[[n]] - mean(L[[n]])  # marginal tests are of the centred covariate
  ms <- if (length(facs)) eval(bquote(lm(.(fo), data = Lc, contrasts = .(sumc)))) else m
  assign("m", m, globalenv()); dfe <- m$df.residual
  m$call$formula <- fo; keepo <- eval(bquote(lm(terms(.(fo), keep.order = TRUE), data = L)))
  a <- if (!length(ts)) NULL else switch(req$tests, sequential = anova(keepo), adjusted = Anova(m, type = 2), marginal = Anova(ms, type = 3, singular.ok = TRUE))
  if (length(ts)) out$terms <- row_terms(if (req$tests == "sequential") a else { a <- as.data.frame(a); a[["F value"]] <- a[["F value"]]; a }, dfe)
  out$residual <- list(df = dfe, ss = deviance(m), ms = deviance(m) / dfe)
  out$variance <- list(list(unit = "residual", variance = deviance(m) / dfe)); out$logLik <- as.numeric(logLik(m)); out$aic <- AIC(m); out$criterion <- "ML"
  cs <- coef(summary(keepo)); out$coefficients <- coefs(cs[, 1], cs[, 2], rep(dfe, nrow(cs)))
  out$rowsFitted <- unname(fitted(m)); out$rowsLeverage <- unname(hatvalues(m)); ck(unname(residuals(m)))
  if (length(req$means) + length(req$compare)) doemm(ref_grid(m, nesting = NULL, data = L))
  out
}

## ---- writing a case -----------------------------------------------------------------
pk <- c("lme4", "lmerTest", "pbkrtest", "nlme", "MASS", "car", "emmeans", "spdep", "mvtnorm")
versions <- c(list(R = R.version.string), setNames(lapply(pk, function(p) as.character(packageVersion(p))), pk))
lst <- function(r) {
  for (n in c("treatments", "covariates", "fixedBlocks", "checks")) if (!is.null(r[[n]])) r[[n]] <- as.list(r[[n]])
  for (n in c("means", "randomUnits", "covariateInteractions")) if (!is.null(r[[n]])) r[[n]] <- lapply(r[[n]], as.list)
  if (is.list(r$interactions)) r$interactions <- lapply(r$interactions, as.list)
  if (!is.null(r$compare)) r$compare <- lapply(r$compare, function(c) list(means = as.list(c$means), by = as.list(c$by), method = c$method, against = c$against))
  for (k in c("position", "moran")) if (!is.null(r[[k]])) r[[k]]$within <- as.list(r[[k]]$within)
  r$epsilon <- NULL; r
}
only <- commandArgs(TRUE)  # names of the cases to write; all without one
made <- function(id, by, req, d, tolerances = list(default = 1e-6, p = 1e-5)) {
  if (length(only) && !id %in% only) return(invisible())
  dir <- file.path("fit", paste0("made-", id)); dir.create(dir, FALSE, TRUE); req$response <- "y"
  ch <- as.data.frame(lapply(d, as.character), check.names = FALSE, stringsAsFactors = FALSE); names(ch) <- names(d)
  q <- which(vapply(ch, function(v) any(grepl("[,\"]", v)), TRUE))
  write.table(ch, file.path(dir, "table.csv"), sep = ",", eol = "\n", row.names = FALSE, na = "", qmethod = "double", quote = if (length(q)) q else FALSE, fileEncoding = "UTF-8")
  # Row names of the header are quoted by write.table where columns are; read back as it stands.
  d2 <- read.csv(file.path(dir, "table.csv"), colClasses = "character", na.strings = c("", "NA"), check.names = FALSE, encoding = "UTF-8")
  e <- rfit(req, d2); e[c("coefficients", "rowsFitted", "rowsLeverage", "tolAll")] <- NULL
  writeLines(toJSON(lst(req), auto_unbox = TRUE, null = "null", digits = NA, pretty = TRUE), file.path(dir, "request.json"))
  writeLines(toJSON(list(source = "Made up with a fixed seed by make/22-fit-cases.R; not real plants", computed_by = by, versions = versions, tolerances = tolerances, expected = e), auto_unbox = TRUE, null = "null", digits = I(17), pretty = TRUE), file.path(dir, "expected.json"))
  cat("wrote", dir, "\n")
}
cmp <- function(...) lapply(list(...), function(v) list(means = v[[1]], by = character(), method = v[[2]], against = if (length(v) > 2) v[[3]]))
mixedTol <- list(default = 1e-6, p = 1e-5, df = 1e-5, dfError = 1e-5, variance = 1e-6)

## ---- cases ------------------------------------------------------------------------------
g <- expand.grid(sub = paste0("s", 1:3), main = c("hi", "lo", "mid"), block = paste0("B", 1:4)); set.seed(1)
g$y <- round(5 + rnorm(4)[as.integer(g$block)] + rnorm(12)[as.integer(interaction(g$block, g$main))] + as.integer(g$sub) * .5 + rnorm(36), 3)
made("split-plot-strata", "aov(y ~ main * sub + Error(block + block:main)); emmeans", list(treatments = c("main", "sub"), randomUnits = list("block", c("block", "main")), exactStrata = TRUE, tests = "adjusted", means = list("main", "sub", c("main", "sub")), compare = cmp(list("sub", "tukey"), list("main", "holm"))), g)

g <- expand.grid(ss = c("a", "b"), sub = paste0("s", 1:3), main = c("hi", "lo"), block = paste0("B", 1:4)); set.seed(2); n <- nrow(g)
g$y <- round(5 + rnorm(4)[as.integer(g$block)] + rnorm(8)[as.integer(interaction(g$block, g$main))] + rnorm(24, 0, .7)[as.integer(interaction(g$block, g$main, g$sub))] + as.integer(g$sub) * .5 + rnorm(n), 3)
units <- list("block", c("block", "main"), c("block", "main", "sub"))
made("split-split-strata", "aov with Error(block + block:main + block:main:sub)", list(treatments = c("main", "sub", "ss"), randomUnits = units, exactStrata = TRUE, tests = "sequential"), g)
made("split-split-containment", "nlme::lme, marginal anova with sum-to-zero contrasts; emmeans(mode = 'containment')", list(treatments = c("main", "sub", "ss"), randomUnits = units, tests = "marginal", denominator = "containment", means = list("main", "sub"), compare = cmp(list("sub", "tukey"))), g, list(default = 1e-5, p = 1e-4))
h <- g[-c(3, 9, 20, 31, 40), ]
for (tt in c("sequential", "adjusted")) made(paste0("split-split-missing-", tt), paste0("lmerx; anova(type = ", if (tt == "adjusted") 2 else 1, ", ddf = 'Satterthwaite'); emmeans"), list(treatments = c("main", "sub", "ss"), randomUnits = units, tests = tt, means = list("main", c("main", "ss")), compare = cmp(list("sub", "tukey"))), h, mixedTol)

h$start <- round(rnorm(nrow(h), 3), 2); h$y <- round(h$y + .4 * h$start, 3)
made("split-split-missing-containment", "nlme::lme, sequential anova; emmeans(mode = 'containment')", list(treatments = c("main", "sub", "ss"), covariates = "start", randomUnits = units, tests = "sequential", denominator = "containment", means = list("main", "sub"), compare = cmp(list("sub", "holm"))), h, list(default = 1e-4))

g <- expand.grid(A = c("p", "q", "r"), B = paste0("v", 1:4), rep = paste0("R", 1:4)); set.seed(3)
g$y <- round(10 + rnorm(4)[as.integer(g$rep)] + rnorm(12)[as.integer(interaction(g$rep, g$A))] + rnorm(16)[as.integer(interaction(g$rep, g$B))] + rnorm(48, 0, .5), 3)
units <- list("rep", c("rep", "A"), c("rep", "B"))
made("strip-plot-strata", "aov with Error(rep + rep:A + rep:B)", list(treatments = c("A", "B"), randomUnits = units, exactStrata = TRUE, tests = "sequential"), g)
made("strip-plot-missing", "lmerx; anova(type = 2, ddf = 'Kenward-Roger'); emmeans", list(treatments = c("A", "B"), randomUnits = units, tests = "adjusted", denominator = "kenward-roger", means = list("A", c("A", "B")), compare = cmp(list("B", "tukey"))), g[-c(1, 14, 27, 40), ], mixedTol)

set.seed(4); k <- 5; sq <- outer(1:k, 1:k, function(i, j) (i + j) %% k + 1); g <- data.frame(r = as.vector(row(sq)), c = as.vector(col(sq)), trt = LETTERS[sq])
g$y <- round(20 + rnorm(k)[g$r] + rnorm(k)[g$c] + as.integer(factor(g$trt)) * .6 + rnorm(25), 3)
made("latin-square-strata", "aov with Error(r + c)", list(treatments = "trt", randomUnits = list("r", "c"), exactStrata = TRUE, tests = "sequential"), g)

set.seed(5); g <- expand.grid(col = 1:6, row = 1:5, tray = c("T1", "T2", "T3")); n <- nrow(g); g$trt <- sample(rep(c("ctl", "f1", "f2"), 30)); g$w <- round(rnorm(n, 4, .6), 2)
g$y <- round(10 + rnorm(15)[as.integer(interaction(g$tray, g$row))] + rnorm(18, 0, .6)[as.integer(interaction(g$tray, g$col))] + (g$row %in% c(1, 5) | g$col %in% c(1, 6)) * 1.2 + (g$trt == "f2") + 0.7 * g$w + rnorm(n), 3); g$y[c(4, 31, 88)] <- NA
P <- function(m) list(row = "row", column = "col", within = "tray", model = m)
made("trays-rows-columns", "lmerx with (1 | tray:row) + (1 | tray:col); anova(type = 2, ddf = 'Kenward-Roger'); emmeans; car::leveneTest and shapiro.test of the residuals", list(treatments = "trt", covariates = "w", fixedBlocks = "tray", position = P("rows+columns"), tests = "adjusted", denominator = "kenward-roger", means = list("trt"), compare = cmp(list("trt", "tukey")), checks = c("shapiro-wilk", "levene")), g, mixedTol)
made("trays-edge-queen", "lm with an edge factor; car::Anova(type = 2); emmeans; spdep::moran.test, row-standardised queen neighbours within trays", list(treatments = "trt", covariates = "w", fixedBlocks = "tray", position = P("edge"), tests = "adjusted", means = list("trt", "edge"), compare = cmp(list("trt", "tukey"), list("edge", "none")), checks = c("moran", "shapiro-wilk"), moran = list(row = "row", column = "col", within = "tray", neighbours = "queen")), g)
made("trays-ar1-random-tray", "dense REML, V = s * rho_row^|row difference| * rho_col^|column difference| within trays + g I + tray variance, nlminb from eight starts", list(treatments = "trt", position = P("ar1"), randomUnits = list("tray"), tests = "marginal", denominator = "asymptotic"), g, list(default = 1e-3, logLik = 1e-8))

set.seed(7); g <- expand.grid(pot = 1:4, tray = 1:4, shelf = paste0("S", 1:3), bay = c("north", "south")); n <- nrow(g); g$feed <- c("lo", "mid", "hi")[(g$pot + g$tray) %% 3 + 1]; g$light <- c("dim", "full")[(as.integer(factor(paste(g$bay, g$shelf, g$tray))) %% 2) + 1]; g$start <- round(rnorm(n), 2)
g$y <- round(30 + rnorm(2, 0, 2)[as.integer(g$bay)] + rnorm(6)[as.integer(interaction(g$bay, g$shelf))] + rnorm(24)[as.integer(interaction(g$bay, g$shelf, g$tray))] + g$start + rnorm(n), 3); g <- g[-sample(n, 9), ]
units <- list(c("bay", "shelf"), c("bay", "shelf", "tray"))
made("nested-slopes", "lmerx; anova(type = 1, ddf = 'Satterthwaite'); emmeans at the mean of start", list(treatments = c("light", "feed"), covariates = "start", covariateInteractions = list(c("start", "feed")), randomUnits = units, tests = "sequential", means = list("light", "feed"), compare = cmp(list("feed", "tukey"))), g, mixedTol)
made("nested-log-asymptotic", "lmerx of log(y); Wald chi-square from anova(type = 3); emmeans(lmer.df = 'asymptotic')", list(scale = "log", treatments = c("light", "feed"), covariates = "start", randomUnits = units, tests = "marginal", denominator = "asymptotic", means = list("light", c("light", "feed")), compare = cmp(list("feed", "tukey"))), g, mixedTol)

set.seed(8); g <- expand.grid(pot = 1:5, tray = 1:6); g$trt <- c("a", "b", "c")[(g$tray - 1) %% 3 + 1]; g$y <- round(ave(rnorm(30), g$tray, FUN = function(v) v - mean(v) * .9) + as.integer(factor(g$trt)) * .3, 3)
made("trays-without-variance", "lmerx, tray variance at zero; anova(type = 2, ddf = 'Kenward-Roger')", list(treatments = "trt", randomUnits = list("tray"), tests = "adjusted", denominator = "kenward-roger", means = list("trt"), compare = cmp(list("trt", "bonferroni"))), g, mixedTol)

set.seed(9); g <- expand.grid(A = c("1", "2", "10"), B = c("x y", "x,y", "x\"y"), C = c("u", "v"), rep = 1:4); n <- nrow(g); g$c1 <- round(rnorm(n, 3), 2); g$c2 <- round(runif(n), 3); g$blk <- paste0("k", sample(1:4, n, TRUE))
g$y <- round(exp(1 + .3 * (g$A == "10") + .2 * g$c1 * (g$B == "x y") + rnorm(n, 0, .3)), 3); g <- g[-sample(n, 11), ]
made("slopes-odd-names", "lm of log(y), sum-to-zero contrasts; car::Anova(type = 3); emmeans; car::leveneTest, bartlett.test, shapiro.test of the residuals", list(scale = "log", treatments = c("A", "B", "C"), interactions = list(c("A", "B"), c("B", "C")), covariates = c("c1", "c2"), covariateInteractions = list(c("c1", "B"), c("c1", "c2")), fixedBlocks = "blk", tests = "marginal", means = list("A", "B", c("A", "B")), compare = cmp(list("B", "tukey"), list("A", "holm", "2")), checks = c("bartlett", "levene", "brown-forsythe", "shapiro-wilk")), g)
made("empty-cell-square-root", "lm of sqrt(y); anova; emmeans", list(scale = "sqrt", treatments = c("A", "B", "C"), interactions = list(c("A", "B")), tests = "sequential", means = list("A", "B", "C", c("A", "B")), compare = cmp(list("C", "tukey"), list(c("A", "B"), "tukey"))), g[!(g$A == "10" & g$B == "x y"), ])
made("controls-unequal", "lm; car::Anova(type = 2); emmeans; mvtnorm::pmvt with the correlations of the differences", list(treatments = "A", covariates = "c1", fixedBlocks = "blk", tests = "adjusted", confidence = 0.9, means = list("A"), compare = cmp(list("A", "dunnett", "2"))), g, list(default = 1e-6, p = 1e-4, lower = 1e-3, upper = 1e-3))

set.seed(10); g <- expand.grid(light = c("dim", "full"), feed = c("f1", "f2", "f3"), blk = paste0("b", 1:4), rep = 1:2); g$x <- round(rnorm(48, 3), 1)
g$y <- rnbinom(48, mu = exp(1 + .5 * (g$light == "full") + .3 * (g$feed == "f3") + .1 * g$x), size = 3); g$y[c(5, 19, 40)] <- NA
made("counts-quasi", "glm(quasipoisson); F of deviances over the Pearson dispersion, each model fitted; emmeans", list(counts = "quasi-poisson", treatments = c("light", "feed"), covariates = "x", fixedBlocks = "blk", tests = "adjusted", means = list("light", c("light", "feed")), compare = cmp(list("feed", "tukey"))), g)
made("counts-negative-binomial", "MASS::glm.nb, control epsilon 1e-14; likelihood ratios at its theta, sum-to-zero contrasts, each model fitted; emmeans", list(epsilon = 1e-14, counts = "negative-binomial", treatments = c("light", "feed"), covariates = "x", fixedBlocks = "blk", tests = "marginal", means = list("light", "feed"), compare = cmp(list("feed", "holm"))), g)
