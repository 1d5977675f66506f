# Randomisation test with likeness of neighbours: three trays of 4 × 8 pots, two feeds drawn on the
# rows of each tray. The variance parameters are estimated once by REML without the feeds; then the F
# of feed by generalised least squares is computed for all 6^3 = 216 layouts. Base R alone.
# Run in this folder: Rscript 26-randomisation-ar1.R (made with R 4.2.2).
set.seed(26)
data <- expand.grid(column = 1:8, row = 1:4, tray = c('A', 'B', 'C'))
n <- nrow(data)
half <- combn(4, 2)
feedOf <- function(pick) {
  unlist(lapply(1:3, function(b) rep(ifelse(1:4 %in% half[, pick[b]], 'weak', 'strong'), each = 8)))
}
data$feed <- feedOf(c(2, 5, 3))
together <- outer(data$tray, data$tray, '==')
dr <- abs(outer(data$row, data$row, '-'))
dc <- abs(outer(data$column, data$column, '-'))
covariance <- function(rr, rc, spatial, nugget) {
  spatial * rr^dr * rc^dc * together + nugget * diag(n)
}
truth <- covariance(0.7, 0.8, 4, 1)
data$y <- round(20 + drop(t(chol(truth)) %*% rnorm(n)) + ifelse(data$feed == 'weak', 1.6, 0), 2)
x0 <- model.matrix(~tray, data)
criterion <- function(theta) {
  v <- covariance(tanh(theta[1]), tanh(theta[2]), exp(theta[3]), exp(theta[4]))
  root <- chol(v)
  wx <- backsolve(root, x0, transpose = TRUE)
  wy <- backsolve(root, data$y, transpose = TRUE)
  q <- qr(wx)
  2 * sum(log(diag(root))) + 2 * sum(log(abs(diag(qr.R(q))))) + sum(qr.resid(q, wy)^2)
}
start <- list(c(0.5, 0.5, 1, 0), c(1, 1, 1, -1), c(0.2, 1, 0, 0))
found <- lapply(start, function(s) {
  s <- optim(s, criterion, control = list(maxit = 5000, reltol = 1e-14))$par
  optim(s, criterion, method = 'BFGS', control = list(maxit = 5000, reltol = 1e-15))
})
best <- found[[which.min(sapply(found, function(f) f$value))]]
theta <- c(tanh(best$par[1:2]), exp(best$par[3:4]))
root <- chol(do.call(covariance, as.list(theta)))
white <- function(m) backsolve(root, m, transpose = TRUE)
fOf <- function(feed) {
  rss <- function(m) sum(qr.resid(qr(white(m)), white(data$y))^2)
  rss(x0) - rss(cbind(x0, feed == 'weak'))
}
picks <- expand.grid(1:6, 1:6, 1:6)
all <- apply(picks, 1, function(pick) fOf(feedOf(pick)))
observed <- fOf(data$feed)
write.csv(data, '../data/randomisation_ar1.csv', row.names = FALSE, quote = FALSE)
cat(sprintf('rowCorrelation %.6f columnCorrelation %.6f spatial %.6f nugget %.6f\n',
  theta[1], theta[2], theta[3], theta[4]))
cat(sprintf('F %.8f as extreme %d of %d; nearest F %.6f and %.6f\n', observed,
  sum(all >= observed * (1 - 1e-9)), length(all), max(all[all < observed - 1e-6]), min(all[all > observed + 1e-6])))
