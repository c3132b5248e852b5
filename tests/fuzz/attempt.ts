/** Tries of one part: seeded, bounded, and each fault told once with the smallest input that still shows it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { Broken, type Content, type Files, type Part } from './case.js';
import { smaller } from './smaller.js';

export interface Failure {
  /** First line of what is wrong; one fault has one. */
  readonly name: string;
  readonly told: string;
  readonly files: Files;
}

export interface Outcome {
  readonly tries: number;
  readonly runs: number;
  readonly slowestMs: number;
  readonly failures: readonly Failure[];
}

export interface Bounds {
  readonly seed: number;
  /** At most so many tries. */
  readonly tries: number;
  readonly ms: number;
  /** Time to make one failure small. */
  readonly shrinkMs: number;
  /** Is told every input before it is tried, so that one that never ends is known too. */
  readonly before?: (files: Files) => void;
}

const BATCH = 50;
/** Faults after which a part stops: they would fill the screen. */
const ENOUGH = 12;

export async function attempt(part: Part, { seed, tries, ms, shrinkMs, before }: Bounds): Promise<Outcome> {
  const folder = mkdtempSync(join(tmpdir(), 'rigproof-fuzz-'));
  const end = performance.now() + ms;
  const failures = new Map<string, Failure>();
  let [done, runs, slowestMs] = [0, 0, 0];
  try {
    for (let batch = 0; done < tries && performance.now() < end; batch++) {
      for (const files of fc.sample(part.files, { seed: seed + batch, numRuns: Math.min(BATCH, tries - done) })) {
        if (performance.now() >= end || failures.size >= ENOUGH) break;
        before?.(files);
        const began = performance.now();
        try {
          runs += await part.judge(files, folder);
        } catch (error) {
          const { name, told } = wordsOf(error);
          if (!failures.has(name)) {
            const fails = async (now: Files): Promise<boolean> => (await faultOf(part, now, folder))?.name === name;
            const least = await smaller(files, fails, shrinkMs);
            failures.set(name, { name, told: (await faultOf(part, least, folder))?.told ?? told, files: least });
          }
        }
        slowestMs = Math.max(slowestMs, performance.now() - began);
        done++;
      }
      if (failures.size >= ENOUGH) break;
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  return { tries: done, runs, slowestMs, failures: [...failures.values()] };
}

export async function faultOf(part: Part, files: Files, folder: string): Promise<Omit<Failure, 'files'> | undefined> {
  try {
    await part.judge(files, folder);
    return undefined;
  } catch (error) {
    return wordsOf(error);
  }
}

function wordsOf(error: unknown): Omit<Failure, 'files'> {
  if (error instanceof Broken) return { name: error.message.split('\n', 1)[0] ?? '', told: error.message };
  const told = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return { name: told.split('\n', 1)[0] ?? '', told };
}

/** An input as it is kept in `corpus`: what was found once, tried by every run of the tests. */
export interface Kept {
  readonly part: string;
  readonly about: string;
  readonly files: Readonly<Record<string, string | { readonly base64: string }>>;
}

export function keptOf(part: string, about: string, files: Files): Kept {
  const plain = (content: Content): Kept['files'][string] =>
    typeof content === 'string' && !/[\ud800-\udfff]/.test(content)
      ? content
      : { base64: Buffer.from(content as string).toString('base64') };
  return { part, about, files: Object.fromEntries(Object.entries(files).map(([name, one]) => [name, plain(one)])) };
}

export function readKept(path: string): { readonly part: string; readonly files: Files } {
  const { part, files } = JSON.parse(readFileSync(path, 'utf8')) as Kept;
  const content = (one: Kept['files'][string]): Content =>
    typeof one === 'string' ? one : new Uint8Array(Buffer.from(one.base64, 'base64'));
  return { part, files: Object.fromEntries(Object.entries(files).map(([name, one]) => [name, content(one)])) };
}

export function keep(path: string, kept: Kept): void {
  writeFileSync(path, `${JSON.stringify(kept, undefined, 1)}\n`);
}
