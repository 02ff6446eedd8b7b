# Times the reference programs in R on the data that ComparisonData has written, and
# prints them beside what the kernel needed in the same run on the same machine.
# Needs R with the packages survival and npsurv.
# Usage: Rscript compare-with-r.R FOLDER
suppressPackageStartupMessages({
  library(survival)
  library(npsurv)
})

folder <- commandArgs(trailingOnly = TRUE)[1]
kernel <- read.csv(file.path(folder, "kernel.csv"))
whole <- read.csv(file.path(folder, "whole.csv"))
fine <- read.csv(file.path(folder, "fine.csv"))

# wall and processor seconds of the fastest of several runs
timed <- function(runs, expression) {
  code <- substitute(expression)
  frame <- parent.frame()
  times <- replicate(runs, {
    t <- system.time(eval(code, frame))
    c(t[["elapsed"]], t[["user.self"]] + t[["sys.self"]])
  })
  apply(times, 1, min)
}

intervals <- function(d) {
  Surv(ifelse(d$left <= 0, NA, d$left), ifelse(is.finite(d$right), d$right, NA), type = "interval2")
}

informative <- whole$left > 0 | is.finite(whole$right)
weibull <- NULL
results <- list(
  c("curve of 20,000 lumps, whole days", "whole", "npsurv",
    timed(5, fit <- npsurv(cbind(whole$left, whole$right))), fit$ll),
  c("curve of 20,000 lumps, two decimals", "fine", "npsurv",
    timed(1, fit <- npsurv(cbind(fine$left, fine$right))), fit$ll),
  c("Weibull, 20,000 rows, 2 covariates", "weibull", "survreg",
    timed(9, weibull <- survreg(intervals(whole) ~ layer + volume, whole, subset = informative, dist = "weibull")),
    weibull$loglik[2]),
  c("curve of 20,000 lumps, whole days", "whole", "survfit",
    timed(1, survfit(intervals(whole) ~ 1)), NA)
)

cat(R.version.string, "survival", format(packageVersion("survival")), "npsurv", format(packageVersion("npsurv")), "\n\n")
cat("| Task | Kernel s (processor s) | R s (processor s) | Times faster by processor time | Log-likelihood kernel / R |\n")
cat("| --- | --- | --- | --- | --- |\n")
for (r in results) {
  own <- kernel[kernel$task == r[2], ]
  cat(sprintf("| %s | %.4f (%.4f) | %s: %.3f (%.3f) | %.0f | %.6f / %s |\n", r[1], own$wall, own$cpu, r[3],
    as.numeric(r[4]), as.numeric(r[5]), as.numeric(r[5]) / own$cpu, own$value,
    if (is.na(r[6])) "not printed" else sprintf("%.6f", as.numeric(r[6]))))
}
own <- kernel[kernel$task == "bootstrap", ]
cat(sprintf("| 1,000-resample bootstrap of 5,000 patients, whole days | %.3f | | | |\n", own$wall))

cat("\n| Lumps | Decimals | Kernel s | Kernel processor s |\n| --- | --- | --- | --- |\n")
for (i in grep("^curve-", kernel$task)) {
  size <- strsplit(kernel$task[i], "-")[[1]]
  cat(sprintf("| %s | %s | %.5f | %.5f |\n", size[2], size[3], kernel$wall[i], kernel$cpu[i]))
}
