/** A short run of the fuzzing, always the same one; and all that longer runs have found. */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { attempt, faultOf, readKept } from './attempt.js';
import { PARTS } from './parts.js';

const SEED = 20_260_601;
const CORPUS = 'tests/fuzz/corpus';

describe.each(PARTS.map((part) => [part.name, part] as const))('%s', (_, part) => {
  it(part.about, async () => {
    const { tries, runs, failures } = await attempt(part, {
      seed: SEED,
      tries: part.short,
      ms: Infinity,
      shrinkMs: 5_000,
    });
    expect(failures.map(({ told, files }) => `${told}\n${JSON.stringify(files)}`)).toEqual([]);
    expect(tries).toBe(part.short);
    expect(runs).toBeGreaterThan(tries * (part.refused ?? 0));
  });
});

describe('what was found once', () => {
  it.each(readdirSync(CORPUS))('%s', async (name) => {
    const { part, files } = readKept(join(CORPUS, name));
    const judged = PARTS.find((one) => one.name === part);
    if (judged === undefined) throw new Error(`there is no part ${part}`);
    const folder = mkdtempSync(join(tmpdir(), 'rigproof-corpus-'));
    try {
      expect(await faultOf(judged, files, folder)).toBeUndefined();
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
