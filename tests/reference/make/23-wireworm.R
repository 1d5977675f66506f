# Redoes the figures of fit/wireworm-counts with glm iterated to 1e-14: at its default of 1e-8 the
# standard errors belong to the weights of the last step but one, up to 4e-5 short of their limit.
# Run in tests/reference:  Rscript make/23-wireworm.R
suppressMessages({library(jsonlite); library(car); library(emmeans)})
dir <- "fit/wireworm-counts"
old <- fromJSON(file.path(dir, "expected.json"), simplifyVector = FALSE)
d <- read.csv(file.path(dir, "table.csv"), stringsAsFactors = TRUE)
d$row <- factor(d$row); d$col <- factor(d$col)
tight <- glm.control(epsilon = 1e-14, maxit = 200)
m <- glm(worms ~ row + col + trt, poisson, d, control = tight)
e <- summary(emmeans(m, "trt"), infer = c(TRUE, FALSE))
old$expected$means[[1]]$rows <- lapply(old$expected$means[[1]]$rows, function(r) {
  i <- match(r$trt, e$trt)
  r$mean <- e$emmean[i]; r$se <- e$SE[i]; r$lower <- e$asymp.LCL[i]; r$upper <- e$asymp.UCL[i]
  if (!is.null(r$backTransformed)) r$backTransformed <- exp(e$emmean[i])
  r
})
old$computed_by <- "glm(worms ~ row+col+trt, poisson, epsilon = 1e-14); car::Anova(type=2, test='LR'); emmeans on the log scale; dispersion = Pearson/df"
writeLines(toJSON(old, auto_unbox = TRUE, null = "null", digits = I(17), pretty = TRUE), file.path(dir, "expected.json"))
