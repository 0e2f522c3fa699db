# Times general-purpose R packages on the tables that Tussock.Bench wrote.
#   Rscript peers.R DIRECTORY SIZES SEASONS CAP TASK[,TASK...]
# Prints task,n,peer,seconds,value (value: the number that both sides must agree on); remarks go to standard error.
# Reading the tables is in no time. Seconds are the processor's, so that nothing else that runs counts against a peer; each uses one core.
# Median of three runs after one to warm up; one run alone beyond CAP seconds, given up at ten times CAP.
suppressPackageStartupMessages({ library(survival); library(lme4); library(boot) })
options(warn = -1)
given <- commandArgs(TRUE)
directory <- given[1]
sizes <- as.numeric(strsplit(given[2], ",")[[1]])
seasons <- as.integer(given[3])
cap <- as.numeric(given[4])
tasks <- strsplit(given[5], ",")[[1]]
table_of <- function(name, n) read.csv(file.path(directory, sprintf("%s_%d.csv", name, as.integer(n))))
seconds_last <- list()

timed <- function(task, n, peer, work, times = 1) {
  if (!(task %in% tasks)) return(invisible())
  last <- seconds_last[[task]]
  if (!is.null(last) && last$seconds * n / last$n > cap) {
    message(sprintf("%s, %.0f: %s skipped, some %.0f s or more by the size before, over the cap of %.0f s", task, n, peer, last$seconds * n / last$n, cap))
    seconds_last[[task]] <<- list(n = n, seconds = last$seconds * n / last$n)
    return(invisible())
  }
  run <- function() sum(system.time(value <<- suppressMessages(work()))[c("user.self", "sys.self")])
  value <- NA
  gc()
  setTimeLimit(elapsed = 10 * cap, transient = TRUE)
  first <- tryCatch(run(), error = function(e) NA)
  setTimeLimit()
  if (is.na(first)) {
    message(sprintf("%s, %.0f: %s given up after %.0f s or failed", task, n, peer, 10 * cap))
    seconds_last[[task]] <<- list(n = n, seconds = 10 * cap)
    return(invisible())
  }
  took <- if (first > cap) first else vapply(1:3, function(i) run(), 0)
  if (first > cap) message(sprintf("%s, %.0f: %s run once, over the cap", task, n, peer))
  seconds_last[[task]] <<- list(n = n, seconds = median(took))
  cat(sprintf("%s,%.0f,%s,%.6g,%.10g\n", task, n, peer, median(took) * times, value))
  flush(stdout())
}

for (n in sizes) {
  intervals <- table_of("intervals", n)
  model <- lost ~ cover + density + concealment + offset(log(days))
  grouped <- update(model, . ~ . + (1 | line))
  family <- binomial("cloglog")
  timed("fixed_effects", n, "glm", function() coef(glm(model, family, intervals))[["cover"]])
  timed("grouped_laplace", n, "lme4::glmer", function() fixef(glmer(grouped, intervals, family))[["cover"]])
  timed("grouped_quadrature", n, "lme4::glmer", function() fixef(glmer(grouped, intervals, family, nAGQ = 9))[["cover"]])

  curve <- function(nests, weights) {
    nests$w <- weights
    fit <- survfit(Surv(left, right, type = "interval2") ~ 1, nests[weights > 0, ], weights = w, se.fit = FALSE)
    fit$surv[max(1, sum(fit$time <= 15))]
  }
  for (kind in c("tied", "untied")) {
    nests <- table_of(kind, n)
    timed(paste0("curve_", kind), n, "survival::survfit", function() curve(nests, rep(1, nrow(nests))))
  }

  # One constant rate, refitted to resampled lines.
  at <- match(intervals$line, unique(intervals$line))
  one <- matrix(1, nrow(intervals), 1)
  survival28 <- function(lines, drawn) {
    w <- tabulate(drawn, length(lines))[at]
    k <- w > 0
    b <- glm.fit(one[k, , drop = FALSE], intervals$lost[k], w[k], offset = log(intervals$days[k]), family = family, start = -3.8)$coefficients
    exp(-28 * exp(b))
  }
  few <- max(20, min(1000, 1e6 / n))
  set.seed(1)
  timed("bootstrap", n, "boot::boot + glm.fit", function() sd(boot(unique(intervals$line), survival28, R = few)$t), 1000 / few)
}

if (any(grepl("^power", tasks))) {
  all <- split(table_of("seasons", seasons), table_of("seasons", seasons)$season)
  robust <- function(season) {
    fit <- glm(lost ~ cover + offset(log(days)), binomial("cloglog"), season)
    score <- rowsum(model.matrix(fit) * (fit$residuals * fit$weights), season$line)
    m <- nrow(score)
    v <- vcov(fit) %*% crossprod(score) %*% vcov(fit) * m / (m - 1)
    2 * pt(-abs(coef(fit)[["cover"]]) / sqrt(v[2, 2]), m - 1)
  }
  mixed <- function(season) {
    fit <- glmer(lost ~ cover + offset(log(days)) + (1 | line), season, binomial("cloglog"))
    2 * pnorm(-abs(fixef(fit)[["cover"]]) / sqrt(vcov(fit)[2, 2]))
  }
  timed("power_fixed", seasons, "glm", function() mean(vapply(all, robust, 0) < 0.05))
  tenth <- all[seq_len(max(1, seasons %/% 10))]
  timed("power_mixed", seasons, "lme4::glmer", function() mean(vapply(tenth, mixed, 0) < 0.05), length(all) / length(tenth))
}
