import { defineConfig } from 'vitest/config';

// Whatever the machine is set to, tests see the same world; the ones about time zones set their own.
process.env['TZ'] = 'UTC';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/fixtures/**', 'node_modules/**'],
    benchmark: { include: ['tests/bench/**/*.bench.ts'] },
    // Whole builds in processes of their own; a slow machine is no fault.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // Two cores: a browser or an Astro build beside the tests is load enough.
    maxWorkers: 2,
  },
});
