import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { SuiteReporter } from './suite-reporter.js';

/** These start programs or make networks, so each file has a process of its own. */
const MACHINE = ['tests/{cli,twin}/**/*.test.ts', 'tests/docs.test.ts'];
/** Too long for every small step: sweeps over published files, random networks and requests. */
const SLOW = ['tests/{allocate,network,outside}/**/*.test.ts', 'tests/**/*.slow.test.ts'];

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('../..', import.meta.url)),
    reporters: ['default', new SuiteReporter()],
    // Guards against hanging; no test holds a time.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // Tests that ask no machine share a worker, which loads every module once: no test may leave a module changed.
    pool: 'threads',
    isolate: false,
    projects: [
      {
        extends: true,
        test: { name: 'fast', include: ['tests/**/*.test.ts'], exclude: [...SLOW, ...MACHINE] },
      },
      { extends: true, test: { name: 'slow', include: SLOW, exclude: MACHINE } },
      { extends: true, test: { name: 'machine', include: MACHINE, pool: 'forks', isolate: true } },
    ],
  },
});
