# Regenerates every case file in cases/ and the package-derived data sets in
# datasets/.  Run from src/test/resources/reference:
#   Rscript ../../reference/regenerate.R
# Debian packages used: r-base-core, r-cran-{survival,npsurv,kmsurv,jsonlite,
# lme4,lmertest,nlme,clubsandwich,sandwich,survey,psych,vcd,epi,numderiv,mass}.
source(file.path(dirname(sub("^--file=", "", grep("^--file=", commandArgs(), value = TRUE))), "reflib.R"))
suppressPackageStartupMessages({ library(KMsurv); library(MASS) })
dir.create("cases", showWarnings = FALSE); dir.create("datasets", showWarnings = FALSE)
half <- function(d) list(abs = 0.5 * 10^-d + 1e-9, rel = 0)          # half a unit in the last printed place
wr <- function(d, f) write.csv(d, file.path("datasets", f), row.names = FALSE, quote = FALSE, na = "")

# ---- data ---------------------------------------------------------------
data(drug6mp); sixmp <- data.frame(time = c(drug6mp$t2, drug6mp$t1), event = c(drug6mp$relapse, rep(1, 21)), group = rep(c("6-MP", "placebo"), each = 21)); wr(sixmp, "freireich-6mp.csv")
aml <- survival::aml; wr(data.frame(time = aml$time, event = aml$status, group = tolower(as.character(aml$x))), "aml.csv")
data(larynx); wr(data.frame(time = larynx$time, event = larynx$delta, stage = larynx$stage, age = larynx$age), "larynx.csv")
cosm <- read.csv("datasets/breast-cosmesis.csv"); cosm$right[is.na(cosm$right)] <- Inf
rats <- read.csv("datasets/weil-rats.csv"); antibio <- read.csv("datasets/antibio.csv")
sleep <- lme4::sleepstudy; wr(data.frame(subject = sleep$Subject, days = sleep$Days, reaction = sleep$Reaction), "sleepstudy.csv")
oats <- MASS::oats; oats$nitro <- as.numeric(sub("cwt", "", oats$N)); wr(data.frame(block = oats$B, variety = oats$V, nitro = oats$nitro, yield = oats$Y), "oats.csv")
sf <- matrix(c(9,2,5,8, 6,1,3,2, 8,4,6,8, 7,1,2,6, 10,5,6,9, 6,2,4,7), 6, byrow = TRUE); wr(data.frame(subject = 1:6, judge1 = sf[,1], judge2 = sf[,2], judge3 = sf[,3], judge4 = sf[,4]), "shrout-fleiss.csv")
srcFrei <- "Freireich et al. 1963, Blood 21:699-716; Gehan 1965, Biometrika 52:203-223; data via KMsurv::drug6mp"
srcAml <- "Miller 1981, Survival Analysis, p. 49; data via survival::aml"
srcCos <- "Finkelstein & Wolfe 1985, Biometrics 41:933-945; data as in bcos of CRAN interval 1.1-1.0 (94 women)"
srcLar <- "Kardaun 1983, Statistica Neerlandica 37:103-126; data via KMsurv::larynx"

idx <- list(list(file = "freireich-6mp.csv", source = srcFrei, kind = kR("KMsurv"), columns = "time (weeks), event 1/0, group"),
  list(file = "aml.csv", source = srcAml, kind = kR("survival"), columns = "time (weeks), event 1/0, group"),
  list(file = "larynx.csv", source = srcLar, kind = kR("KMsurv"), columns = "time, event 1/0, stage 1-4, age"),
  list(file = "breast-cosmesis.csv", source = srcCos, kind = "published table, transcribed from the bcos data of CRAN interval 1.1-1.0", columns = "left, right (empty = right censored), group; months; half-open (left,right]", note = "Copies of this table in circulation differ in a few endpoints: npsurv::cancer and KMsurv::bcdeter each differ from it in a handful of rows. This copy is the one behind the published p values and masses used here."),
  list(file = "weil-rats.csv", source = "Weil 1970, Food and Cosmetics Toxicology 8:177-182; Williams 1975, Biometrics 31:949-952", kind = "published table, transcribed from CRAN aod", columns = "group, n = litter size, x = pups surviving 21 days"),
  list(file = "antibio.csv", source = "Shoukri & Pause 1999, Statistical Methods for Health Sciences, Table 3.11", kind = "published table, transcribed from CRAN aod", columns = "group, n, x per cluster"),
  list(file = "sleepstudy.csv", source = "Belenky et al. 2003, J. Sleep Research 12:1-12", kind = kR("lme4"), columns = "subject, days, reaction (ms)"),
  list(file = "oats.csv", source = "Yates 1935, JRSS Supplement 2:181-247", kind = kR("MASS"), columns = "block, variety, nitro, yield"),
  list(file = "shrout-fleiss.csv", source = "Shrout & Fleiss 1979, Psychological Bulletin 86:420-428, Table 2", kind = "published table", columns = "subject, judge1..judge4"))
writeLines(toJSON(list(datasets = idx), auto_unbox = TRUE, pretty = TRUE), "datasets/index.json")

# ---- 1 Kaplan-Meier -------------------------------------------------------
M <- "kaplan_meier"; ksurv <- kR("survival")
km <- function(id, t, e, src, conf = .95, note = NULL) add(id, M, ksurv, src, list(time = arr(t), event = arr(e), confidence = conf), ref_km(t, e, conf), note = note)
g1 <- sixmp[sixmp$group == "6-MP", ]; g2 <- sixmp[sixmp$group == "placebo", ]
km("km-6mp", g1$time, g1$event, srcFrei)
f <- ref_km(g1$time, g1$event); ev <- f$nEvent > 0; pub <- c(.857,.807,.753,.690,.627,.538,.448); pse <- c(.0764,.0869,.0963,.1068,.1141,.1282,.1346)
near(round(f$survival[ev], 3), pub, 1e-9, "published KM"); near(round(f$stdErr[ev], 4), pse, 1e-9, "published Greenwood")
add("km-6mp-published", M, "published table", "Klein & Moeschberger 2003, Survival Analysis 2nd ed., product-limit table for the 6-MP arm (values from memory, each verified with R survival)",
    list(time = arr(g1$time), event = arr(g1$event), confidence = .95, compareOnlyEventTimes = TRUE), list(time = arr(f$time[ev]), survival = arr(pub), stdErr = arr(pse), median = 23), list(abs = 5.1e-4, rel = 0, stdErr = list(abs = 5.1e-5, rel = 0)), "Only rows with at least one event are listed.")
km("km-6mp-placebo-no-censoring", g2$time, g2$event, srcFrei)
m <- aml$x == "Maintained"; km("km-aml-maintained", aml$time[m], aml$status[m], srcAml); km("km-aml-nonmaintained", aml$time[!m], aml$status[!m], srcAml)
near(c(ref_km(aml$time[m], aml$status[m])$median, ref_km(aml$time[!m], aml$status[!m])$median), c(31, 23), 1e-9, "aml medians")
km("km-aml-pooled-conf90", aml$time, aml$status, srcAml, .90)
synth <- "constructed edge case"
km("km-edge-all-censored", c(3, 5, 5, 9), c(0, 0, 0, 0), synth, note = "Survival stays 1, stdErr 0, limits null, median null.")
km("km-edge-single-event", 4, 1, synth); km("km-edge-single-censored", 4, 0, synth)
km("km-edge-event-and-censor-tied", c(1, 2, 2, 2, 3, 3, 4), c(1, 1, 1, 0, 0, 1, 0), synth, note = "Events at a time come before censorings at that time.")
km("km-edge-half-exactly", c(1, 2, 3, 4, 5, 6, 7, 8), c(1, 1, 1, 1, 1, 1, 1, 1), synth, note = "S hits 0.5 exactly at 4, so the median is the midpoint 4.5.")
km("km-edge-half-then-censored", c(1, 2, 3, 4), c(1, 1, 0, 0), synth, note = "S=0.5 at time 2 and never falls below it: the median is 2, no midpoint.")
km("km-edge-all-tied", c(5, 5, 5), c(1, 1, 1), synth)
flush_cases("cases/01-kaplan-meier.json", "Kaplan-Meier, Greenwood, log-log limits, median")

