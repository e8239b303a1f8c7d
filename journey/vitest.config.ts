import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['journey/**/*.test.ts'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // One engine, one browser: the files take turns.
    fileParallelism: false,
  },
});
