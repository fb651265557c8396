# The one-trait evaluation again by another way: Henderson's mixed model equations from the inverse of A, factored by sparse Cholesky (CHOLMOD in Matrix).
#
#     Rscript make_evaluation.R
#
# Made with R 4 and Matrix. A's inverse is read from ../pedigree/shared-batch.json (checked there); prints yard-years, effects, error variances and the
# restricted likelihood of variances.test.ts from log|R| + log|G x A| + log|C| + y'Py.
suppressMessages(library(Matrix))
here <- dirname(sub('^--file=', '', grep('^--file=', commandArgs(), value = TRUE)))
text <- paste(readLines(file.path(here, '..', 'pedigree', 'shared-batch.json'), warn = FALSE), collapse = '')
numbers <- function(key) {
  part <- regmatches(text, regexpr(paste0('"', key, '": \\[[^a-zA-Z"]*\\]'), text))
  as.numeric(regmatches(part, gregexpr('-?[0-9.]+(e[-+]?[0-9]+)?', part))[[1]])
}
ids <- gsub('"id": |"', '', regmatches(text, gregexpr('"id": "[^"]+"', text))[[1]])
n <- length(ids)
Ainv <- Matrix(matrix(numbers('Ainv'), n, n), sparse = TRUE)
own <- numbers('d')

queen <- c('A', 'B', 'Q1', 'Q2', 'Q3', 'Q4')
pool <- c('sA', 'sB', 'P', 'P', 's3', 's4')
level <- c(1, 1, 1, 2, 2, 2)
y <- c(42, 35, 47, 30, 28, 21)
G <- matrix(c(6, -2, -2, 4), 2)
residual <- 10

rows <- seq_along(y)
X <- sparseMatrix(rows, level, x = 1, dims = c(6, 2))
worker <- sparseMatrix(c(rows, rows), c(match(queen, ids), match(pool, ids)), x = rep(c(0.5, 1), each = 6), dims = c(6, n))
own_effect <- sparseMatrix(rows, match(queen, ids), x = 1, dims = c(6, n))
W <- cbind(X, worker, own_effect)
C <- forceSymmetric(crossprod(W) / residual + bdiag(Matrix(0, 2, 2), kronecker(solve(G), Ainv)))
right <- crossprod(W, y) / residual
factor <- Cholesky(C, LDL = FALSE)
solution <- as.vector(solve(factor, right))
errors <- diag(solve(C))

cat('yard-years', sprintf('%.6f', solution[1:2]), '\n')
for (i in seq_len(n))
  cat(sprintf('  %-3s %9.5f %9.5f  pev %8.5f %8.5f\n', ids[i], solution[2 + i], solution[2 + n + i], errors[2 + i], errors[2 + n + i]))
log_C <- as.numeric(determinant(C)$modulus)
log_G <- 2 * sum(log(own)) + n * log(det(G))
yPy <- sum(y^2) / residual - sum(solution * right)
cat('restricted likelihood', sprintf('%.9f', -0.5 * (length(y) * log(residual) + log_G + log_C + yPy)), '\n')
