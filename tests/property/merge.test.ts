/**
 * Laws of joining rigs: rigs that share nothing meet in silence, the order of arguments changes nothing, a repair leaves
 * nothing to repair and touches no more boxes than it must, and the sheet says exactly what was done.
 */
import { findingJson } from '../../src/report/lint/json.js';
import { whatOf, worded } from '../tools/worded.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { lintInputs } from '../../src/lint/lint.js';
import { mergeRigs, type MergeResult } from '../../src/merge/merge.js';
import { applySheet } from '../../src/merge/apply.js';
import { documentsByFile } from '../../src/merge/files.js';
import { readSides } from '../../src/merge/sides.js';
import { readDocument, type Input } from '../../src/read/index.js';
import type { Document } from '../../src/source/document.js';
import { asText } from '../tools/texts.js';
import { joinInput, rigInput, type Camera, type RigShape } from '../tools/two-rigs.js';

const TODAY = '2026-06-01';

/** Few numbers, so that many clash. */
const camera = fc.record({
  block: fc.integer({ min: 10, max: 13 }),
  last: fc.integer({ min: 1, max: 6 }),
  host: fc.integer({ min: 1, max: 200 }),
});

/** Clean by itself: no group and no address comes twice. */
const cameras = (most: number): fc.Arbitrary<readonly Camera[]> =>
  fc
    .uniqueArray(camera, { minLength: 1, maxLength: most, selector: ({ block, last }) => `${block} ${last}` })
    .map((list) => {
      const hosts = new Set<number>();
      return list.filter(({ host }) => !hosts.has(host) && hosts.add(host));
    });

const screens = fc.array(fc.nat({ max: 0 }), { maxLength: 3 });

function rig(name: string, most: number): fc.Arbitrary<RigShape> {
  return fc.record({
    name: fc.constant(name),
    cameras: cameras(most),
    ids: fc.constantFrom(10, 11, 20),
    net: fc.constantFrom(20, 30),
    screens,
  });
}

const two = (most = 8): fc.Arbitrary<readonly [RigShape, RigShape]> =>
  fc.tuple(rig('Heron', most), rig('Dunlin', most));

function merge(
  rigs: readonly RigShape[],
  more: { readonly repair?: boolean; readonly keep?: string } = {},
): MergeResult {
  return mergeRigs(rigs.map(rigInput), RULES, {
    today: TODAY,
    joining: [joinInput(rigs.map(({ name }) => name))],
    ...more,
  });
}

/** The repaired plans as files to be merged again. */
function again(
  { repaired, sides }: MergeResult,
  more: { readonly repair?: boolean; readonly keep?: string },
): MergeResult {
  const after = repaired?.repair.after;
  if (after === undefined) throw new Error('nothing was repaired');
  const input = (document: Document): Input => ({
    name: document.name,
    text: asText(document).text,
    format: document.format,
  });
  return mergeRigs(
    after.sides.map((side, index) => ({ from: sides[index]?.from ?? '', inputs: side.documents.map(input) })),
    RULES,
    { today: TODAY, joining: after.joining.map(input), ...more },
  );
}

