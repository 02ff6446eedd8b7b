# Makes more/edges.json: cases at which the kernel once went wrong, or that no other file
# reaches.  Run from src/test/resources/reference:
#   Rscript ../../reference/more.R
# Debian packages used: r-base-core, r-cran-{survival,jsonlite,numderiv,psych,lme4}.
source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE))), "reflib.R"))
dir.create("more", showWarnings = FALSE)
mt <- function(A) unname(apply(A, 1, arr, simplify = FALSE))
rule <- function(id, method, input, expected, note = NULL, tol = list(abs = 1e-9, rel = 1e-9)) add(id, method, kF("rule in methods.md"), "constructed", input, expected, tol, note)
declined <- list(status = "notEstimable")

# ---- survival: times are compared exactly, whatever their unit ------------------------------
survfit <- function(...) survival::survfit(..., timefix = FALSE)
t9 <- c(3.1, 3.1, 3.2, 4.7, 9.9, 9.9, 12.5, 20.1) * 1e-9; e9 <- c(1, 0, 1, 1, 1, 1, 0, 1)
add("km-nano", "kaplan_meier", kR("survival"), "constructed; survfit(timefix = FALSE)", list(time = arr(t9), event = arr(e9), confidence = .9), ref_km(t9, e9, .9), note = "By default survfit takes times that differ by less than about 1e-8 for ties.")
g9 <- c("b", "a", "a", "b", "c", "a", "c", "b")
add("logrank-nano", "logrank", kR("survival"), "constructed; the same times in another unit", list(time = arr(t9), event = arr(e9), group = arr(g9), rho = 1), ref_logrank(t9 * 1e9, e9, g9, 1))

# ---- Weibull ----------------------------------------------------------------------------------
fl <- c(0, 3, 0, 0, 0, .83); fr <- c(.97, Inf, 3, 1.27, 2, Inf)
add("weibull-flat-current-status", "weibull_aft", kR("survival"), "constructed", ic_input(fl, fr), { e <- ref_weibull(fl, fr); e[c("coefficients", "logScale", "scale", "stdErr", "stdErrLogScale", "logLikelihood")] }, list(abs = 1e-6, rel = 1e-4), "Almost nothing is known: the maximum lies at a scale of about 12, where a full Newton step from the moments jumps over it.")
rule("weibull-separated-group", "weibull_aft", c(ic_input(c(0, 0, .94, 0, 1.01), c(1, 1.54, Inf, 1.61, Inf)), list(names = arr("a"), covariates = mt(cbind(c(0, 1, 0, 1, 0))))), declined, "Group a was never seen present: its time ratio falls without end.")
rule("weibull-plateau", "weibull_aft", ic_input(c(1.1, 2, 0), c(Inf, Inf, 2)), declined, "The likelihood rises to 1/4 as the scale falls to 0.")

# ---- proportions ------------------------------------------------------------------------------
for (s in list(c(3, 7))) rule(sprintf("raoscott-equal-shares-%d-%d", s[1], s[2]), "rao_scott_test", list(x = arr(c(s[1] * c(1, 2, 3, 5), 1, 3)), n = arr(c(s[2] * c(1, 2, 3, 5), 4, 5)), group = arr(rep(c("a", "b"), c(4, 2)))), declined, "All patients of group a have the same share: no variance, and no effective size.")

# ---- CUSUM ------------------------------------------------------------------------------------
ps <- c(1e-9, .5, .999, .999999); for (o in c(1e-6, 1e6)) { w <- t(vapply(ps, function(p) unlist(cusum_w(p, o)), c(0, 0))); add(paste0("cusum-weights-or-", o), "cusum_weights", kF(), "definition", list(p = arr(ps), oddsRatio = o), list(event = arr(w[, 1]), noEvent = arr(w[, 2])), list(abs = 1e-12, rel = 1e-12)) }
h <- h_for_arl(.1, 2, 1e12); add("cusum-h-rare-alarms", "cusum_threshold", kF("exact renewal computation over reachable states"), "definition", list(p = .1, oddsRatio = 2, targetArl = 1e12, step = .01), list(h = h, inControlArl = arl_exact(.1, 2, h)), list(abs = 1e-9, rel = 1e-6), "Doubling passes thresholds whose run length is beyond all computing.")

# ---- agreement --------------------------------------------------------------------------------
for (w in c("identity", "quadratic")) { d <- c(7, 11, 3); rule(paste0("kappa-perfect-", paste(d, collapse = "-"), "-", w), "kappa", list(table = mt(diag(d)), weights = w, confidence = .95), list(kappa = 1, stdErr = 0, lower = 1, upper = 1)) }
x <- matrix(c(2, 3, 3, 2, 1, 2), 2); e <- ref_icc(x, .99); p <- psych::ICC(x, lmer = FALSE, alpha = .01)$results; near(c(e$icc21, e$lower, e$upper), as.numeric(p[2, c("ICC", "lower bound", "upper bound")]), 1e-8, "psych")
add("icc-two-subjects", "icc21", paste0(kF("mean squares formulas"), ", checked against ", kR("psych")), "constructed", list(ratings = mt(x), confidence = .99), e, note = "Satterthwaite's degrees of freedom are 0.24, and the upper F quantile 1e20.")
x <- matrix(c(31, 47, 55, 62, 33, 46, 58, 66, 36, 51, 57, 71), 4); e <- ref_icc(x); add("icc-far-from-zero", "icc21", kF("mean squares formulas on the ratings less 1e9"), "constructed", list(ratings = mt(1e9 + x), confidence = .95), e, note = "An ICC does not depend on the origin of the scale.")

