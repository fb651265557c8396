# Reference values for regressions.json. R 4.2.2, survival 3.5-3, lme4 1.1-31. Run: Rscript make_regressions.R > regressions.json
# Data are drawn here with fixed seeds, rounded, and kept beside the answers.
suppressMessages({ library(survival); library(lme4) })
num <- function(x) { if (length(x) == 1) paste0("[", format(x, digits = 10), "]") else paste0("[", paste(format(x, digits = 10, trim = TRUE), collapse = ", "), "]") }
one <- function(x) format(x, digits = 10)
obj <- function(...) { a <- list(...); paste0("{", paste(sprintf('"%s": %s', names(a), unlist(a)), collapse = ",\n"), "}") }
coxOf <- function(f, scored = TRUE) obj(coefficients = num(unname(coef(f))), standardErrors = num(unname(sqrt(diag(vcov(f))))),
  logLikelihoodAtZero = one(f$loglik[1]), logLikelihood = one(f$loglik[2]), score = one(f$score))
zphOf <- function(f, how) { z <- cox.zph(f, transform = how, terms = FALSE)$table; obj(statistics = num(unname(z[, "chisq"])), p = num(unname(z[, "p"]))) }
rankOf <- function(s) obj(statistic = one(s$chisq), observed = num(if (is.matrix(s$obs)) rowSums(s$obs) else s$obs), expected = num(if (is.matrix(s$exp)) rowSums(s$exp) else s$exp))

# Twelve in two groups.
t <- c(30, 60, 60, 90, 120, 150, 45, 90, 120, 180, 180, 200); e <- c(1, 1, 0, 1, 1, 0, 1, 0, 1, 1, 0, 0); g <- rep(0:1, each = 6)
twelve <- obj(time = num(t), happened = num(e), group = num(g), logRank = rankOf(survdiff(Surv(t, e) ~ g)),
  breslow = coxOf(coxph(Surv(t, e) ~ g, ties = "breslow")), efron = coxOf(coxph(Surv(t, e) ~ g, ties = "efron")))

# 240 cases: ties (whole numbers of five), late beginnings, three groups, two covariates, two strata.
set.seed(11)
n <- 240
x1 <- round(rnorm(n, 100, 15)); x2 <- rbinom(n, 1, .4); grp <- sample(0:2, n, TRUE, c(.5, .3, .2)); st <- rbinom(n, 1, .5)
late <- ifelse(runif(n) < .4, 5 * rpois(n, 8), 0)
life <- late + 5 * ceiling(rexp(n, .004 * exp(.03 * (x1 - 100) - .7 * x2 + .5 * (grp == 2))) / 5)
end <- late + 5 * ceiling(runif(n, 30, 500) / 5)
time <- pmin(life, end); hap <- as.integer(life <= end)
S <- Surv(late, time, hap); a <- as.integer(grp == 1); b <- as.integer(grp == 2)
ef <- coxph(S ~ x1 + x2 + a + b, ties = "efron"); br <- coxph(S ~ x1 + x2 + a + b, ties = "breslow")
stf <- coxph(S ~ x1 + x2 + a + b + strata(st), ties = "efron")
sf <- survfit(S ~ 1)
had <- sf$n.event > 0
# survdiff takes no late beginnings. Without ties the score at 0 of a Cox regression is the log-rank test, and coxph takes them.
apart <- time + seq_len(n) / 1000
lr <- coxph(Surv(late, apart, hap) ~ a + b); lrs <- coxph(Surv(late, apart, hap) ~ a + b + strata(st))
many <- obj(from = num(late), time = num(time), happened = num(hap), group = num(grp), stratum = num(st), x1 = num(x1), x2 = num(x2),
  curve = obj(time = num(sf$time[had]), atRisk = num(sf$n.risk[had]), share = num(sf$surv[had]), standardError = num((sf$std.err * sf$surv)[had])),
  logRankLate = one(lr$score), logRankLateStrata = one(lrs$score),
  logRank = rankOf(survdiff(Surv(time, hap) ~ grp)), logRankStrata = rankOf(survdiff(Surv(time, hap) ~ grp + strata(st))),
  groupsOnly = coxOf(coxph(S ~ a + b, ties = "efron")), efron = coxOf(ef), breslow = coxOf(br), strata = coxOf(stf),
  zphIdentity = zphOf(ef, "identity"), zphLog = zphOf(ef, log), zphBreslow = zphOf(br, "identity"))

mixedOf <- function(f) { s <- summary(f); r <- ranef(f, condVar = TRUE)
  obj(intercept = one(unname(fixef(f)[1])), coefficients = if (length(fixef(f)) > 1) num(unname(fixef(f)[-1])) else "[]",
  standardErrors = num(unname(s$coefficients[, 2])), spreads = num(sapply(names(r), function(k) attr(VarCorr(f)[[k]], "stddev"))),
  order = paste0('["', paste(names(r), collapse = '", "'), '"]'), logLikelihood = one(as.numeric(logLik(f))),
  levels = paste0("[", paste(sapply(r, function(q) num(q[, 1])), collapse = ",\n"), "]"),
  levelErrors = paste0("[", paste(sapply(r, function(q) num(sqrt(as.numeric(attr(q, "postVar"))))), collapse = ",\n"), "]"),
  fitted = num(unname(fitted(f)[seq_len(min(12, length(fitted(f))))]))) }
ctl <- glmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-10, maxfun = 1e5), tolPwrss = 1e-12, calc.derivs = TRUE)

# Six batches.
s <- c(9, 7, 10, 4, 18, 11); m <- c(10, 10, 11, 10, 20, 12); k <- factor(seq_along(s))
six <- obj(successes = num(s), trials = num(m), fit = mixedOf(glmer(cbind(s, m - s) ~ 1 + (1 | k), family = binomial, control = ctl)))

# 420 single outcomes: 40 batches crossed with 6 persons, a quantity and a group beside.
set.seed(5)
n <- 420; batch <- sample(1:40, n, TRUE); person <- sample(1:6, n, TRUE, c(.3, .25, .2, .1, .1, .05))
ub <- rnorm(40, 0, .8); up <- rnorm(6, 0, .6); age <- round(rgamma(n, 2, .25)); type <- rbinom(n, 1, .35)
y <- rbinom(n, 1, plogis(1.6 - .09 * age + .6 * type + ub[batch] + up[person]))
bf <- factor(batch); pf <- factor(person)
two <- obj(y = num(y), batch = num(batch - 1), person = num(person - 1), age = num(age), type = num(type),
  fit = mixedOf(glmer(y ~ age + type + (1 | bf) + (1 | pf), family = binomial, control = ctl)),
  plain = { f <- glm(y ~ age + type, family = binomial); obj(coefficients = num(unname(coef(f))), standardErrors = num(unname(sqrt(diag(vcov(f))))), logLikelihood = one(as.numeric(logLik(f)))) })
cat(obj(twelve = twelve, many = many, six = six, two = two), "\n")