# ---- 2 Turnbull -------------------------------------------------------------
M <- "turnbull_npmle"; tolT <- list(abs = 1e-6, rel = 1e-8, logLikelihood = list(abs = 1e-6, rel = 0))
kT <- paste0("independent EM/ICM + Newton in R with KKT certificate, cross-checked with ", kR("npsurv"))
tbc <- function(id, L, R, at, src, wt = NULL, full = TRUE, check = TRUE, note = NULL, tol = tolT) {
  w <- if (is.null(wt)) rep(1, length(L)) else wt; e <- ref_npmle(L, R, at, w, full, check); inp <- ic_input(L, R); if (!is.null(wt)) inp$count <- arr(wt)
  add(id, M, kT, src, inp, e, tol, note); invisible(attr(e, "fit")) }
rt <- cosm[cosm$group == "radiotherapy", ]; rc <- cosm[cosm$group != "radiotherapy", ]; at <- c(0, 4, 5, 6.5, 8, 11.5, 18.5, 24, 30, 33.5, 40, 45, 48, 50, 60)
f1 <- tbc("npmle-cosmesis-rt", rt$left, rt$right, at, srcCos); f2 <- tbc("npmle-cosmesis-rct", rc$left, rc$right, at, srcCos); tbc("npmle-cosmesis-pooled", cosm$left, cosm$right, at, srcCos)
pub1 <- c(.0463,.0334,.0887,.0708,.0926,.0818,.1209,.4656); pub2 <- c(.0433,.0433,.0692,.1454,.1411,.1157,.0999,.0709,.1608,.0552,.0552)
k1 <- f1$mass > 1e-9; k2 <- f2$mass > 1e-9; near(round(f1$mass[k1], 4), pub1, 1e-9, "published masses RT"); near(round(f2$mass[k2], 4), pub2, 1e-9, "published masses RCT")
srcFS <- "Fay & Shaw 2010, J. Statistical Software 36(2), section 4.1 (Turnbull intervals and masses for each arm)"
add("npmle-cosmesis-rt-published", M, "published table", srcFS, ic_input(rt$left, rt$right), list(support = list(left = arr(f1$q[k1]), right = arr(f1$p[k1]), mass = arr(pub1))), half(4))
add("npmle-cosmesis-rct-published", M, "published table", srcFS, ic_input(rc$left, rc$right), list(support = list(left = arr(f2$q[k2]), right = arr(f2$p[k2]), mass = arr(pub2))), half(4))
near(tb_em(rt$left, rt$right)$mass, f1$mass, 1e-5, "EM = Newton")
tbc("npmle-equals-km-when-right-censored", g1$time, ifelse(g1$event == 1, g1$time, Inf), c(0, 6, 10, 22.5, 23, 35, 40), srcFrei, note = "Exact and right-censored data only: the NPMLE is the Kaplan-Meier estimate; the mass left after the last event sits on (35,Inf).")
tbc("npmle-current-status", c(0, 0, 0, 0, 7, 7, 14, 14, 21, 21), c(7, 14, 14, 21, Inf, Inf, Inf, Inf, Inf, 28), c(3, 7, 10, 14, 21, 28), synth)
tbc("npmle-edge-ties-exact-left-right", c(0, 4, 5, 5), c(5, 5, 5, 8), c(4, 4.5, 5, 6, 8), synth, note = "The exact 5 lies inside (0,5] and (4,5] but not inside (5,8]: support is the point 5 and (5,8].")
tbc("npmle-edge-abutting", c(0, 1, 2, 5), c(1, 2, 5, Inf), c(0, 1, 1.5, 2, 5, 9), synth, note = "Abutting half-open intervals do not overlap. F is exactly 0.5 after (1,2], so the median set is (1,5].")
tbc("npmle-edge-identical", rep(2, 5), rep(6, 5), c(1, 2, 4, 6), synth)
tbc("npmle-edge-single", 3, 9, c(3, 5, 9), synth); tbc("npmle-edge-single-left-censored", 0, 9, c(0, 5, 9), synth); tbc("npmle-edge-single-exact", 4, 4, c(3, 4, 5), synth)
tbc("npmle-edge-all-right-censored", c(3, 7, 9), rep(Inf, 3), c(3, 7, 9, 20), synth, check = FALSE, note = "All mass on (9,Inf): S(t)=1 up to 9 and unknown after it. Median lower 9, upper null.")
tbc("npmle-edge-all-left-censored", c(0, 0, 0), c(4, 6, 9), c(0, 2, 4, 6, 9), synth, note = "All mass on (0,4].")
tbc("npmle-edge-noninformative", c(0, 0, 3, 5), c(Inf, Inf, 8, 6), c(3, 5, 6, 8), synth, check = FALSE, note = "(0,Inf) carries no information and must not change the estimate.")
tbc("npmle-edge-all-exact-with-ties", c(2, 2, 3, 7, 7, 7), c(2, 2, 3, 7, 7, 7), c(1, 2, 3, 5, 7), synth)
tbc("npmle-edge-zero-mass", c(8, 0, 3, 7, 2, 9, 1, 5, 2), c(11, 4, 5, 11, 6, 13, 9, 12, 7), c(3, 3.5, 4, 5, 8, 10, 11), synth, note = "Two of four innermost intervals get zero mass at the maximum (KKT strict there).")
tbc("npmle-edge-zero-mass-degenerate", c(2, 8, 8, 5, 5, 6, 9, 6), c(5, 11, 11, 8, 9, 8, 16, 14), c(2, 3, 5, 6, 7, 8, 8.5, 9, 11), synth, tol = list(abs = 2e-3, rel = 0, logLikelihood = list(abs = 1e-6, rel = 0)), note = "(8,9] has zero mass and its KKT condition holds with equality, so plain EM approaches zero only like 1/iterations (13 000 iterations for 1e-8); a Newton or ICM step lands on it. The tolerance is wide for that reason; exact masses are 1/8, 7/16, 0, 7/16.")
seed(11); d <- (function(n) { T <- rweibull(n, 1.3, 30); v <- t(apply(matrix(runif(n * 6, 5, 21), n), 1, function(g) round(cumsum(g)))); j <- rowSums(v < T); data.frame(L = ifelse(j == 0, 0, v[cbind(1:n, pmax(j, 1))]), R = ifelse(j == 6, Inf, v[cbind(1:n, pmin(j + 1, 6))])) })(60)
tbc("npmle-simulated-60", d$L, d$R, c(0, 7, 14, 21, 28, 42, 60, 90), "simulated, R seed 11")
cnt <- c(12, 30, 25, 9, 4, 3, 17); tbc("npmle-grouped-counts", c(0, 7, 14, 28, 42, 0, 28), c(7, 14, 28, 42, 60, 14, Inf), c(7, 14, 28, 35, 42, 60), synth, wt = cnt, note = "'count' is the number of identical observations.")
add("npmle-invalid-left-after-right", M, kF("rule in methods.md"), synth, list(left = arr(c(3, 8)), right = arr(c(5, 6))), list(status = "invalidInput"))
add("npmle-empty", M, kF("rule in methods.md"), synth, list(left = arr(numeric(0)), right = arr(numeric(0))), list(status = "notEstimable"))
flush_cases("cases/02-turnbull-npmle.json", "Interval-censored NPMLE (Turnbull)")

