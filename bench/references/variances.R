# Restricted maximum likelihood of the crossed model yield ~ 1 + (1|class) + (1|dam) + (1|mate), no relationships (lme4).
# Usage: Rscript variances.R FILE.csv; prints ms.
suppressMessages(library(lme4))
d <- read.csv(commandArgs(TRUE)[1], colClasses = c('factor', 'factor', 'factor', 'numeric'))
now <- function() if (Sys.getenv('BENCH_CPU') != '') sum(proc.time()[1:2]) else proc.time()[['elapsed']]
begin <- now()
fit <- lmer(y ~ 1 + (1 | class) + (1 | dam) + (1 | mate), d, control = lmerControl(check.nobs.vs.nlev = 'ignore', check.nobs.vs.nRE = 'ignore', calc.derivs = FALSE))
cat(1e3 * (now() - begin), '\n')
