import { defineConfig } from 'vitest/config';
import { SuiteReporter } from './suite-reporter.js';

export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    testTimeout: 60_000,
    reporters: ['default', new SuiteReporter()],
  },
});
