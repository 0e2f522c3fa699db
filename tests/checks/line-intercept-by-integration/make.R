# Hazard ratio of cover classes and parity density, by plain numerical integration over the line's intercept.
# Base R only. Usage: Rscript make.R > expected.json   (reads ../reference-seasons)
z <- seq(-8, 8, by = 0.1); w <- dnorm(z); w <- w / sum(w)
read <- function(set) {
  dir <- file.path("..", "reference-seasons", set, "season")
  n <- read.csv(file.path(dir, "nests.csv"), colClasses = c(transect = "character"))
  v <- read.csv(file.path(dir, "visits.csv"), colClasses = c(transect = "character"))
  t <- read.csv(file.path(dir, "transects.csv"), colClasses = c(transect = "character", pasture = "character"))
  set_on <- as.Date(t$set_on[match(v$transect, t$transect)])
  own <- as.Date(n$set_on[match(paste(v$transect, v$nest), paste(n$transect, n$nest))])
  set_on <- if (is.null(n$set_on)) set_on else ifelse(is.na(own), set_on, own)
  v$d <- if ("day" %in% names(v)) v$day else as.numeric(as.Date(v$visited_on)) - as.numeric(set_on)
  key <- paste(n$transect, n$nest); vk <- paste(v$transect, v$nest)
  lost <- v$finding %in% c("depredated", "other_loss")
  b <- vapply(key, function(k) suppressWarnings(min(v$d[vk == k & lost])), 0)
  a <- vapply(seq_along(key), function(i) max(0, v$d[vk == key[i] & v$finding == "intact" & v$d < b[i]]), 0)
  keep <- a > 0 | is.finite(b)
  belts <- read.csv(file.path(dir, "belts.csv"), colClasses = c(transect = "character"))
  seg <- !duplicated(paste(belts$transect, belts$segment))
  area <- tapply(belts$steps[seg] * belts$step_m[seg] * belts$arm_span_m[seg], belts$transect[seg], sum)
  clumps <- tapply(belts$clumps, belts$transect, sum)
  dens <- ifelse(clumps == 0, 0.5, clumps) / area[names(clumps)] * 4046.8564224
  data.frame(line = n$transect, other = as.numeric(n$cover != "grass"), a = a, b = b, x = log(dens[n$transect]), pasture = t$pasture[match(n$transect, t$transect)])[keep, ]
}
cum <- function(t, eta1, eta2) exp(eta1) * pmin(t, 14) + exp(eta2) * pmax(t - 14, 0)
loglik <- function(d, eta1, eta2, sd) {
  e <- exp(sd * z); lost <- is.finite(d$b)
  ha <- cum(d$a, eta1, eta2); hd <- cum(ifelse(lost, d$b, d$a + 1), eta1, eta2) - ha
  lp <- -outer(ha, e); lp[lost, ] <- lp[lost, ] + log(-expm1(-outer(hd[lost], e)))
  by <- rowsum(lp, d$line); m <- apply(by, 1, max)
  sum(m + log(as.vector(exp(by - m) %*% w)))
}
best <- function(f, start) {
  p <- start
  for (i in 1:3) { o <- optim(p, function(q) -f(q), method = "BFGS", control = list(reltol = 1e-15, maxit = 500)); p <- o$par }
  list(par = p, value = -o$value, hess = optimHess(p, function(q) -f(q), control = list(ndeps = rep(1e-3, length(p)))))
}
num <- function(x) if (length(x) > 1) paste0("[", paste(sprintf("%.12g", x), collapse = ", "), "]") else sprintf("%.12g", x)
out <- character()
for (set in c("tiny20", "typical144", "strong600")) {
  d <- read(set)
  f <- function(q) loglik(d, q[1] + q[3] * d$other, q[1] + q[2] + q[3] * d$other, exp(q[4]))
  h <- best(f, c(-4, 0, 0, log(0.5)))
  at0 <- best(function(q) loglik(d, q[1] + q[3] * d$other, q[1] + q[2] + q[3] * d$other, 0), c(-4, 0, 0))
  bound <- at0$value > h$value - 1e-7
  se <- if (bound) sqrt(diag(solve(at0$hess)))[3] else sqrt(diag(solve(h$hess)))[3]
  out <- c(out, sprintf('  "%s_hazard": { "log_ratio": %s, "se": %s, "log_likelihood": %s, "sd": %s }', set, num(if (bound) at0$par[3] else h$par[3]), num(se), num(if (bound) at0$value else h$value), num(if (bound) 0 else exp(h$par[4]))))
  c0 <- mean(d$x); x <- d$x - c0
  eta <- function(q) q[1] + q[2] * d$other + q[3] * x + q[4] * d$other * x
  fit <- function(f, k, start) { s <- best(function(q) f(q, exp(q[k + 1])), c(start, log(0.5))); n <- best(function(q) f(q, 0), start)
    if (n$value > s$value - 1e-7) list(par = n$par, value = n$value, sd = 0) else list(par = s$par[1:k], value = s$value, sd = exp(s$par[k + 1])) }
  p <- fit(function(q, sd) loglik(d, eta(q), eta(q), sd), 4, c(-4, 0, 0, 0))
  log_d <- c0 - p$par[2] / p$par[4]
  ends <- fit(function(q, sd) { e <- q[1] + q[2] * d$other + q[3] * x; loglik(d, e, e, sd) }, 3, p$par[1:3])
  part <- sprintf('"b1": %s, "b3": %s, "log_likelihood": %s, "sd": %s, "log_density": %s, "fall_at_ends": %s', num(p$par[2] - c0 * p$par[4]), num(p$par[4]), num(p$value), num(p$sd), num(log_d), num(2 * (p$value - ends$value)))
  at <- log_d + c(-1.5, -0.5, 0.5, 1.5)
  falls <- vapply(at, function(l) { y <- d$other * (d$x - l); r <- fit(function(q, sd) { e <- q[1] + q[2] * x + q[3] * y; loglik(d, e, e, sd) }, 3, p$par[c(1, 3, 4)]); 2 * (p$value - r$value) }, 0)
  out <- c(out, sprintf('  "%s_parity": { %s, "at": %s, "falls": %s }', set, part, num(at), num(falls)))
}
cat("{\n", paste(out, collapse = ",\n"), "\n}\n", sep = "")