# ---- 3 bootstrap -------------------------------------------------------------
M <- "quantile"; qs <- function(id, x, p, src = synth) add(id, M, kR("stats"), src, list(x = arr(x), p = arr(p)), list(type7 = arr(quantile(x, p, type = 7, names = FALSE)), median = median(x)), list(abs = 1e-12, rel = 1e-12))
qs("quantile-small", c(3, 1, 4, 1, 5), c(0, .1, .25, .5, .75, .9, 1)); qs("quantile-single", 7, c(0, .5, 1)); qs("quantile-even", c(10, 2, 8, 4), c(.025, .5, .975))
M <- "cluster_bootstrap_percentile"
bt <- function(id, cl, statname, stat, src = synth, note = NULL) { ex <- boot_exact(cl, stat); B <- 1999; dl <- 4 * sqrt(.025 * .975 / B); o <- function(p) qdisc(ex$v, ex$w, p); mu <- sum(ex$v * ex$w); sd <- sqrt(sum(ex$w * (ex$v - mu)^2))
  add(id, M, kF("exact enumeration of all cluster resamples"), src, list(clusters = lapply(cl, arr), statistic = statname, confidence = .95, replicates = B), list(estimate = stat(unlist(cl)), exactBootstrapMean = mu, exactBootstrapSd = sd, lowerLimitBracket = arr(o(c(max(.025 - dl, 1e-9), .025 + dl))), upperLimitBracket = arr(o(c(.975 - dl, min(1, .975 + dl)))), sdBracket = arr(sd * c(.9, 1.1)), supportMin = min(ex$v), supportMax = max(ex$v)), note = note) }
bt("boot-mean-5", list(c(1, 2), c(3), c(2, 5, 4), c(0, 1), c(6, 2)), "pooled mean", mean, note = "The Monte-Carlo limits from any seed must fall inside the brackets (four Monte-Carlo standard errors) and the replicate SD inside sdBracket.")
bt("boot-median-6", list(c(10, 12, 15), c(20), c(14, 14), c(9, 30), c(16), c(11, 18, 21)), "pooled median (type 7)", median)
bt("boot-proportion-6", list(c(0, 0, 1), c(0, 0), c(1, 1), c(0), c(0, 1), c(0, 0, 0, 0)), "pooled mean", mean)
bt("boot-constant", list(c(3, 3), 3, c(3, 3, 3)), "pooled mean", mean, note = "Zero-width interval.")
add("boot-single-cluster", M, kF("rule in methods.md"), synth, list(clusters = list(arr(c(1, 2, 3))), statistic = "pooled mean", confidence = .95, replicates = 1999), list(status = "notEstimable"))
add("boot-percentile-ranks", "percentile_ranks", kF("rule in methods.md"), "Davison & Hinkley 1997, Bootstrap Methods and their Application, section 5.2", list(cases = list(list(replicates = 1999, confidence = .95), list(replicates = 999, confidence = .9), list(replicates = 1000, confidence = .95), list(replicates = 39, confidence = .95), list(replicates = 30, confidence = .95))),
    list(lowerRank = arr(c(50, 50, 25, 1, NA)), upperRank = arr(c(1950, 950, 976, 39, NA))), note = "1-based ranks: k = floor((B+1)*alpha/2) and B+1-k; null when k is 0.")
flush_cases("cases/03-bootstrap.json", "Quantiles and the cluster bootstrap", list(properties = c("Same data, statistic, seed and replicate count give bit-identical limits, whatever the order in which patients are supplied (sort by patient identifier before resampling).",
  "Whole patients are drawn, G out of G with replacement; a patient's lesions are never split.", "The point estimate is computed on the original data, not averaged over replicates.", "A replicate for which the statistic is undefined is dropped and counted; the interval is null when more than 5 % are dropped.", "Adding a constant to all data shifts the limits of a mean or median by that constant under the same seed.", "lower <= upper, and both lie within the range of values the statistic can take.")))

# ---- 4 Weibull AFT -------------------------------------------------------------
M <- "weibull_aft"; tolW <- list(abs = 1e-6, rel = 1e-6)
wb <- function(id, L, R, X = NULL, nm = character(0), pred = NULL, src, note = NULL, tol = tolW) { inp <- ic_input(L, R, names = arr(nm)); if (!is.null(X)) inp$covariates <- unname(apply(as.matrix(X), 1, arr, simplify = FALSE)); inp$predictAt <- lapply(pred, function(q) list(x = arr(q$x), t0 = q$t0, d = q$d)); inp$confidence <- .95
  add(id, M, ksurv, src, inp, ref_weibull(L, R, X, nm, pred), tol, note) }
wb("weibull-6mp", sixmp$time, ifelse(sixmp$event == 1, sixmp$time, Inf), (sixmp$group == "6-MP") * 1, "sixMercaptopurine", list(list(x = 0, t0 = 0, d = 8), list(x = 1, t0 = 0, d = 23), list(x = 1, t0 = 10, d = 23)), srcFrei)
XL <- cbind(larynx$stage == 2, larynx$stage == 3, larynx$stage == 4, larynx$age) * 1; LR <- ifelse(larynx$delta == 1, larynx$time, Inf)
wb("weibull-larynx", larynx$time, LR, XL, c("stage2", "stage3", "stage4", "age"), list(list(x = c(0, 0, 0, 65), t0 = 0, d = 5), list(x = c(0, 0, 1, 65), t0 = 1, d = 2)), srcLar)
w <- ref_weibull(larynx$time, LR, XL, c("stage2", "stage3", "stage4", "age")); pc <- c(3.5288, -.1477, -.5866, -1.5441, -.0175); ps <- .8848      # quoted, then required of R
near(c(round(w$coefficients, 4), round(w$scale, 4)), c(pc, ps), 1e-9, "larynx published")
add("weibull-larynx-published", M, "published table", "Klein & Moeschberger 2003, chapter 12, larynx cancer Weibull AFT fit (values from memory, each verified with R survival)", list(sameInputAs = "weibull-larynx"), list(coefficients = arr(pc), scale = ps), half(4))
wb("weibull-cosmesis", cosm$left, cosm$right, (cosm$group != "radiotherapy") * 1, "chemotherapy", list(list(x = 0, t0 = 0, d = 24), list(x = 1, t0 = 0, d = 24), list(x = 1, t0 = 12, d = 24), list(x = 0, t0 = 36, d = 48)), srcCos)
wb("weibull-cosmesis-intercept", cosm$left, cosm$right, NULL, character(0), list(list(x = numeric(0), t0 = 0, d = 12), list(x = numeric(0), t0 = 30, d = 31)), srcCos)
wb("weibull-all-kinds", c(5, 9, 0, 0, 3, 10, 12, 20, 7, 0, 15, 6), c(5, 9, 4, 12, 8, 18, Inf, Inf, 7, 20, 30, Inf), NULL, character(0), list(list(x = numeric(0), t0 = 0, d = 10), list(x = numeric(0), t0 = 10, d = 20)), synth, "Exact, left-, right- and interval-censored together.")
seed(21); n <- 250; x1 <- rbinom(n, 1, .4); x2 <- round(rnorm(n), 2); T <- exp(3.2 + .35 * x1 - .25 * x2 + .7 * log(rexp(n))); v <- t(apply(matrix(runif(n * 5, 5, 25), n), 1, function(g) round(cumsum(g)))); j <- rowSums(v < T)
wb("weibull-simulated-250", ifelse(j == 0, 0, v[cbind(1:n, pmax(j, 1))]), ifelse(j == 5, Inf, v[cbind(1:n, pmin(j + 1, 5))]), cbind(x1, x2), c("x1", "x2"), list(list(x = c(1, .5), t0 = 14, d = 28)), "simulated, R seed 21")
for (z in list(list("all-right-censored", c(3, 7, 9), rep(Inf, 3)), list("single-observation", 3, 9), list("one-exact-value", c(4, 4, 4), c(4, 4, 4)))) add(paste0("weibull-", z[[1]]), M, kF("rule in methods.md"), synth, ic_input(z[[2]], z[[3]]), list(status = "notEstimable"))
flush_cases("cases/04-weibull-aft.json", "Weibull accelerated failure time regression")

