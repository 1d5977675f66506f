# Makes expected/31-swapped-runs.json: three runs on four shelves with the lamps swapped between them.
# The table is tests/builders/swappedRuns.ts with seeds "reference" and "reference"; the analysis is base
# R's, by error strata. R 4.2.2, no random numbers. Run in tests/reference:
#   Rscript make/31-swapped-runs.R
d <- read.csv("data/swapped_runs.csv", stringsAsFactors = TRUE)
row <- function(v) paste0("{", paste(sprintf('"%s": %s', names(v), format(v, digits = 16, trim = TRUE)), collapse = ", "), "}")
out <- sprintf('"source": "%s, aov with Error(place/shelf): the shelf on the rack, and the shelf of each run"', R.version.string)
take <- function(name, model, stratum, term) {
  t <- summary(model)[[stratum]][[1]]; rownames(t) <- trimws(rownames(t))
  v <- c(df = t[term, "Df"], dfError = t["Residuals", "Df"], F = t[term, "F value"], p = t[term, "Pr(>F)"])
  out <<- c(out, sprintf('"%s": %s', name, row(v)))
}
m <- suppressWarnings(aov(response ~ run + lamps * medium + Error(place/shelf), d))
take("run", m, "Error: place:shelf", "run")
take("lamps", m, "Error: place:shelf", "lamps")
take("medium", m, "Error: Within", "medium")
take("lamps × medium", m, "Error: Within", "lamps:medium")
r <- suppressWarnings(aov(response ~ run * lamps + run * medium + lamps * medium + Error(place/shelf), d))
take("lamps × run", r, "Error: place:shelf", "run:lamps")
take("medium × run", r, "Error: Within", "run:medium")
# The difference within shelves and its interval.
s <- coef(summary.lm(m[["place:shelf"]]))["lampsLevel 2", ]
q <- qt(0.975, m[["place:shelf"]]$df.residual)
out <- c(out, sprintf('"difference": %s', row(c(estimate = s[[1]], se = s[[2]], lower = s[[1]] - q * s[[2]], upper = s[[1]] + q * s[[2]]))))
writeLines(paste0("{\n", paste(out, collapse = ",\n"), "\n}"), "expected/31-swapped-runs.json")
