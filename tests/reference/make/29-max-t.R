# Differences of four media judged by the largest |t| over layouts (single step: Westfall & Young 1993,
# section 2.6), with the pots, covariance and variance parameters of 26-randomisation-ar1.R: each row of
# a tray has one medium; those of trays A and B are moved in all 24 ways each, tray C stays. Base R.
# Run in this folder: Rscript 29-max-t.R (made with R 4.2.2); writes ../expected/29-max-t.json.
source('26-randomisation-ar1.R')
ways <- as.matrix(expand.grid(1:4, 1:4, 1:4, 1:4))
ways <- ways[apply(ways, 1, function(w) length(unique(w)) == 4), ]
media <- c('bark', 'clay', 'coir', 'peat')
rowsOf <- function(orders) factor(unlist(lapply(orders, function(w) rep(media[w], each = 8))), levels = media)
still <- list(c(1, 2, 3, 4), c(3, 1, 4, 2), c(2, 4, 1, 3))
y <- data$y + ifelse(rowsOf(still) == 'peat', 7, 0)
pairs <- combn(4, 2)
tOf <- function(medium) {
  x <- white(cbind(x0, model.matrix(~medium)[, -1]))
  r <- white(y); q <- qr(x); b <- qr.coef(q, r); s2 <- sum(qr.resid(q, r)^2) / (n - ncol(x)); v <- chol2inv(qr.R(q)) * s2
  apply(pairs, 2, function(p) { w <- numeric(6); if (p[1] > 1) w[2 + p[1]] <- 1; w[2 + p[2]] <- w[2 + p[2]] - 1; sum(w * b) / sqrt(drop(t(w) %*% v %*% w)) })
}
# The covariance is that of this response: estimated once, without the media.
data$y <- y
found <- lapply(start, function(s) optim(optim(s, criterion, control = list(maxit = 5000, reltol = 1e-14))$par, criterion, method = 'BFGS', control = list(maxit = 5000, reltol = 1e-15)))
best <- found[[which.min(sapply(found, function(f) f$value))]]
root <- chol(do.call(covariance, as.list(c(tanh(best$par[1:2]), exp(best$par[3:4])))))
observed <- tOf(rowsOf(still))
most <- unlist(lapply(1:24, function(i) sapply(1:24, function(j) max(abs(tOf(rowsOf(list(ways[i, ], ways[j, ], still[[3]]))))))))
near <- sapply(observed, function(t) min(abs(most / abs(t) - 1)[abs(most / abs(t) - 1) > 1e-7]))
rows <- sapply(seq_along(observed), function(k) sprintf('{"a":"%s","b":"%s","t":%.10g,"asExtreme":%d}', media[pairs[1, k]], media[pairs[2, k]], observed[k], sum(most >= abs(observed[k]) * (1 - 1e-9))))
orders <- paste0('[', apply(ways, 1, paste, collapse = ','), ']', collapse = ',')
writeLines(sprintf('{"source":"make/29-max-t.R, %s","layouts":%d,"ways":[%s],"y":[%s],"pairs":[%s]}', R.version.string, length(most), orders, paste(y, collapse = ','), paste(rows, collapse = ',')), '../expected/29-max-t.json')
cat('nearest', min(near), '\n'); print(cbind(t(pairs), observed, sapply(observed, function(t) sum(most >= abs(t)))))