# ---- 5 log-rank -------------------------------------------------------------
M <- "logrank"; lr <- function(id, t, e, g, src, rho = 0, note = NULL) add(id, M, ksurv, src, list(time = arr(t), event = arr(e), group = arr(as.character(g)), rho = rho), ref_logrank(t, e, g, rho), note = note)
lr("logrank-6mp", sixmp$time, sixmp$event, sixmp$group, srcFrei); lr("logrank-aml", aml$time, aml$status, aml$x, srcAml); lr("logrank-larynx-4-groups", larynx$time, larynx$delta, larynx$stage, srcLar); lr("logrank-larynx-rho1", larynx$time, larynx$delta, larynx$stage, srcLar, 1, "rho=1 weights each time by S(t-), pooled Kaplan-Meier (Peto-Peto / G-rho).")
near(round(ref_logrank(sixmp$time, sixmp$event, sixmp$group)$chiSquare, 2), 16.79, 1e-9, "logrank 6mp")
add("logrank-6mp-published", M, "published table", "log-rank chi-square 16.79 for the 6-MP trial, quoted in Klein & Moeschberger and many texts (from memory, verified with R survival)", list(sameInputAs = "logrank-6mp"), list(chiSquare = 16.79), half(2))
add("logrank-edge-no-events", M, kF("rule in methods.md"), synth, list(time = arr(2:5), event = arr(rep(0, 4)), group = arr(c("a", "a", "b", "b")), rho = 0), list(status = "notEstimable"))
lr("logrank-edge-tied", c(1, 1, 2, 2, 2, 3, 3), c(1, 1, 1, 0, 1, 1, 1), c("a", "b", "a", "b", "b", "a", "b"), synth)
M <- "ic_logrank"; kS <- kF("Sun / Finkelstein / Wilcoxon scores on the pooled NPMLE, permutation variance"); tolS <- list(abs = 1e-5, rel = 1e-6)
icl <- function(id, L, R, g, src, note = NULL) for (s in c("sun", "finkelstein", "wilcoxon")) { e <- ref_iclogrank(L, R, g, s); if (length(L) > 40) e$scoreVector <- NULL; add(paste0(id, "-", s), M, kS, src, ic_input(L, R, group = arr(g), scores = s), e, tolS, note) }
icl("iclogrank-cosmesis", cosm$left, cosm$right, cosm$group, srcCos)
pubI <- list(sun = c(-9.141846, -2.6684, .007622), finkelstein = c(-9.944182, -2.6839, .007277), wilcoxon = c(-5.656724, -2.1672, .03022))
for (s in names(pubI)) { e <- ref_iclogrank(cosm$left, cosm$right, cosm$group, s); near(c(round(e$score[1], 5), round(e$z, 4), signif(e$pValue, 4)), c(round(pubI[[s]][1], 5), pubI[[s]][2:3]), 1.5e-5, s)
  add(paste0("iclogrank-cosmesis-", s, "-published"), M, "published table", "Fay & Shaw 2010, J. Statistical Software 36(2), section 4.2 (asymptotic permutation form)", list(sameInputAs = paste0("iclogrank-cosmesis-", s)), list(score = arr(pubI[[s]][1] * c(1, -1)), z = pubI[[s]][2], pValue = pubI[[s]][3]), list(abs = 5.1e-5, rel = 0, score = list(abs = 5e-5, rel = 0), pValue = list(abs = 6e-6, rel = 0))) }
icl("iclogrank-right-censored", sixmp$time, ifelse(sixmp$event == 1, sixmp$time, Inf), sixmp$group, srcFrei, "Exact and right-censored data: Sun's scores reduce to the usual log-rank scores (O-E), with the permutation variance instead of the hypergeometric one.")
icl("iclogrank-three-groups", d$L, d$R, rep(c("a", "b", "c"), 20), "simulated, R seed 11")
icl("iclogrank-tiny", c(0, 0, 3, 3, 6, 6, 9, 9), c(3, 6, 6, 9, 9, Inf, Inf, 12), rep(c("a", "b"), 4), synth)
flush_cases("cases/05-logrank.json", "Log-rank tests, right- and interval-censored")

# ---- 6 proportions -------------------------------------------------------------
M <- "proportion_ci"; kP <- kF("Wilson and Clopper-Pearson formulas, checked against stats::prop.test and binom.test")
pr <- function(id, x, n, conf = .95, src = synth) { w <- wilson(x, n, conf); c0 <- clopper(x, n, conf); near(w, suppressWarnings(prop.test(x, n, correct = FALSE, conf.level = conf)$conf.int), 1e-9, "prop.test"); near(c0, binom.test(x, n, conf.level = conf)$conf.int, 1e-9, "binom.test"); add(id, M, kP, src, list(x = x, n = n, confidence = conf), list(estimate = x / n, wilsonLower = w[1], wilsonUpper = w[2], clopperPearsonLower = c0[1], clopperPearsonUpper = c0[2])) }
srcN1 <- "Newcombe 1998, Statistics in Medicine 17:857-872, Table I"
pn <- list(c(81,263,.2553,.3662,.2527,.3676), c(15,148,.0624,.1605,.0578,.1617), c(0,20,0,.1611,0,.1684), c(1,29,.0061,.1718,.0009,.1776))
for (q in pn) { id <- sprintf("prop-%d-%d", q[1], q[2]); pr(id, q[1], q[2], .95, srcN1); near(round(c(wilson(q[1], q[2]), clopper(q[1], q[2])), 4), q[3:6], 1e-9, id)
  add(paste0(id, "-published"), M, "published table", paste0(srcN1, " (methods 3 and 5; method 5 values from memory, verified with R)"), list(x = q[1], n = q[2], confidence = .95), list(wilsonLower = q[3], wilsonUpper = q[4], clopperPearsonLower = q[5], clopperPearsonUpper = q[6]), half(4)) }
for (q in list(c(0, 1), c(1, 1), c(5, 10), c(10, 10), c(3, 1000), c(500, 1000), c(7, 20))) pr(sprintf("prop-%d-%d", q[1], q[2]), q[1], q[2]); pr("prop-7-20-conf99", 7, 20, .99)
add("prop-0-0", M, kF("rule in methods.md"), synth, list(x = 0, n = 0, confidence = .95), list(estimate = NA, wilsonLower = NA, wilsonUpper = NA, clopperPearsonLower = NA, clopperPearsonUpper = NA))
M <- "proportion_difference_ci"; srcN2 <- "Newcombe 1998, Statistics in Medicine 17:873-890, Table II, method 10"
nn <- list(c(56,70,48,80,.0524,.3339), c(9,10,3,10,.1705,.8090), c(6,7,2,7,.0582,.8062), c(5,56,0,29,-.0381,.1926), c(0,10,0,20,-.1611,.2775), c(0,10,0,10,-.2775,.2775), c(10,10,0,20,.6791,1), c(10,10,0,10,.6075,1))
for (q in nn) { id <- sprintf("propdiff-%d-%d-%d-%d", q[1], q[2], q[3], q[4]); r <- newcombe(q[1], q[2], q[3], q[4]); near(round(r[2:3], 4), q[5:6], 1e-9, id); ep <- suppressWarnings(Epi::ci.pd(q[1], q[3], q[2] - q[1], q[4] - q[3], method = "Nc", print = FALSE)); near(r[2:3], ep[6:7], 1e-3, "Epi::ci.pd")
  add(id, M, kF("Newcombe hybrid score formula"), srcN2, list(x1 = q[1], n1 = q[2], x2 = q[3], n2 = q[4], confidence = .95), list(difference = r[1], lower = r[2], upper = r[3])); add(paste0(id, "-published"), M, "published table", srcN2, list(x1 = q[1], n1 = q[2], x2 = q[3], n2 = q[4], confidence = .95), list(lower = q[5], upper = q[6]), half(4)) }
