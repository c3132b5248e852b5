/**
 * An order in which nothing is taken before it is given up: a port, an address, a group, a VLAN id. Where boxes swap such
 * things in a ring, one of them gives its own up first and takes the new one at the end.
 */
import { append } from '../collections/group-by.js';
import type { Step } from './steps.js';

interface Item {
  readonly step: Step;
  readonly stage: number;
}

/** Which items wait for which, by their positions. */
interface Waits {
  /** How many others an item waits for. */
  readonly blockers: readonly number[];
  readonly waiters: ReadonlyMap<number, readonly number[]>;
}

/** The steps of each stage. A step keeps its place, or comes right after the last that it waits for, in whatever stage that is. */
export function inSafeOrder(stages: readonly (readonly Step[])[]): readonly (readonly Step[])[] {
  const { items, waits } = withoutRings(stages.flatMap((steps, stage) => steps.map((step): Item => ({ step, stage }))));
  const { waiters } = waits;
  const blockers = [...waits.blockers];
  const found: Step[][] = stages.map(() => []);
  const passed = new Set<number>();
  let stage = 0;
  const emit = (start: number): void => {
    const queue = [start];
    for (const at of queue) {
      const item = items[at];
      if (item !== undefined) found[stage]?.push(item.step);
      for (const waiter of waiters.get(at) ?? []) {
        blockers[waiter] = (blockers[waiter] ?? 0) - 1;
        // What still comes keeps its place.
        if (blockers[waiter] === 0 && passed.has(waiter)) queue.push(waiter);
      }
    }
  };
  for (const [at, item] of items.entries()) {
    stage = item.stage;
    if ((blockers[at] ?? 0) > 0) passed.add(at);
    else emit(at);
  }
  return found;
}

/** Each ring is broken at its first step: giving up and taking become two. And who waits for whom then. */
function withoutRings(items: readonly Item[]): { readonly items: readonly Item[]; readonly waits: Waits } {
  const waits = waitsOf(items);
  const { waiters } = waits;
  const blockers = [...waits.blockers];
  const split = new Set<number>();
  const done = new Set<number>();
  const finish = (queue: number[]): void => {
    for (const at of queue) {
      done.add(at);
      for (const waiter of waiters.get(at) ?? []) {
        blockers[waiter] = (blockers[waiter] ?? 0) - 1;
        if (blockers[waiter] === 0 && !done.has(waiter)) queue.push(waiter);
      }
    }
  };
  finish(items.flatMap((_, at) => (blockers[at] === 0 ? [at] : [])));
  const ringed = inRings(
    [...items.keys()].filter((at) => !done.has(at)),
    waiters,
  );
  for (const at of ringed) {
    if (done.has(at)) continue;
    split.add(at);
    finish([at]);
  }
  if (split.size === 0) return { items, waits };
  const whole = items.flatMap((item, at) => (split.has(at) ? halvesOf(item) : [item]));
  return { items: whole, waits: waitsOf(whole) };
}

/** Those of steps that wait which others wait for in turn, without end: rings, and what lies between two of them. */
function inRings(waiting: readonly number[], waiters: Waits['waiters']): ReadonlySet<number> {
  const left = new Set(waiting);
  const blockersOf = new Map<number, number[]>();
  const counts = new Map<number, number>();
  for (const at of waiting) {
    const own = (waiters.get(at) ?? []).filter((one) => left.has(one));
    counts.set(at, own.length);
    for (const waiter of own) append(blockersOf, waiter, at);
  }
  const queue = waiting.filter((at) => counts.get(at) === 0);
  for (const at of queue) {
    left.delete(at);
    for (const blocker of blockersOf.get(at) ?? []) {
      const count = (counts.get(blocker) ?? 0) - 1;
      counts.set(blocker, count);
      if (count === 0) queue.push(blocker);
    }
  }
  return left;
}

function halvesOf({ step, stage }: Item): readonly Item[] {
  return [
    { stage, step: { ...step, action: 'remove', new: undefined, claims: [] } },
    { stage, step: { ...step, action: 'add', old: undefined, frees: [] } },
  ];
}

function waitsOf(items: readonly Item[]): Waits {
  const freeing = new Map<string, number[]>();
  for (const [at, { step }] of items.entries()) for (const key of step.frees ?? []) append(freeing, key, at);
  const waiters = new Map<number, number[]>();
  const blockers = items.map(({ step }, at) => {
    const before = new Set((step.claims ?? []).flatMap((key) => freeing.get(key) ?? []));
    before.delete(at);
    for (const other of before) append(waiters, other, at);
    return before.size;
  });
  return { blockers, waiters };
}
