import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { SuiteReporter } from './suite-reporter.js';

/** A lab ends with the process that opens it (`tests/twin/lab.ts`), so each of these files has one of its own. */
const LABS = ['tests/twin/**/*.test.ts'];
/** Too long for every small step: sweeps over published files, random networks and requests, whole command lines. */
const SLOW = [
  'tests/{allocate,cli,network,outside}/**/*.test.ts',
  'tests/property/{allocate,allocate-earlier,merge}.test.ts',
  'tests/**/*.slow.test.ts',
];

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('../..', import.meta.url)),
    reporters: ['default', new SuiteReporter()],
    // Guards against hanging; no test holds a time.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // All other files share two workers, which load every module once: half the time, but no test may leave a module changed.
    pool: 'threads',
    isolate: false,
    projects: [
      {
        extends: true,
        test: { name: 'fast', include: ['tests/**/*.test.ts'], exclude: [...SLOW, ...LABS] },
      },
      { extends: true, test: { name: 'slow', include: SLOW } },
      { extends: true, test: { name: 'labs', include: LABS, pool: 'forks', isolate: true } },
    ],
  },
});
