/** The reports of joined rigs: what they say of Heron and Dunlin, their schema, and that nothing from a plan escapes into them. */
import { Ajv } from 'ajv';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { mergeRigs, type MergeOptions, type MergeResult } from '../../src/merge/merge.js';
import { asTextInput } from '../tools/texts.js';
import { readInputs } from '../../src/edge/files.js';
import { mergePage } from '../../src/report/merge/page.js';
import { textsOf } from '../tools/page-parts.js';
import { measure } from '../../src/draw/width.js';
import { reportMergeJson, reportMergeText } from '../../src/reporters/merge.js';
import { rigInput } from '../tools/two-rigs.js';

const BAY = fileURLToPath(new URL('../../examples/kestrel-bay/', import.meta.url));
const PLAIN = { version: '0.1.0', width: 100, colour: false };
const SCHEMA = JSON.parse(readFileSync(new URL('../../schemas/merge.schema.json', import.meta.url), 'utf8')) as object;
const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(SCHEMA);

function merge(
  more: Partial<MergeOptions> = {},
  [first, second]: readonly string[] = ['heron', 'dunlin'],
): MergeResult {
  const side = (name: string): { from: string; inputs: ReturnType<typeof readInputs>['inputs'] } => ({
    from: `${BAY}${name}`,
    inputs: readInputs([`${BAY}${name}`]).inputs,
  });
  return mergeRigs([side(first ?? ''), side(second ?? '')], RULES, { today: '2026-06-01', ...more });
}

const joining = readInputs([`${BAY}join.yaml`]).inputs;
const counts = (result: MergeResult): Record<string, number> => {
  const found: Record<string, number> = {};
  for (const { rule } of result.joined?.findings ?? []) found[rule] = (found[rule] ?? 0) + 1;
  return found;
};

describe('Heron and Dunlin, joined as their join file says', () => {
  const result = merge({ joining, repair: true });

  it('clash where they are meant to', () => {
    // Planned: cameras 11 to 20 and the sound of one desk on both legs, 27 hosts and 2 switches on control,
    // pictures twice at whoever takes those groups, VLAN ids, two multiviewers, clocks that nobody agreed on.
    expect(counts(result)).toMatchObject({
      'groups/two-senders': 22,
      'hosts/duplicate-address': 29,
      'plan/duplicate-name': 1,
      'timing/intervals-differ': 1,
    });
  });

  it('bring along what is wrong with one of them, which is nothing new', () => {
    for (const names of [
      ['heron-broken', 'dunlin'],
      ['heron', 'dunlin-broken'],
      ['heron-broken', 'dunlin-broken'],
    ]) {
      const { joined, own } = merge({ joining }, names);
      const rules = new Set(joined?.findings.map(({ rule }) => rule));
      for (const rule of ['igmp/snooping-off', 'igmp/fast-leave-shared-port', 'plan/waiver-idle'])
        expect(rules.has(rule), `${rule} in ${names.join(' and ')}`).toBe(false);
      expect(own.length).toBeGreaterThan(30);
    }
  });

  it('say whose clock leads, whose clocks step, and who queries', () => {
    const [clocks] = result.meeting?.clocks ?? [];
    expect(clocks).toEqual({
      domain: 127,
      leaders: [{ name: 'clock-18', rig: 'Dunlin' }],
      step: [{ rig: 'Heron', clocks: 98, from: 'clock-201' }],
    });
    expect(result.meeting?.queriers.map(({ winner }) => `${winner.name} ${winner.rig} ${winner.address}`)).toContain(
      'red-core Heron 10.20.10.1',
    );
    expect(result.meeting?.ranges[0]).toEqual({ range: '239.192.10.0-239.192.29.255', rigs: ['Dunlin', 'Heron'] });
  });

  it('have no clash of numbers left once renumbered', () => {
    expect(result.repaired?.repair.problems).toEqual([]);
    expect(result.repaired?.repair.stuck).toEqual([]);
    expect(result.repaired?.fresh).toEqual([]);
    expect(result.repaired?.left.map(({ rule }) => rule)).toEqual(['plan/duplicate-name']);
    expect(result.repaired?.meeting.clocks[0]?.leaders).toEqual([{ name: 'clock-201', rig: 'Heron' }]);
  });

  it('move the block of one mixer by one step, and its second leg with it', () => {
    const steps = result.repaired?.comparison.steps ?? [];
    const moved = steps.filter(
      ({ box, what, action }) => box.name === 'vision' && what === 'group' && action === 'set',
    );
    expect(moved).toHaveLength(20);
    const jumps = new Set(moved.map(({ old, new: now }) => Number(now?.split('.')[2]) - Number(old?.split('.')[2])));
    expect([...jumps]).toEqual([20]);
  });

  it('fit the schema and the width', () => {
    for (const one of [result, merge({ joining }), merge()]) {
      const json = JSON.parse(reportMergeJson(one, PLAIN)) as object;
      expect(validate(json), JSON.stringify(validate.errors)).toBe(true);
      for (const width of [60, 100]) {
        const wide = reportMergeText(one, { ...PLAIN, width })
          .split('\n')
          .filter((line) => measure(line) > width && /\s/.test(line.trim()) && !line.includes('/'));
        expect(wide).toEqual([]);
      }
    }
  });
});

describe('rigs of which nobody says how they are joined', () => {
  const result = merge();

  it('are taken to meet where networks are alike, and it is said', () => {
    expect(result.supposed).toContain('red of Dunlin and red of Heron (media, leg 1)');
    expect(counts(result)).toMatchObject({ 'groups/two-senders': 34 });
    const [reason, ...supposed] = textsOf(mergePage(result), 'Supposed');
    expect(reason).toMatch(/^nobody says how the rigs are joined/);
    expect(supposed).toEqual(result.supposed);
  });
});

