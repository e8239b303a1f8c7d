import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['packages/*/src/**/*.test.{ts,tsx}', 'demo/**/*.test.ts', 'bench/**/*.test.ts'],
    testTimeout: 30_000,
    // Two cores: more workers only take turns.
    maxWorkers: 2,
  },
});
