// Supernodal Cholesky factorisation (CHOLMOD, one BLAS thread) of a symmetric matrix by compressed columns.
// Usage: cholesky FILE repeats; FILE as for cg.cpp. Prints ms of ordering and analysis, ms of factorisation.
#include <cholmod.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
static double now(void) {
  if (getenv("BENCH_CPU")) return 1e3 * clock() / CLOCKS_PER_SEC;
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return 1e3 * t.tv_sec + 1e-6 * t.tv_nsec;
}
int main(int argc, char** argv) {
  (void)argc;
  FILE* f = fopen(argv[1], "rb");
  int n, nnz;
  if (fread(&n, 4, 1, f) != 1 || fread(&nnz, 4, 1, f) != 1) return 1;
  cholmod_common c;
  cholmod_start(&c);
  c.supernodal = CHOLMOD_SUPERNODAL;
  c.nmethods = 1;
  c.method[0].ordering = CHOLMOD_AMD;
  cholmod_sparse* A = cholmod_allocate_sparse(n, n, nnz, 1, 1, -1, CHOLMOD_REAL, &c);
  if (fread(A->p, 4, n + 1, f) != (size_t)(n + 1) || fread(A->i, 4, nnz, f) != (size_t)nnz || fread(A->x, 8, nnz, f) != (size_t)nnz) return 1;
  fclose(f);
  for (int r = 0; r < atoi(argv[2]); r++) {
    double t0 = now();
    cholmod_factor* L = cholmod_analyze(A, &c);
    double t1 = now();
    cholmod_factorize(A, L, &c);
    double t2 = now();
    printf("%.3f %.3f\n", t1 - t0, t2 - t1);
    cholmod_free_factor(&L, &c);
  }
  cholmod_finish(&c);
  return 0;
}