describe('a rig to keep', () => {
  it('is left alone', () => {
    const result = merge({ joining, repair: true, keep: 'Dunlin' });
    expect(result.repaired?.repair.edits.filter(({ file }) => file.startsWith('Dunlin/'))).toEqual([]);
    expect(result.repaired?.fresh).toEqual([]);
    expect(result.repaired?.meeting.clocks[0]?.leaders).toEqual([{ name: 'clock-18', rig: 'Dunlin' }]);
  });

  it('has to be one of them', () => {
    const result = merge({ joining, repair: true, keep: 'Hereon' });
    expect(result.problems.map(({ what, instead }) => `${what}; ${instead}`)).toEqual([
      'none of the plans is of a rig called `Hereon`; keep Dunlin or Heron',
    ]);
  });
});

describe('two small rigs, renumbered', () => {
  it('read like this', () => {
    const rigs = ['Heron', 'Dunlin'].map((name) =>
      rigInput({ name, cameras: [{ block: 10, last: 1, host: 1 }], ids: 10, net: 20 }),
    );
    const result = mergeRigs(rigs, RULES, { today: '2026-06-01', repair: true });
    expect(reportMergeText(result, PLAIN)).toMatchInlineSnapshot(`
      "JOINED: Dunlin, Heron
      ---------------------
      Supposed    nobody says how the rigs are joined, so what is alike is taken to meet; a join file
                  (--join) says better:
                  red of Dunlin and red of Heron (media, leg 1)
                  blue of Dunlin and blue of Heron (media, leg 2)

      CLASHES: 4 errors
      -----------------
           2      Two senders use one group where they can be heard together (groups/two-senders)
           2      Subnets of two VLANs overlap (subnets/overlap)
                  The report without --repair says each in full.

      PROPOSED NUMBERS
      ----------------
      Proof       with these numbers no finding is left
      Touched     1 box gives up groups or addresses; fewer can't do
      Settings    those of Dunlin hold where the rigs are one

      CHANGE SHEET
      ------------
      To do       20 steps, 4 of them on paper only
      Order       from the top; one leg is done before the next, so that the other stays on air, and
                  nothing is taken before it is free

      STAGE 1: Network red of Heron, leg 1 (8 steps)
      ----------------------------------------------
      1 [ ] switch Heron-sp-1  VLAN v-red      VLAN id 10 → 110
      2 [ ] switch Heron-sp-1  VLAN v-red      querier 10.20.1.254 → 10.20.3.254
      3 [ ] switch Heron-sp-1  VLAN v-red      address 10.20.1.254/24 → 10.20.3.254/24
      4 [ ] switch Heron-sw-1  VLAN v-red      VLAN id 10 → 110
      5 [ ] switch Heron-sw-1  VLAN v-red      querier 10.20.1.253 → 10.20.3.253
      6 [ ] switch Heron-sw-1  VLAN v-red      address 10.20.1.253/24 → 10.20.3.253/24
      7 [ ] Heron-cam-0        red             address 10.20.1.1/24 → 10.20.3.1/24
      8 [ ] Heron-cam-0        picture, leg 1  group 239.1.10.1 → 239.1.11.1

      STAGE 2: Network blue of Heron, leg 2 (8 steps)
      -----------------------------------------------
       9 [ ] switch Heron-sp-2  VLAN v-blue     VLAN id 11 → 111
      10 [ ] switch Heron-sp-2  VLAN v-blue     querier 10.20.2.254 → 10.20.4.254
      11 [ ] switch Heron-sp-2  VLAN v-blue     address 10.20.2.254/24 → 10.20.4.254/24
      12 [ ] switch Heron-sw-2  VLAN v-blue     VLAN id 11 → 111
      13 [ ] switch Heron-sw-2  VLAN v-blue     querier 10.20.2.253 → 10.20.4.253
      14 [ ] switch Heron-sw-2  VLAN v-blue     address 10.20.2.253/24 → 10.20.4.253/24
      15 [ ] Heron-cam-0        blue            address 10.20.2.1/24 → 10.20.4.1/24
      16 [ ] Heron-cam-0        picture, leg 2  group 239.2.10.1 → 239.2.11.1

      STAGE 3: On paper only (4 steps)
      --------------------------------
      17 [ ] joins        add join Dunlin:red, Heron:red
      18 [ ] joins        add join Dunlin:blue, Heron:blue
      19 [ ] VLAN v-blue  subnet 10.20.2.0/24 → 10.20.4.0/24
      20 [ ] VLAN v-red   subnet 10.20.1.0/24 → 10.20.3.0/24

      Caution     A clean result is a check on paper, not proof for air. Safety intercom and public
                  address follow local codes and competent testing.
      "
    `);
  });
});

describe('text from a plan', () => {
  it('stays text', () => {
    const evil = 'Her\u202eon';
    const rigs = [evil, 'Dunlin'].map((name) =>
      rigInput({ name: name === evil ? 'Heron' : name, cameras: [{ block: 10, last: 1, host: 1 }], ids: 10, net: 20 }),
    );
    const hostile = rigs.map((side) => ({
      ...side,
      inputs: side.inputs.map(asTextInput).map((input) => ({
        ...input,
        text: input.text.replaceAll('Heron', JSON.stringify(evil).slice(1, -1)),
      })),
    }));
    const result = mergeRigs(hostile, RULES, { today: '2026-06-01', repair: true });
    for (const text of [reportMergeText(result, PLAIN), reportMergeJson(result, PLAIN)]) {
      expect(text.replaceAll('\n', '')).not.toMatch(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/);
    }
  });
});