M <- "clustered_proportion"; kC <- paste0(kF("Rao-Scott ratio estimator and effective sample size"), ", variance checked against ", kR("survey", "sandwich"))
cpv <- function(x, n) { d <- data.frame(x = x, n = n); s <- survey::svyratio(~x, ~n, survey::svydesign(ids = ~1, weights = ~1, data = d)); v <- as.numeric(survey::SE(s))^2; y <- unlist(mapply(function(a, b) c(rep(1, a), rep(0, b - a)), x, n)); g <- rep(seq_along(n), n); near(v, sandwich::vcovCL(lm(y ~ 1), cluster = g, type = "HC0", cadjust = TRUE)[1], 1e-8, "survey/sandwich"); v }
cp <- function(id, x, n, src, note = NULL, conf = .95) { e <- ref_clusterprop(x, n, conf); if (length(x) > 1) near(cpv(x, n), e$varRatio, 1e-8, id); add(id, M, kC, src, list(x = arr(x), n = arr(n), confidence = conf), e, note = note) }
srcW <- "Weil 1970, Food and Cosmetics Toxicology 8:177-182 (litters), as tabulated in Williams 1975 and CRAN aod 'rats'"; srcA <- "Shoukri & Pause 1999, Statistical Methods for Health Sciences, Table 3.11, via CRAN aod 'antibio'"
for (g in unique(rats$group)) with(rats[rats$group == g, ], cp(paste0("clusterprop-rats-", g), x, n, srcW)); with(antibio[antibio$group == "drug1", ], cp("clusterprop-antibio-drug1", x, n, srcA))
cp("clusterprop-deff-below-one", c(1, 1, 1, 1, 2, 1), c(3, 3, 3, 3, 5, 3), synth, "Estimated design effect below 1 is reported, but 1 is used for the interval."); cp("clusterprop-all-zero", c(0, 0, 0, 0), c(2, 5, 1, 4), synth, "Design effect not estimable: the interval uses the number of patients as effective sample size."); cp("clusterprop-all-events", c(2, 5, 1), c(2, 5, 1), synth); cp("clusterprop-single-cluster", 2, 7, synth)
cp("clusterprop-size-one-clusters", c(1, 0, 0, 1, 0, 0, 0, 1), rep(1, 8), synth, "All clusters of size 1: the design effect is m/(m-1), not exactly 1.")
M <- "rao_scott_test"; kk <- kF("Rao & Scott adjusted chi-square, design effect per group"); add("raoscott-rats", M, kk, paste("Rao & Scott 1992, Biometrics 48:577-585;", srcW), list(x = arr(rats$x), n = arr(rats$n), group = arr(rats$group)), ref_raoscott(rats$x, rats$n, rats$group)); add("raoscott-antibio", M, kk, srcA, list(x = arr(antibio$x), n = arr(antibio$n), group = arr(antibio$group)), ref_raoscott(antibio$x, antibio$n, antibio$group))
flush_cases("cases/06-proportions.json", "Proportions, differences and clustered proportions")

# ---- 7 funnel -------------------------------------------------------------
M <- "funnel_limits"; srcF <- "Spiegelhalter 2005, Statistics in Medicine 24:1185-1202, appendix (exact binomial limits with interpolation)"
fn <- function(id, theta, ns) add(id, M, kF("interpolated exact binomial limits"), srcF, list(target = theta, n = arr(ns)), list(lower998 = arr(vapply(ns, funnel_limit, 0, theta, .001)), lower95 = arr(vapply(ns, funnel_limit, 0, theta, .025)), upper95 = arr(vapply(ns, funnel_limit, 0, theta, .975)), upper998 = arr(vapply(ns, funnel_limit, 0, theta, .999))))
ns <- c(1, 2, 5, 10, 20, 50, 100, 200, 500, 1000); for (t in c(.02, .05, .1, .3)) fn(paste0("funnel-target-", t), t, ns)
M <- "funnel_overdispersion"; od <- function(id, x, n, theta, q) { e <- ref_phi(x, n, theta, q); z <- c(qnorm(.001), qnorm(.025), qnorm(.975), qnorm(.999)); l <- outer(n, z, function(a, b) pmin(1, pmax(0, theta + b * sqrt(e$phiUsed * theta * (1 - theta) / a)))); e$limits <- list(lower998 = arr(l[, 1]), lower95 = arr(l[, 2]), upper95 = arr(l[, 3]), upper998 = arr(l[, 4])); add(id, M, kF("winsorised phi and inflated normal limits"), "Spiegelhalter 2005, Statistics in Medicine 24:1185-1202, section on over-dispersion (winsorising by type-7 quantiles)", list(x = arr(x), n = arr(n), target = theta, winsorise = q), e) }
od("funnel-phi-12-units", c(3, 8, 1, 15, 6, 2, 20, 4, 9, 0, 11, 5), c(60, 90, 45, 120, 80, 70, 110, 95, 100, 40, 85, 75), .08, .1); od("funnel-phi-underdispersed", c(5, 5, 6, 4, 5, 5), c(50, 50, 55, 45, 50, 52), .1, .1); od("funnel-phi-no-winsorising", c(3, 8, 1, 15, 6, 2), c(60, 90, 45, 120, 80, 70), .08, 0)
flush_cases("cases/07-funnel.json", "Funnel plot limits for proportions")

