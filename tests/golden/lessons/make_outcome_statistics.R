# Reference values for outcome-statistics.json. R 4.2, package survival. Run: Rscript make_outcome_statistics.R
library(survival)
x <- c(9, 7, 10, 4, 18, 11); n <- c(10, 10, 11, 10, 20, 12)
minusLog <- function(t) { a <- exp(t[1]); b <- exp(t[2]); -sum(lchoose(n, x) + lbeta(x + a, n - x + b) - lbeta(a, b)) }
o <- optim(c(1, 0), minusLog, method = "BFGS", control = list(reltol = 1e-14))
a <- exp(o$par[1]); b <- exp(o$par[2])
print(c(a = a, b = b, mean = a / (a + b), rho = 1 / (a + b + 1), logLikelihood = -o$value), digits = 8)
print(round((x + a) / (n + a + b), 5))
t <- c(30, 60, 60, 90, 120, 150, 45, 90, 120, 180, 180, 200); e <- c(1, 1, 0, 1, 1, 0, 1, 0, 1, 1, 0, 0)
f <- survfit(Surv(t, e) ~ 1)
print(data.frame(f$time, f$n.risk, f$n.event, round(f$surv, 6), round(f$std.err * f$surv, 6), f$lower, f$upper))
print(fisher.test(matrix(c(37, 22, 50, 9), 2, byrow = TRUE))$p.value)
print(fisher.test(matrix(c(18, 41, 34, 25), 2, byrow = TRUE))$p.value)
