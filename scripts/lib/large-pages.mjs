/**
 * Large pages for long columns of numbers: a million queens are some hundred megabytes, which the system otherwise hands out and clears 4 KB at a time. JavaScript
 * cannot ask for them, the C library of Linux can when it is told so before the process starts (GNU C library manual, "Memory Allocation Tunables",
 * glibc.malloc.hugetlb=1: transparent huge pages on request). Elsewhere the setting does nothing. Where somebody has set tunables of their own they stay.
 */
export const largePages = (env = process.env) => ({ GLIBC_TUNABLES: 'glibc.malloc.hugetlb=1', ...env });

/** Commands whose work is in long columns of numbers. */
const LARGE = ['kinship', 'breeding-values', 'variances'];

/** Whether this command line is worth a process of its own with large pages. */
export const wantsLargePages = ([command], { platform, env } = process) =>
  platform === 'linux' && env.GLIBC_TUNABLES === undefined && LARGE.includes(command ?? '');