# ---- 8 CUSUM -------------------------------------------------------------
M <- "cusum_weights"; srcS <- "Steiner, Cook, Farewell & Treasure 2000, Biostatistics 1:441-452"
lg <- function(s) plogis(-3.68 + .077 * s); wv <- function(p, or) unlist(cusum_w(p, or))
add("cusum-weights-steiner-published", M, "published table", paste0(srcS, ", p. 446, and Steiner 2014 in Statistics in Action (Lawless ed.), p. 234; logit p = -3.68 + 0.077 score, scores 0 and 50"), list(p = arr(lg(c(0, 50))), oddsRatio = 2), list(event = arr(c(.669, .260)), noEvent = arr(c(-.024, -.433))), half(3)); near(round(wv(lg(0), 2), 3), c(.669, -.024), 1e-9, "steiner"); near(round(wv(lg(50), 2), 3), c(.260, -.433), 1e-9, "steiner50")
add("cusum-weights-steiner-improvement-published", M, "published table", "Steiner 2014 in Statistics in Action (Lawless ed.), p. 234", list(p = arr(lg(c(0, 50))), oddsRatio = .5), list(event = arr(c(-.681, -.377)), noEvent = arr(c(.012, .316))), half(3)); near(round(c(wv(lg(0), .5), wv(lg(50), .5)), 3), c(-.681, .012, -.377, .316), 1e-9, "steiner improvement")
ps <- c(.01, .05, .1, .25, .5, .9); for (o in c(2, 1.5, .5)) { w <- t(vapply(ps, wv, c(0, 0), o)); add(paste0("cusum-weights-or-", o), M, kF(), srcS, list(p = arr(ps), oddsRatio = o), list(event = arr(w[, 1]), noEvent = arr(w[, 2])), list(abs = 1e-12, rel = 1e-12)) }
M <- "cusum_path"; y <- c(0,0,1,0,1,1,0,0,0,1,1,1,1,0,0,0,0,1,0,0,1,1,1,0,1); cz <- function(id, y, p, o, h, rs) { r <- cusum_path(y, p, o, h, rs); add(id, M, kF(), srcS, list(y = arr(y), p = arr(p), oddsRatio = o, h = h, resetAfterSignal = rs), list(statistic = arr(r$statistic), signals = arr(r$signals)), list(abs = 1e-10, rel = 1e-10), "signals are 1-based positions; the statistic at a signal is reported before the reset to 0.") }
cz("cusum-path-constant-p", y, rep(.1, 25), 2, 2, TRUE); cz("cusum-path-risk-adjusted", y, rep(c(.05, .12, .3, .08, .2), 5), 2, 1.5, TRUE); cz("cusum-path-no-reset", y, rep(.1, 25), 2, 2, FALSE); cz("cusum-path-improvement", c(rep(0, 20), 1, rep(0, 4)), rep(.25, 25), .5, 2, TRUE)
M <- "cusum_arl"; kA <- kF("exact renewal computation over reachable states, rough check by a Brook-Evans grid"); for (q in list(c(.05,2,2.65), c(.05,2,4.5), c(.1,2,2.5), c(.1,2,3.5), c(.02,2,3), c(.1,1.5,2), c(.2,2,3), c(.1,.5,2), c(.05,3,3), c(.1,2,.5))) { a0 <- arl_exact(q[1], q[2], q[3]); p1 <- q[2] * q[1] / (1 - q[1] + q[2] * q[1]); a1 <- arl_exact(q[1], q[2], q[3], p1); if (abs(arl_markov(q[1], q[2], q[3], 20000) / a0 - 1) > .02) stop("ARL check"); add(sprintf("cusum-arl-p%g-or%g-h%g", q[1], q[2], q[3]), M, kA, paste0(srcS, "; Brook & Evans 1972, Biometrika 59:539-549"), list(p = q[1], oddsRatio = q[2], h = q[3]), list(inControlArl = a0, outOfControlArl = a1), list(abs = 0, rel = 1e-6), "h=0.5 with OR=2 signals at the first event, so the in-control ARL is exactly 1/p.") }
for (i in seq_along(CASES)) if (CASES[[i]]$method == "cusum_arl" && CASES[[i]]$input$h != .5) CASES[[i]]$note <- NULL
M <- "cusum_threshold"; for (q in list(c(.05,2,1000), c(.1,2,500), c(.02,2,2000), c(.1,.5,500))) { h <- h_for_arl(q[1], q[2], q[3]); add(sprintf("cusum-h-p%g-or%g-arl%g", q[1], q[2], q[3]), M, kA, srcS, list(p = q[1], oddsRatio = q[2], targetArl = q[3], step = .01), list(h = h, inControlArl = arl_exact(q[1], q[2], h)), list(abs = 1e-9, rel = 1e-6), "Smallest multiple of the step whose in-control ARL reaches the target.") }
flush_cases("cases/08-cusum.json", "Bernoulli log-likelihood CUSUM")

# ---- 9 agreement -------------------------------------------------------------
M <- "kappa"; srcK <- "Fleiss, Cohen & Everitt 1969, Psychological Bulletin 72:323-327"; ft <- matrix(c(106,10,4,22,28,10,2,12,6), 3, byrow = TRUE); Wf <- matrix(c(1,0,.4444,0,1,.6667,.4444,.6667,1), 3)
mt <- function(A) unname(apply(A, 1, arr, simplify = FALSE)); kp <- function(id, tab, wt, src, conf = .95, note = NULL) { W <- if (is.matrix(wt)) wt else kw(nrow(tab), wt); e <- ref_kappa(tab, W, conf); v <- vcd::Kappa(tab, weights = W); near(c(e$kappa, e$stdErr), v$Weighted, 1e-9, "vcd"); add(id, M, paste0(kF("Fleiss-Cohen-Everitt formulas"), ", checked against ", kR("vcd"), " and a numerical delta method"), src, list(table = mt(tab), weights = if (is.matrix(wt)) mt(W) else wt, confidence = conf), e, note = note) }
kp("kappa-fce-unweighted", ft, "identity", srcK); kp("kappa-fce-weighted", ft, Wf, srcK, note = "Agreement weights of the paper."); for (w in c("linear", "quadratic")) kp(paste0("kappa-fce-", w), ft, w, srcK)
add("kappa-fce-published", M, "published table", paste0(srcK, ", worked example (kappa .429, weighted kappa .507 and its standard error .057 from memory, verified with R vcd)"), list(table = mt(ft), weights = mt(Wf), confidence = .95), list(kappa = .507, stdErr = .057), half(3)); add("kappa-fce-unweighted-published", M, "published table", srcK, list(table = mt(ft), weights = "identity", confidence = .95), list(kappa = .429), half(3)); near(round(c(ref_kappa(ft, kw(3, "identity"))$kappa, ref_kappa(ft, Wf)$kappa, ref_kappa(ft, Wf)$stdErr), 3), c(.429, .507, .057), 1e-9, "FCE")
t5 <- matrix(c(10,3,0,0,0, 2,12,4,1,0, 0,5,15,3,0, 0,1,2,9,2, 0,0,0,3,8), 5, byrow = TRUE); for (w in c("identity", "linear", "quadratic")) kp(paste0("kappa-5-grades-", w), t5, w, synth)
add("kappa-perfect", M, kF("rule in methods.md"), synth, list(table = mt(diag(c(4, 5, 6))), weights = "linear", confidence = .95), list(kappa = 1, stdErr = 0, lower = 1, upper = 1)); add("kappa-single-category", M, kF("rule in methods.md"), synth, list(table = mt(matrix(c(9, 0, 0, 0), 2)), weights = "identity", confidence = .95), list(kappa = NA, stdErr = NA, lower = NA, upper = NA), note = "Expected agreement is 1: kappa is undefined.")
M <- "icc21"; srcSF <- "Shrout & Fleiss 1979, Psychological Bulletin 86:420-428, Tables 2-4"; ic <- function(id, x, src, conf = .95) { e <- ref_icc(x, conf); r <- suppressWarnings(psych::ICC(x, lmer = FALSE, alpha = 1 - conf)$results); near(c(e$icc21, e$lower, e$upper), as.numeric(r[2, c("ICC", "lower bound", "upper bound")]), 1e-8, "psych ICC"); add(id, M, paste0(kF("mean squares formulas"), ", checked against ", kR("psych")), src, list(ratings = mt(x), confidence = conf), e) }
ic("icc-shrout-fleiss", sf, srcSF); add("icc-shrout-fleiss-published", M, "published table", paste0(srcSF, " (mean squares from memory, verified with R)"), list(ratings = mt(sf), confidence = .95), list(icc21 = .29, msSubjects = 11.24, msRaters = 32.49, msError = 1.02), half(2)); near(round(unlist(ref_icc(sf)[c("icc21", "msSubjects", "msRaters", "msError")]), 2), c(.29, 11.24, 32.49, 1.02), 1e-9, "SF")
seed(31); xx <- round(outer(rnorm(15, 50, 8), c(0, 1.5, -1), "+") + rnorm(45, 0, 3), 1); ic("icc-simulated-15x3", xx, "simulated, R seed 31"); ic("icc-two-raters", cbind(c(3, 5, 2, 8, 7, 4), c(4, 5, 1, 9, 6, 4)), synth, .9)
add("icc-constant", M, kF("rule in methods.md"), synth, list(ratings = mt(matrix(5, 4, 2)), confidence = .95), list(icc21 = NA, lower = NA, upper = NA)); add("icc-one-subject", M, kF("rule in methods.md"), synth, list(ratings = mt(matrix(c(4, 5), 1)), confidence = .95), list(status = "notEstimable"))
flush_cases("cases/09-agreement.json", "Kappa, weighted kappa, ICC(2,1), SEM, SDC")

