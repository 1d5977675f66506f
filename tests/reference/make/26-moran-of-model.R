# Prints Moran's I of least squares residuals with its moments under the model (Cliff & Ord), for
# moranOfModel.test.ts. Run in tests/reference:  Rscript make/26-moran-of-model.R
suppressMessages(library(spdep))
show <- function(f, d, r, c) {
  m <- lm(f, d); dist <- abs(outer(d[[r]], d[[r]], "-")) + abs(outer(d[[c]], d[[c]], "-"))
  lw <- mat2listw((dist == 1) / pmax(1, rowSums(dist == 1)), style = "W")
  t <- lm.morantest(m, lw, alternative = "two.sided"); cat(format(c(t$estimate, p = t$p.value), digits = 15), sep = "\n")
}
d <- read.csv("data/orchardsprays.csv"); print(names(d))
names(d) <- tolower(names(d)); rc <- intersect(c("rowpos", "row", "y"), names(d))[1]; cc <- intersect(c("colpos", "col", "x"), names(d))[1]
show(decrease ~ treatment, d, rc, cc)
show(decrease ~ treatment + factor(d[[rc]]) + factor(d[[cc]]), d, rc, cc)
cat(R.version.string, "spdep", as.character(packageVersion("spdep")), "\n")
