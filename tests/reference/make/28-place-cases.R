# Makes fit/made-trays-rows-columns-units and expected/28-counts-on-units.json.
# Run in tests/reference:  Rscript make/28-place-cases.R
# The first: feeds on trays, cultivars on pots, rows and columns of each tray at random. Terms of pots by
# lmer with (1 | tray) + (1 | tray:row) + (1 | tray:col), F after Kenward and Roger by pbkrtest; the term
# of trays by the mean square between trays, by least squares with no regard to rows and columns.
# The second: logarithms of mean counts per unit, by aov with Error strata: shelves holding trays, and
# strips that cross.
suppressMessages({ library(jsonlite); library(lme4); library(pbkrtest) })
options(contrasts = c("contr.sum", "contr.poly"))
versions <- list(R = R.version.string, lme4 = as.character(packageVersion("lme4")), pbkrtest = as.character(packageVersion("pbkrtest")))

RNGkind("Mersenne-Twister", "Inversion", "Rejection"); set.seed(280326)
d <- expand.grid(col = 1:4, row = 1:5, tray = paste0("t", 1:8))
d$block <- paste0("b", (as.integer(factor(d$tray)) + 1) %/% 2)
d$feed <- ifelse(as.integer(factor(d$tray)) %% 2 == 1, "weak", "strong")
d$cultivar <- unlist(lapply(1:8, function(i) sample(rep(c("c1", "c2", "c3", "c4"), 5))))
re <- function(f, sd) { f <- factor(f); rnorm(nlevels(f), 0, sd)[f] }
d$y <- round(20 + re(d$tray, 1) + re(paste(d$tray, d$row), 0.9) + re(paste(d$tray, d$col), 0.7) + 0.6 * (d$cultivar == "c3") + rnorm(nrow(d)), 3)
d$y[sample(nrow(d), 7)] <- NA
request <- list(response = "y", treatments = c("feed", "cultivar"), fixedBlocks = I("block"), randomUnits = list(I("tray")), position = list(row = "row", column = "col", within = I("tray"), model = "rows+columns"), tests = "marginal", denominator = "units")
u <- d[!is.na(d$y), ]; for (f in c("block", "feed", "cultivar", "tray")) u[[f]] <- factor(u[[f]])
X <- model.matrix(~ block + feed * cultivar, u); asg <- attr(X, "assign"); labels <- attr(terms(~ block + feed * cultivar), "term.labels")
m <- lmer(y ~ 0 + X + (1 | tray) + (1 | tray:row) + (1 | tray:col), u, control = lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e5)))
rows <- lapply(c("cultivar", "feed:cultivar"), function(l) {
  L <- diag(ncol(X))[asg == match(l, labels), , drop = FALSE]
  kr <- KRmodcomp(m, L); k <- lapply(setNames(nm = c("Fstat", "ndf", "ddf", "p.value")), function(n) getKR(kr, n))
  list(term = sub(":", " × ", l), df = k$ndf, dfError = k$ddf, statistic = k$Fstat, kind = "F", p = k$p.value, stratum = "residual")
})
rss <- function(M) { q <- qr(M, tol = 1e-9); c(sum(qr.resid(q, u$y)^2), nrow(u) - q$rank) }
Z <- model.matrix(~ tray - 1, u); full <- rss(X); within <- rss(cbind(X, Z)); less <- rss(X[, asg != match("feed", labels)])
dfe <- full[2] - within[2]; F <- (less[1] - full[1]) / ((full[1] - within[1]) / dfe)
rows <- c(list(list(term = "feed", df = 1, dfError = dfe, statistic = F, kind = "F", p = pf(F, 1, dfe, lower.tail = FALSE), stratum = "tray")), rows)
folder <- "fit/made-trays-rows-columns-units"; dir.create(folder, showWarnings = FALSE)
write_json(request, file.path(folder, "request.json"), auto_unbox = TRUE, pretty = TRUE)
write.csv(d, file.path(folder, "table.csv"), row.names = FALSE, quote = FALSE)
write_json(list(source = "Made up with a fixed seed by make/28-place-cases.R; not real plants", computed_by = "lme4::lmer and pbkrtest::KRmodcomp; the term of trays by base R's qr", versions = versions, tolerances = list(default = 1e-6, statistic = 1e-5, p = 1e-5, dfError = 1e-5), expected = list(n = nrow(u), dropped = sum(is.na(d$y)), terms = rows)), file.path(folder, "expected.json"), auto_unbox = TRUE, pretty = TRUE, digits = 15)

set.seed(280327)
s <- expand.grid(pot = 1:5, tray = 1:4, shelf = 1:6)
s$light <- c("dim", "bright")[s$shelf %% 2 + 1]; s$feed <- c("weak", "strong")[s$tray %% 2 + 1]
own <- exp(rnorm(6, 0, 0.2))[s$shelf] * exp(rnorm(24, 0, 0.2))[(s$shelf - 1) * 4 + s$tray]
s$count <- rpois(nrow(s), 9 * own * ifelse(s$light == "bright", 1.4, 1))
a <- aggregate(count ~ shelf + tray + light + feed, s, mean); a$shelf <- factor(a$shelf)
pick <- function(model, stratum, term) { t <- summary(model)[[stratum]][[1]]; rownames(t) <- trimws(rownames(t)); r <- t[term, ]; e <- t["Residuals", ]; list(df = r[["Df"]], dfError = e[["Df"]], F = r[["F value"]], p = r[["Pr(>F)"]]) }
o <- aov(log(count) ~ light * feed + Error(shelf), a)
shelves <- list(light = pick(o, "Error: shelf", "light"), feed = pick(o, "Error: Within", "feed"), both = pick(o, "Error: Within", "light:feed"))

set.seed(280328)
p <- expand.grid(pot = 1:3, across = 1:3, down = 1:4, rep = 1:5)
at <- function(f, sd) exp(rnorm(length(unique(f)), 0, sd))[match(f, unique(f))]
p$A <- paste0("a", unlist(lapply(1:5, function(i) sample(4)))[(p$rep - 1) * 4 + p$down]); p$B <- paste0("b", unlist(lapply(1:5, function(i) sample(3)))[(p$rep - 1) * 3 + p$across])
p$count <- rpois(nrow(p), 12 * at(paste(p$rep, p$down), 0.2) * at(paste(p$rep, p$across), 0.2) * at(paste(p$rep, p$down, p$across), 0.15) * ifelse(p$A == "a2", 1.5, 1))
b <- aggregate(count ~ rep + down + across + A + B, p, mean); for (f in c("rep", "down", "across", "A", "B")) b[[f]] <- factor(b[[f]])
o <- aov(log(count) ~ rep + A * B + Error(rep:down + rep:across), b)
strips <- list(A = pick(o, "Error: rep:down", "A"), B = pick(o, "Error: rep:across", "B"), both = pick(o, "Error: Within", "A:B"))
write_json(list(source = "Made up with fixed seeds by make/28-place-cases.R; not real plants", versions = versions, shelves = c(shelves, list(table = s)), strips = c(strips, list(table = p))), "expected/28-counts-on-units.json", auto_unbox = TRUE, digits = 15, dataframe = "columns")