# ---- 10 trends -------------------------------------------------------------
M <- "theil_sen"; kTS <- kF("pairwise slopes, Sen interval, tie-corrected Kendall variance; S and z checked against stats::cor.test"); srcSen <- "Sen 1968, JASA 63:1379-1389 (worked example)"
ts <- function(id, x, y, src, conf = .95, note = NULL) { e <- ref_theilsen(x, y, conf); if (length(x) > 2 && !is.na(e$z) && length(unique(x)) > 1 && length(unique(y)) > 1) { ct <- suppressWarnings(cor.test(x, y, method = "kendall", exact = FALSE, continuity = TRUE)); near(c(e$z, e$tauB), c(ct$statistic, ct$estimate), 1e-9, id) }; add(id, M, kTS, src, list(x = arr(x), y = arr(y), confidence = conf), e, note = note) }
sx <- c(1,2,3,4,10,12,18); sy <- c(9,15,19,20,45,55,78); ts("theilsen-sen-93", sx, sy, srcSen, .93); r <- ref_theilsen(sx, sy, .93); near(round(c(r$slope, r$slopeLower, r$slopeUpper), 2), c(4, 3.71, 4.38), 1e-2, "Sen")
add("theilsen-sen-93-published", M, "published table", paste0(srcSen, ", 93 % interval"), list(x = arr(sx), y = arr(sy), confidence = .93), list(slope = 4, slopeLower = 3.71, slopeUpper = 4.38), list(abs = .0051, rel = 0)); ts("theilsen-sen-95", sx, sy, srcSen)
ts("theilsen-with-ties", c(1,1,2,2,3,3,4,4,5,5), c(10,12,9,11,9,8,7,9,6,6), synth, note = "Pairs with equal x are left out of the slopes; the variance uses the full tie correction in x and y."); ts("theilsen-three-sessions", 1:3, c(20, 15, 11), synth, note = "Three points cannot give a 95 % interval: limits are null."); ts("theilsen-four-sessions", 1:4, c(20, 15, 11, 12), synth); ts("theilsen-constant-y", 1:6, rep(3, 6), synth, note = "Slope 0, S=0, variance 0: z, p and tau-b are null."); ts("theilsen-constant-x", rep(2, 5), c(1, 4, 2, 8, 5), synth); ts("theilsen-single", 1, 5, synth); ts("theilsen-uneven-times", c(0, 21, 45, 66, 101, 130, 182), c(62, 58, 58, 47, 41, 43, 30), synth)
M <- "random_intercept_reml"; kL <- paste0("profile REML in R, cross-checked with ", kR("lme4")); tolL <- list(abs = 1e-6, rel = 1e-5, dfSatterthwaite = list(abs = 0, rel = 5e-3))
lm1 <- function(id, y, X, g, nm, src, satt = TRUE, note = NULL) { e <- ref_lmm(y, X, g, nm); if (satt && !e$singular) e$dfSatterthwaite <- arr(ref_satt(y, X, g, e)); add(id, M, if (satt) paste0("profile REML in R, cross-checked with ", kR("lme4", "lmerTest")) else kL, src, list(y = arr(y), covariates = mt(as.matrix(X)), names = arr(nm), group = arr(as.character(g))), e, tolL, note) }
srcSl <- "Belenky et al. 2003, J. Sleep Research 12:1-12; data via lme4::sleepstudy"; lm1("reml-sleepstudy", sleep$Reaction, sleep$Days, sleep$Subject, "days", srcSl)
add("reml-sleepstudy-published", M, "published table", "lme4 documentation/teaching material, random-intercept fit of sleepstudy (from memory, verified with R lme4)", list(sameInputAs = "reml-sleepstudy"), list(coefficients = arr(c(251.4051, 10.4673)), stdErr = arr(c(9.7467, .8042)), varIntercept = 1378.2, varResidual = 960.5, remlCriterion = 1786.5), list(abs = .051, rel = 0, coefficients = half(4), stdErr = half(4))); e <- ref_lmm(sleep$Reaction, sleep$Days, sleep$Subject, "d"); near(round(c(e$coefficients, e$stdErr), 4), c(251.4051, 10.4673, 9.7467, .8042), 1e-9, "sleepstudy"); near(round(c(e$varIntercept, e$varResidual, e$remlCriterion), 1), c(1378.2, 960.5, 1786.5), 1e-9, "sleepstudy var")
un <- c(1,2,3, 1,2, 1,2,3,4, 2,4, 1,3,5, 1); ug <- rep(c("a","b","c","d","e","f"), c(3,2,4,2,3,1)); uy <- c(30,26,23, 41,36, 25,22,20,15, 33,27, 38,30,22, 29); lm1("reml-unbalanced", uy, un, ug, "session", synth); lm1("reml-singular", c(10,12,11,13, 13,11,12,10, 11,10,13,12), rep(1:4, 3), rep(c("a","b","c"), each = 4), "session", synth, note = "The maximum lies at variance 0: singular true, ordinary least squares results, no Satterthwaite value.")
M <- "nested_random_intercepts_reml"; l2 <- function(id, y, X, unit, pat, nm, src) add(id, M, kL, src, list(y = arr(y), covariates = if (is.null(X)) NULL else mt(as.matrix(X)), names = arr(nm), unit = arr(as.character(unit)), patient = arr(as.character(pat))), ref_lmm2(y, X, unit, pat, nm), list(abs = 1e-5, rel = 1e-4), "Optional extension: one intercept per unit within patient and one per patient.")
l2("reml2-oats", oats$Y, oats$nitro, oats$V, oats$B, "nitro", "Yates 1935; data via MASS::oats (blocks as patients, varieties as units)")
M <- "cluster_robust"; kCR <- kR("clubSandwich", "sandwich"); cr <- function(id, y, X, g, nm, src, note = NULL) add(id, M, kCR, src, list(y = arr(y), covariates = if (is.null(X)) NULL else mt(as.matrix(X)), names = arr(nm), cluster = arr(as.character(g))), ref_cr(y, X, g, nm), list(abs = 1e-8, rel = 1e-7), note)
cr("robust-sleepstudy-slope", sleep$Reaction, sleep$Days, sleep$Subject, "days", srcSl); cr("robust-unbalanced-slope", uy, un, ug, "session", synth); cr("robust-unbalanced-mean", uy, NULL, ug, character(0), synth, "Mean only."); cr("robust-two-covariates", uy, cbind(un, rep(c(0, 1), c(7, 8))[seq_along(un)]), ug, c("session", "arm"), synth)
flush_cases("cases/10-trends.json", "Theil-Sen, Mann-Kendall, random-intercept REML, cluster-robust errors")

