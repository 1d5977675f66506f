# Mean scores of two media on 12 pots, six each, judged by all 924 ways to lay the media on the pots
# (Fisher's exact permutation test of the difference of two means). Base R.
# Run in this folder: Rscript 33-scores.R (made with R 4.2.2); writes ../expected/33-scores.json.
cases <- list(
  apart = c(2, 3, 2, 1, 3, 2, 4, 3, 5, 4, 3, 4),
  alike = c(2, 3, 4, 1, 3, 2, 4, 3, 2, 4, 3, 4),
  # By t below 0.05, by the permutations above it.
  between = c(4, 1, 2, 1, 5, 1, 3, 4, 5, 5, 4, 4)
)
k <- combn(12, 6)
rows <- sapply(names(cases), function(name) {
  y <- cases[[name]]
  d <- apply(k, 2, function(i) abs(mean(y[i]) - mean(y[-i])))
  as <- sum(d >= d[1] - 1e-9)
  t <- t.test(y[1:6], y[7:12], var.equal = TRUE)$p.value
  sprintf('{"name":"%s","scores":[%s],"means":[%.10g,%.10g],"layouts":%d,"asExtreme":%d,"p":%.10g,"pOfT":%.10g}',
    name, paste(y, collapse = ','), mean(y[1:6]), mean(y[7:12]), ncol(k), as, as / ncol(k), t)
})
writeLines(sprintf('{"source":"make/33-scores.R, %s","cases":[%s]}', R.version.string, paste(rows, collapse = ',')), '../expected/33-scores.json')
cat(rows, sep = '\n')
