# Makes expected/27-findings-tables.json: what stands beside means and differences in the findings.
# Base R 4.2.2, no random numbers, so no seed. Run in tests/reference:
#   Rscript make/27-findings-tables.R
read <- function(f) read.csv(file.path("data", f), stringsAsFactors = TRUE)
row <- function(...) { v <- c(...); paste0("{", paste(sprintf('"%s": %s', names(v), format(v, digits = 16, trim = TRUE)), collapse = ", "), "}") }
out <- c(sprintf('"source": "%s; data: MASS::anorexia, PlantGrowth (Dobson 1983), Oats (Yates 1935), Dyestuff (Davies 1949), InsectSprays (Beall 1942)"', R.version.string))
add <- function(name, ...) out <<- c(out, sprintf('"%s": %s', name, row(...)))

# A covariate and a factor, each after the other (least squares, marginal tests).
m <- lm(Postwt ~ Prewt + Treat, read("anorexia.csv")); d <- drop1(m, test = "F")
for (v in c("Prewt", "Treat")) add(paste("anorexia", v), df = d[v, "Df"], F = d[v, "F value"], p = d[v, "Pr(>F)"], dfError = m$df.residual)
s <- summary(m)$coefficients["Prewt", ]; add("anorexia slope", estimate = s[[1]], se = s[[2]], p = s[[4]], lower = confint(m)["Prewt", 1], upper = confint(m)["Prewt", 2])

# Geometric means and ratios, simultaneous after Tukey (TukeyHSD on logarithms).
g <- read("plantgrowth.csv"); l <- lm(log(weight) ~ group, g)
for (k in levels(g$group)) { p <- predict(l, data.frame(group = k), interval = "confidence"); add(paste("geometric", k), mean = exp(p[1]), lower = exp(p[2]), upper = exp(p[3])) }
h <- exp(TukeyHSD(aov(log(weight) ~ group, g))$group)
for (k in rownames(h)) add(paste("ratio", k), ratio = h[k, "diff"], lower = h[k, "lwr"], upper = h[k, "upr"])

# Effect sizes at Tukey's reach q: noncentral t for difference over SD; Fieller for the share, as
# the roots of (a - r b)^2 = q^2 Var(a - r b).
m <- lm(weight ~ group - 1, g); sd <- summary(m)$sigma; df <- m$df.residual; V <- vcov(m); b <- coef(m); lv <- levels(g$group)
q <- qtukey(.95, 3, df) / sqrt(2); tail <- pt(q, df, lower.tail = FALSE)
pairs <- list(c("ctrl", "trt1"), c("ctrl", "trt2"), c("trt1", "trt2"))
for (k in pairs) {
  i <- match(k[1], lv); j <- match(k[2], lv); diff <- b[[i]] - b[[j]]; se <- sqrt(V[i, i] + V[j, j] - 2 * V[i, j]); t <- diff / se
  nc <- function(lower) uniroot(function(x) pt(t, df, x, lower.tail = lower) - tail, c(-30, 30), tol = 1e-13)$root
  gap <- function(r) (b[[i]] - r * b[[j]])^2 - q^2 * (V[i, i] + r^2 * V[j, j] - 2 * r * V[i, j]); r0 <- b[[i]] / b[[j]]
  add(paste("effect", k[1], k[2]), d = diff / sd, dLower = nc(FALSE) * se / sd, dUpper = nc(TRUE) * se / sd, percent = 100 * (r0 - 1),
      percentLower = 100 * (uniroot(gap, c(r0 - 1, r0), tol = 1e-14)$root - 1), percentUpper = 100 * (uniroot(gap, c(r0, r0 + 1), tol = 1e-14)$root - 1))
}

# Variance components from mean squares: df and chi-square interval after Satterthwaite (1946).
component <- function(name, ms, df, n) {
  v <- (ms[1] - ms[2]) / n; f <- v^2 * n^2 / sum(ms^2 / df); add(name, variance = v, df = f, lower = f * v / qchisq(.975, f), upper = f * v / qchisq(.025, f))
  add(paste(name, "residual"), variance = ms[2], df = df[2], lower = df[2] * ms[2] / qchisq(.975, df[2]), upper = df[2] * ms[2] / qchisq(.025, df[2]))
}
o <- read("oats.csv"); names(o) <- tolower(names(o)); resp <- if ("yield" %in% names(o)) "yield" else "y"
for (v in c("block", "variety", "nitro")) o[[v]] <- factor(o[[v]])
a <- summary(aov(as.formula(paste(resp, "~ block + variety * nitro + Error(block:variety)")), o))
ms <- c(tail(a[[1]][[1]][["Mean Sq"]], 1), tail(a[[2]][[1]][["Mean Sq"]], 1)); f <- c(tail(a[[1]][[1]][["Df"]], 1), tail(a[[2]][[1]][["Df"]], 1))
component("oats", ms, f, 4)
d <- read("dyestuff.csv"); names(d) <- tolower(names(d)); a <- anova(lm(yield ~ factor(batch), d)); component("dyestuff", a[["Mean Sq"]], a[["Df"]], 5)

# Counts on units of several rows: logarithms of the units' mean counts. Rows 1-3, 4-6, 7-9, 10-12 of
# each spray are taken as four units.
i <- read("insectsprays.csv"); i$unit <- paste(i$spray, ave(seq_len(nrow(i)), i$spray, FUN = function(x) (seq_along(x) - 1) %/% 3))
u <- aggregate(count ~ spray + unit, i, mean); zero <- any(u$count == 0); n <- 3
u$y <- log(if (zero) u$count + 0.5 / n else u$count)
m <- lm(y ~ spray, u); a <- anova(m); add("counts", zero = as.numeric(zero), F = a[1, "F value"], df = a[1, "Df"], dfError = a[2, "Df"], p = a[1, "Pr(>F)"])
for (k in levels(u$spray)) { p <- predict(m, data.frame(spray = k), interval = "confidence"); add(paste("counts", k), mean = exp(p[1]), lower = exp(p[2]), upper = exp(p[3])) }
# The same with 3 insects fewer each, none below 0, so that some totals are 0; and with the second row of
# each three taken as side b, the others as side a: mean counts per unit and side, units as error of spray.
z <- transform(i, count = pmax(count - 3, 0)); u <- aggregate(count ~ spray + unit, z, mean); stopifnot(any(u$count == 0))
u$y <- log(u$count + 0.5 / n); m <- lm(y ~ spray, u); a <- anova(m)
add("counts of zeros", F = a[1, "F value"], df = a[1, "Df"], dfError = a[2, "Df"], p = a[1, "Pr(>F)"])
for (k in levels(u$spray)) { q <- predict(m, data.frame(spray = k), interval = "confidence"); add(paste("counts of zeros", k), mean = exp(q[1]), lower = exp(q[2]), upper = exp(q[3])) }
i$side <- factor(ifelse(seq_len(nrow(i)) %% 3 == 2, "b", "a")); i$count <- i$count + 1; u <- aggregate(count ~ spray + unit + side, i, mean)
u$unit <- factor(u$unit); a <- summary(aov(log(count) ~ spray * side + Error(unit), u))
for (k in list(c(1, 1, 2), c(2, 1, 3), c(2, 2, 3))) { t <- a[[k[1]]][[1]]; add(paste("counts by side", trimws(rownames(t))[k[2]]), F = t[k[2], "F value"], df = t[k[2], "Df"], dfError = t[k[3], "Df"], p = t[k[2], "Pr(>F)"]) }
writeLines(paste0("{\n", paste(" ", out, collapse = ",\n"), "\n}"), "expected/27-findings-tables.json")