# ---- trends -----------------------------------------------------------------------------------
none <- list(slope = 0, slopeLower = NA, slopeUpper = NA, kendallS = 0, kendallVar = 0, z = NA, pValue = NA, tauB = NA)
for (n in c(5, 8)) rule(paste0("theilsen-constant-y-tied-x-", n), "theil_sen", list(x = arr(c(rep(1, n - 2), 2, 3)), y = arr(rep(4.5, n)), confidence = .95), none, "The terms of the variance cancel; it must come out as exactly 0.")

# Balanced one-way layouts have closed REML estimates: the mean squares within and between groups.
oneway <- function(id, dev, mid, origin, note) { k <- nrow(dev); G <- ncol(dev); W <- sum((dev - rep(colMeans(dev), each = k))^2) / (G * (k - 1)); m <- mid + colMeans(dev); B <- k * sum((m - mean(m))^2) / (G - 1); N <- G * k
  y <- rep(mid, each = k) + as.vector(dev); crit <- (N - 1) * log(2 * pi) + G * (k - 1) * log(W) + (G - 1) * log(B) + log(N) + (N - 1)
  add(id, "random_intercept_reml", kF("closed form from the analysis of variance"), "Searle, Casella, McCulloch 1992, Variance Components, section 4.7", list(y = arr(origin + y), covariates = NULL, names = arr(character(0)), group = arr(rep(letters[1:G], each = k))),
      list(coefficients = arr(origin + mean(m)), stdErr = arr(sqrt(B / N)), varResidual = W, varIntercept = (B - W) / k, icc = (B - W) / k / ((B - W) / k + W), remlCriterion = crit, logLikelihoodReml = -crit / 2, singular = FALSE, dfSatterthwaite = arr(G - 1)), list(abs = 0, rel = 1e-5, dfSatterthwaite = list(abs = 0, rel = 5e-3)), note) }
dev <- matrix(c(-2, 1, 0, 3, -1, -1, 2, 0, 1, -3, 2, 1), 4); oneway("reml-groups-far-apart", dev, c(0, 50000, 130000), 0, "The ratio of the standard deviations is about 40 000.")
oneway("reml-far-from-zero", dev / 128, c(0, .0625, .03125), 100, "Spread of 0.01 around 100.")

# ---- robust errors: a patient who alone determines a coefficient leaves nothing to judge it by
y <- c(1.3, -.2, 2.1, 1.9, -.8, 1.8, 2, 1.2, 1.5, -.8); a <- c(-1.3, -1.6, .4, -.3, 0, -1.2, .9, -.1, -.6, .3); b <- rep(1:0, c(9, 1)); f <- lm(y ~ a + b)
rule("robust-nothing-left", "cluster_robust", list(y = arr(y), covariates = mt(cbind(a, b)), names = arr(c("a", "b")), cluster = arr(rep(c("p", "q"), c(9, 1)))), list(coefficients = arr(coef(f)), clusters = 2, n = 10, seCR2 = arr(c(0, 0, 0)), dfCR2 = arr(rep(NA_real_, 3)), pCR2 = arr(rep(NA_real_, 3))))

# ---- ordinal ----------------------------------------------------------------------------------
for (g in 0:1) add(paste0("rgl-one-group-", g), "clustered_rank_sum", kF("Rosner-Glynn-Lee formulas"), "constructed", list(x = arr(c(2, 1, 3, 3)), cluster = arr(c(1, 1, 2, 3)), group = arr(rep(g, 4))), ref_rgl(c(2, 1, 3, 3), c(1, 1, 2, 3), rep(g, 4)), note = "Nothing can vary: variance 0, z and p null.")

# ---- distribution functions -------------------------------------------------------------------
ds <- function(fn, args, v) add(paste0("far-", fn, "-", paste(unlist(args), collapse = "-")), "distribution", kR("stats"), "R stats distribution functions", c(list(fn = fn), args), list(value = v), list(abs = 0, rel = 1e-10))
for (q in list(c(.999999999, 1), c(.999999999, 2), c(.999999999, 30.7), c(1e-12, 1.5))) ds("tQuantile", list(p = q[1], df = q[2]), qt(q[1], q[2]))
for (q in list(c(.9999, 1, 1), c(.9999, 30, 1), c(.9999, 1, .7))) ds("fQuantile", list(p = q[1], df1 = q[2], df2 = q[3]), qf(q[1], q[2], q[3]))
for (q in list(c(.99999999, .5, 8), c(1e-10, 2, 3), c(1e-10, .1, .1))) ds("betaQuantile", list(p = q[1], a = q[2], b = q[3]), qbeta(q[1], q[2], q[3]))
for (q in list(c(1300, 3), c(500, .1))) ds("chiSquareSf", list(x = q[1], df = q[2]), pchisq(q[1], q[2], lower.tail = FALSE)); ds("normalSf", list(x = 37), pnorm(37, lower.tail = FALSE)); ds("tSf", list(x = 1e6, df = 10), pt(1e6, 10, lower.tail = FALSE)); ds("binomialCdf", list(k = 1, n = 100000, p = .001), pbinom(1, 100000, .001))
flush_cases("more/edges.json", "Edges and far ends")
