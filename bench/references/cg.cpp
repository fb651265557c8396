// Conjugate gradients with a diagonal preconditioner (Eigen) on a symmetric matrix by compressed columns.
// Usage: cg FILE tolerance repeats; FILE holds int32 n, int32 nnz, start[n+1], row[nnz], double value[nnz], b[n]. Prints ms iterations.
#include <Eigen/Sparse>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <vector>
// Milliseconds on the clock, or of the processor when BENCH_CPU is set.
static double now() {
  if (getenv("BENCH_CPU")) return 1e3 * clock() / CLOCKS_PER_SEC;
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now().time_since_epoch()).count();
}
int main(int, char** argv) {
  FILE* f = fopen(argv[1], "rb");
  int n, nnz;
  if (fread(&n, 4, 1, f) != 1 || fread(&nnz, 4, 1, f) != 1) return 1;
  std::vector<int> start(n + 1), row(nnz);
  std::vector<double> value(nnz), b(n);
  if (fread(start.data(), 4, n + 1, f) != size_t(n + 1) || fread(row.data(), 4, nnz, f) != size_t(nnz)) return 1;
  if (fread(value.data(), 8, nnz, f) != size_t(nnz) || fread(b.data(), 8, n, f) != size_t(n)) return 1;
  fclose(f);
  Eigen::Map<Eigen::SparseMatrix<double>> A(n, n, nnz, start.data(), row.data(), value.data());
  Eigen::Map<Eigen::VectorXd> rhs(b.data(), n);
  Eigen::SparseMatrix<double> M = A;
  for (int r = 0; r < atoi(argv[3]); r++) {
    double begin = now();
    Eigen::ConjugateGradient<Eigen::SparseMatrix<double>, Eigen::Lower | Eigen::Upper, Eigen::DiagonalPreconditioner<double>> cg;
    cg.setTolerance(atof(argv[2]));
    cg.setMaxIterations(20000);
    cg.compute(M);
    Eigen::VectorXd x = cg.solve(rhs);
    double ms = now() - begin;
    printf("%.3f %d\n", ms, int(cg.iterations()));
  }
}