describe('rigs alone', () => {
  it('are clean, so that whatever is found comes from the joining', () => {
    fc.assert(
      fc.property(two(), (rigs) => {
        for (const one of rigs) {
          const { findings, problems } = lintInputs(rigInput(one).inputs, RULES, { today: TODAY });
          expect(problems).toEqual([]);
          expect(findings.map(worded).map(({ rule, what }) => `${rule}: ${what}`)).toEqual([]);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('rigs that share nothing', () => {
  it('meet in silence', () => {
    fc.assert(
      fc.property(cameras(8), cameras(8), (a, b) => {
        const heron: RigShape = { name: 'Heron', cameras: a, ids: 10, net: 20 };
        const dunlin: RigShape = {
          name: 'Dunlin',
          cameras: b.map((one) => ({ ...one, block: one.block + 10 })),
          ids: 20,
          net: 30,
        };
        const result = mergeRigs([heron, dunlin].map(rigInput), RULES, { today: TODAY });
        expect(result.problems).toEqual([]);
        expect(result.supposed).toHaveLength(2);
        expect(result.joined?.findings.map(worded).map(({ rule, what }) => `${rule}: ${what}`)).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });
});

describe('the order of arguments', () => {
  it('changes nothing', () => {
    fc.assert(
      fc.property(two(), ([a, b]) => {
        const here = merge([a, b], { repair: true });
        const there = merge([b, a], { repair: true });
        expect(there.joined?.findings.map(findingJson)).toEqual(here.joined?.findings.map(findingJson));
        expect(there.repaired?.repair.edits).toEqual(here.repaired?.repair.edits);
        expect(there.repaired?.comparison.steps).toEqual(here.repaired?.comparison.steps);
      }),
      { numRuns: 25 },
    );
  });
});

/** Rules whose findings new numbers mend. */
const NUMBERS = /^(groups|hosts|subnets|sources|igmp|timing)\/|^vlans\/(id-twice|joined-ids-differ)$/;

describe('a repair', () => {
  it('leaves nothing that new numbers can mend, and brings nothing new', () => {
    fc.assert(
      fc.property(two(), fc.constantFrom(undefined, 'Heron', 'Dunlin'), (rigs, keep) => {
        const { repaired } = merge(rigs, keep === undefined ? { repair: true } : { repair: true, keep });
        expect(repaired?.repair.problems).toEqual([]);
        expect(repaired?.repair.stuck).toEqual([]);
        expect(repaired?.fresh).toEqual([]);
        expect(
          repaired?.left
            .filter(({ rule }) => NUMBERS.test(rule))
            .map(worded)
            .map(({ rule, what }) => `${rule}: ${what}`),
        ).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('of the repaired is empty', () => {
    fc.assert(
      fc.property(two(), fc.constantFrom(undefined, 'Heron', 'Dunlin'), (rigs, keep) => {
        const how = keep === undefined ? { repair: true } : { repair: true, keep };
        const second = again(merge(rigs, how), how);
        expect(second.repaired?.repair.edits).toEqual([]);
      }),
      { numRuns: 30 },
    );
  });

  it('leaves the rig to keep as it is', () => {
    fc.assert(
      fc.property(two(), (rigs) => {
        const { repaired } = merge(rigs, { repair: true, keep: 'Dunlin' });
        expect(repaired?.repair.edits.filter(({ file }) => file.startsWith('Dunlin/'))).toEqual([]);
      }),
      { numRuns: 30 },
    );
  });

  it('keeps the second leg where the first one puts it, and the last number of every group', () => {
    fc.assert(
      fc.property(two(), (rigs) => {
        const { repaired } = merge(rigs, { repair: true });
        for (const sender of repaired?.repair.plan.senders ?? []) {
          const [first, second] = sender.legs.map(({ group }) => Number(group));
          expect((second ?? 0) - (first ?? 0)).toBe(0x10000);
        }
      }),
      { numRuns: 30 },
    );
  });

  it('touches as few boxes as any choice could', () => {
    fc.assert(
      fc.property(two(7), (rigs) => {
        const { joined, repaired } = merge(rigs, { repair: true });
        // From the findings, not from the program's own list of clashes.
        const pairs = (joined?.findings ?? [])
          .filter(
            ({ rule }) =>
              rule === 'groups/two-senders' || rule === 'groups/ethernet-alias' || rule === 'hosts/duplicate-address',
          )
          .map(({ parties }) => parties.map((party) => party.replace(/^switch /, '').replace(/[/ ].*$/, '')));
        const bound = [...new Set(pairs.flat())];
        let least = bound.length;
        for (let mask = 0; mask < 1 << bound.length; mask++) {
          const moved = new Set(bound.filter((_, index) => (mask >> index) & 1));
          // All boxes of one rig or all of the other give way.
          const done = pairs.every((boxes) =>
            ['Heron', 'Dunlin'].some((name) =>
              boxes.filter((box) => box.startsWith(name)).every((box) => moved.has(box)),
            ),
          );
          if (done) least = Math.min(least, moved.size);
        }
        // Where subnets overlap whole subnets move, which is another choice.
        fc.pre(rigs[0].net !== rigs[1].net || pairs.length < 12);
        expect(repaired?.repair.touched).toBe(least);
        expect(repaired?.repair.atLeast).toBe(least);
      }),
      { numRuns: 40 },
    );
  });
});

describe('three rigs', () => {
  const three = fc.tuple(rig('Grebe', 4), rig('Heron', 4), rig('Dunlin', 4));

  it('meet without a clash once renumbered, and the bound holds', () => {
    fc.assert(
      fc.property(three, fc.constantFrom(undefined, 'Grebe'), (rigs, keep) => {
        const { repaired } = merge(rigs, keep === undefined ? { repair: true } : { repair: true, keep });
        expect(repaired?.repair.problems).toEqual([]);
        expect(repaired?.repair.stuck).toEqual([]);
        expect(repaired?.fresh).toEqual([]);
        expect(repaired?.left.filter(({ rule }) => NUMBERS.test(rule)).map(whatOf)).toEqual([]);
        const { touched = 0, atLeast = 0 } = repaired?.repair ?? {};
        expect(atLeast).toBeLessThanOrEqual(touched);
      }),
      { numRuns: 25 },
    );
  });
});

describe('a change sheet', () => {
  it('put into the plans gives exactly the repaired ones, and put in twice changes nothing', () => {
    fc.assert(
      fc.property(two(), (rigs) => {
        const { repaired } = merge(rigs, { repair: true });
        if (repaired === undefined) throw new Error('nothing was repaired');
        const { edits, before, after } = repaired.repair;
        const written = JSON.parse(JSON.stringify(edits)) as typeof edits;
        const applied = applySheet(written, before);
        expect(applied.problems).toEqual([]);
        for (const [file, document] of documentsByFile(after)) {
          const was = documentsByFile(before).get(file);
          const text = applied.texts.get(file)?.text ?? (was && asText(was).text);
          expect(readDocument({ name: file, text: text ?? '', format: document.format }).document?.value).toEqual(
            document.value,
          );
        }
        const twice = applySheet(written, after);
        expect(twice.problems).toEqual([]);
        expect(twice.changed).toBe(0);
        expect(twice.already).toBe(edits.length);
      }),
      { numRuns: 30 },
    );
  });
});

describe('comments', () => {
  it('stay where they are', () => {
    const rigs: readonly RigShape[] = ['Heron', 'Dunlin'].map((name) => ({
      name,
      cameras: [{ block: 10, last: 1, host: 1 }],
      ids: 10,
      net: 20,
    }));
    const { repaired } = merge(rigs, { repair: true });
    const texts = (repaired?.repair.after.sides ?? []).flatMap(({ documents }) =>
      documents.map((one) => asText(one).text),
    );
    expect(texts.join('\n').match(/# (Heron|Dunlin), leg [12]/g)).toEqual([
      '# Dunlin, leg 1',
      '# Dunlin, leg 2',
      '# Heron, leg 1',
      '# Heron, leg 2',
    ]);
    expect(readSides(rigs.map(rigInput)).problems).toEqual([]);
  });
});
