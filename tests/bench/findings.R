# The work of findings.bench.ts in R, on the tables it writes: Rscript findings.R FOLDER.
# One thread, as the program has. Prints a line a piece of work: milliseconds of processor time at best, and a figure to compare.
suppressMessages({ library(lme4); library(lmerTest) })
folder <- commandArgs(TRUE)[1]
best <- function(times, work) {
  took <- numeric(times)
  for (i in seq_len(times)) took[i] <- sum(system.time(value <- work())[c("user.self", "sys.self")])
  cat(sprintf("%.1f %.9g\n", 1000 * min(took), value))
}
d <- read.csv(file.path(folder, "split-plot.csv"), stringsAsFactors = TRUE)
best(3, function() {
  m <- lmer(y ~ light * feed + (1 | block) + (1 | block:light), d)
  anova(m, type = 3)
  as.numeric(logLik(m))
})
d <- read.csv(file.path(folder, "field.csv"), stringsAsFactors = TRUE)
X <- model.matrix(~ gen, d); n <- nrow(X); p <- ncol(X)
dr <- abs(outer(d$row, d$row, "-")); dc <- abs(outer(d$col, d$col, "-"))
deviance <- function(u) {
  V <- exp(u[1]) * tanh(u[2])^dr * tanh(u[3])^dc; diag(V) <- diag(V) + exp(u[4])
  U <- tryCatch(chol(V), error = function(e) NULL); if (is.null(U)) return(1e10)
  q <- qr(backsolve(U, X, transpose = TRUE)); r <- qr.resid(q, backsolve(U, d$y, transpose = TRUE))
  (n - p) * log(2 * pi) + 2 * sum(log(diag(U))) + 2 * sum(log(abs(diag(qr.R(q))))) + sum(r^2)
}
best(1, function() -nlminb(c(0, 0.5, 0.5, 0), deviance)$objective / 2)
d <- read.csv(file.path(folder, "factorial.csv"), stringsAsFactors = TRUE)
options(contrasts = c("contr.sum", "contr.poly"))
B <- qr(model.matrix(~ block + start + ppfd, d)); y <- qr.resid(B, d$y)
rows <- split(seq_len(nrow(d)), d$block)
f <- function(at) {
  # The treatments move: their columns are taken from where the labels come from.
  Z <- qr.resid(B, model.matrix(~ feed * light, d[at, ])[, -1])
  full <- sum(.lm.fit(Z, y)$residuals^2); less <- sum(.lm.fit(Z[, -1], y)$residuals^2)
  (less - full) / full
}
set.seed(1)
best(1, function() {
  observed <- f(seq_len(nrow(d))); extreme <- 0; at <- integer(nrow(d))
  for (run in 1:9999) { for (r in rows) at[r] <- r[sample.int(length(r))]; extreme <- extreme + (f(at) >= observed) }
  (1 + extreme) / 10000
})