# ---- 11 ordinal -------------------------------------------------------------
M <- "wilcoxon_probabilistic_index"; kWi <- paste0(kF("rank formulas, Brunner-Munzel variance"), ", p values checked against stats::wilcox.test"); wm <- function(id, x, y, src, note = NULL) add(id, M, kWi, src, list(x = arr(x), y = arr(y), confidence = .95), ref_wmw(x, y), note = note)
py <- c(1,2,1,1,1,1,1,1,1,1,2,4,1,1); pn2 <- c(3,3,4,3,1,2,3,1,1,5,4); srcB <- "Brunner & Munzel 2000, Biometrical Journal 42:17-25, pain scores; corrected values as in Neubert & Brunner 2007, CSDA 51:5192-5204"; wm("wmw-pain", py, pn2, srcB); r <- ref_wmw(py, pn2); near(c(round(r$bmStatistic, 4), round(r$bmPValue, 6), round(r$probabilisticIndex, 6)), c(3.1375, .005786, .788961), 1e-9, "BM")
add("wmw-pain-published", M, "published table", paste0(srcB, " (limits from memory, verified with R)"), list(x = arr(py), y = arr(pn2), confidence = .95), list(probabilisticIndex = .788961, bmStatistic = 3.1375, bmPValue = .005786, lowerT = .5952, upperT = .9827), list(abs = 5.1e-5, rel = 0, probabilisticIndex = half(6), bmPValue = half(6)))
wm("wmw-permeability", c(0.80,0.83,1.89,1.04,1.45,1.38,1.91,1.64,0.73,1.46), c(1.15,0.88,0.90,0.74,1.21), "Hollander & Wolfe 1973, pp. 69-71, data in the stats::wilcox.test help page"); wm("wmw-ordinal-grades", c(0,1,1,2,2,2,3,1,0,2,1), c(2,3,3,4,2,3,1,4,3), synth); wm("wmw-separated", c(1,2,3), c(4,5,6,7), synth, "Complete separation: index 1, zero variance, so the standard error and limits are null."); wm("wmw-all-tied", c(2,2,2), c(2,2), synth)
M <- "clustered_rank_sum"; kG <- kF("Rosner-Glynn-Lee formulas"); srcG <- "Rosner, Glynn & Lee 2003, Biometrics 59:1089-1098 (group constant within patient)"; gx <- c(3,2, 1,1, 4,3,3, 2, 0,1, 5,4, 3, 2,2,1, 4,4, 1, 3,5,4, 0, 2,3, 1,0, 4,5); gcl <- rep(1:15, c(2,2,3,1,2,2,1,3,2,1,3,1,2,2,2)); gg <- rep(c(1,0,1,0,0,1,1,0,1,0,1,0,1,0,1), c(2,2,3,1,2,2,1,3,2,1,3,1,2,2,2)); rg <- function(id, x, cl, g, src = synth, note = NULL) add(id, M, kG, paste(srcG, src, sep = "; "), list(x = arr(x), cluster = arr(cl), group = arr(g)), ref_rgl(x, cl, g), note = note)
rg("rgl-15-patients", gx, gcl, gg); rg("rgl-size-one", c(3,1,4,1,5,9,2,6), 1:8, c(1,1,1,1,0,0,0,0), note = "Clusters of size 1: equals the tie-corrected rank-sum test."); rg("rgl-no-shared-size", c(1,2,3,4,5,6), c(1,1,1,2,2,3), c(1,1,1,0,0,1), note = "No cluster size occurs twice: variance 0, z and p null.")
M <- "clustered_probabilistic_index"; ci <- function(id, x, cl, g, src = synth, note = NULL) add(id, M, kF("Obuchowski cluster variance of the Mann-Whitney index"), paste("Obuchowski 1997, Biometrics 53:567-578;", src), list(x = arr(x), cluster = arr(cl), group = arr(g), confidence = .95), ref_clusterpi(x, cl, g), note = note); ci("clusterpi-15-patients", gx, gcl, gg); ci("clusterpi-mixed-within-patient", gx, gcl, rep(c(0, 1), length.out = length(gx)), note = "Both groups inside a patient: the covariance term counts.")
flush_cases("cases/11-ordinal.json", "Rank-sum tests and the probabilistic index")

# ---- 12 multiplicity -------------------------------------------------------------
M <- "p_adjust"; pa <- function(id, p, src = synth, note = NULL) add(id, M, kR("stats"), src, list(p = arr(p)), list(holm = arr(p.adjust(p, "holm")), benjaminiHochberg = arr(p.adjust(p, "BH")), bonferroni = arr(p.adjust(p, "bonferroni"))), list(abs = 1e-12, rel = 1e-12), note)
bh <- c(.0001,.0004,.0019,.0095,.0201,.0278,.0298,.0344,.0459,.3240,.4262,.5719,.6528,.7590,1); pa("padjust-bh1995", bh, "Benjamini & Hochberg 1995, JRSS B 57:289-300, section 3.2 (15 ordered p values from memory)", "The paper rejects 4 hypotheses at FDR 0.05 and Bonferroni 3; the adjusted values agree."); stopifnot(sum(p.adjust(bh, "BH") <= .05) == 4, sum(p.adjust(bh, "bonferroni") <= .05) == 3)
pa("padjust-unordered-ties", c(.04, .01, .03, .01, .2, .03)); pa("padjust-single", .02); pa("padjust-ones-and-zero", c(0, 1, 1, .5)); pa("padjust-empty", numeric(0))
flush_cases("cases/12-multiplicity.json", "Multiplicity adjustment")

# ---- 13 distribution functions -------------------------------------------------------------
M <- "distribution"; kD <- kR("stats"); ds <- function(fn, args, v) add(paste0("dist-", fn, "-", paste(unlist(args), collapse = "-")), M, kD, "R stats distribution functions", c(list(fn = fn), args), list(value = v), list(abs = 0, rel = 1e-10))
for (x in c(-10, -6, -3, -1.959963984540054, 0, .5, 2, 5)) ds("normalCdf", list(x = x), pnorm(x)); for (x in c(3, 6, 10)) ds("normalSf", list(x = x), pnorm(x, lower.tail = FALSE)); for (p in c(1e-12, 1e-6, .001, .025, .25, .9, .975, .9995, 1 - 1e-9)) ds("normalQuantile", list(p = p), qnorm(p))
for (q in list(c(3.84, 1), c(16.79, 1), c(.5, 3), c(40, 3), c(200, 100), c(30, 1))) ds("chiSquareSf", list(x = q[1], df = q[2]), pchisq(q[1], q[2], lower.tail = FALSE)); for (q in list(c(.975, 3.7), c(.975, 17), c(.995, 2), c(.9, 1), c(.975, 161))) ds("tQuantile", list(p = q[1], df = q[2]), qt(q[1], q[2])); for (q in list(c(2.2, 17.683), c(-3.1, 4.5), c(12, 3), c(.5, 100))) ds("tSf", list(x = q[1], df = q[2]), pt(q[1], q[2], lower.tail = FALSE))
for (q in list(c(.975, 5, 4.79), c(.975, 4.79, 5), c(.95, 14, 28.3), c(.995, 2, 3))) ds("fQuantile", list(p = q[1], df1 = q[2], df2 = q[3]), qf(q[1], q[2], q[3])); for (q in list(c(.025, 1, 29), c(.975, 1, 20), c(.025, 81, 183), c(.975, 2, 28), c(.005, 500, 501), c(.025, 3, 998))) ds("betaQuantile", list(p = q[1], a = q[2], b = q[3]), qbeta(q[1], q[2], q[3])); for (q in list(c(3, 50, .02), c(0, 1000, .05), c(60, 1000, .05), c(5, 10, .3), c(100, 500, .3))) ds("binomialCdf", list(k = q[1], n = q[2], p = q[3]), pbinom(q[1], q[2], q[3]))
flush_cases("cases/13-distributions.json", "Distribution functions the kernel needs")
