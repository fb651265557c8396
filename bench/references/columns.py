# Builds a sparse matrix by compressed columns from triplets (scipy). Usage: columns.py FILE repeats
# FILE holds int32 n, int32 count, row[count], column[count], double value[count]. Prints ms and entries.
import os, sys, time
import numpy as np
from scipy.sparse import coo_matrix
data = open(sys.argv[1], 'rb').read()
n, count = np.frombuffer(data, np.int32, 2)
row = np.frombuffer(data, np.int32, count, 8)
column = np.frombuffer(data, np.int32, count, 8 + 4 * count)
value = np.frombuffer(data, np.float64, count, 8 + 8 * count)
now = time.process_time if 'BENCH_CPU' in os.environ else time.perf_counter
for _ in range(int(sys.argv[2])):
    begin = now()
    matrix = coo_matrix((value, (row, column)), shape=(n, n)).tocsc()
    matrix.sort_indices()
    print(f'{1e3 * (now() - begin):.3f} {matrix.nnz}', flush=True)
