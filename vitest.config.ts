import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['src/**/*.test.ts', 'tests/**/*.test.ts'],
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    globalSetup: ['tests/support/global-setup.ts'],
  },
});
