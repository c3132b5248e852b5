/**
 * Who leads without being meant to, because no grandmaster is in reach, lint names: over random trees of switches whose
 * trunks forget the VLAN of the clocks. Which parts are cut off is found here by walking the trunks; who leads a part is
 * the lowest identity where all else is equal (IEEE 1588-2008 §9.3.4, from memory). Each cure is carried out.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../rules/index.js';
import { groupBy } from '../../src/collections/group-by.js';
import { lintPlan } from '../../src/lint/run.js';
import { carryOutEach } from '../tools/cures.js';
import { modelOf } from '../tools/network-plans.js';

interface Rig {
  /** To which earlier switch each further one is linked, and whether the trunks carry the VLAN of the clocks. */
  readonly links: readonly { readonly up: number; readonly carries: boolean }[];
  /** Cameras on each switch: whether each only follows. */
  readonly cameras: readonly (readonly boolean[])[];
}

const RIG: fc.Arbitrary<Rig> = fc.record({
  links: fc.array(fc.record({ up: fc.nat(3), carries: fc.boolean() }), { minLength: 1, maxLength: 4 }),
  cameras: fc.array(fc.array(fc.boolean(), { maxLength: 3 }), { minLength: 5, maxLength: 5 }),
});

const TODAY = '2026-06-01';
const RULE = 'timing/grandmaster-out-of-reach';

/** The link above switch `n` comes before it. */
const upOf = ({ links }: Rig, n: number): number => (links[n - 1]?.up ?? 0) % n;

/** Upwards for as long as trunks carry the VLAN. */
function partOf(rig: Rig, n: number): number {
  return n > 0 && rig.links[n - 1]?.carries === true ? partOf(rig, upOf(rig, n)) : n;
}

interface Camera {
  readonly name: string;
  readonly on: number;
  readonly port: number;
  readonly identity: string;
  readonly follows: boolean;
}

function camerasOf({ cameras, links }: Rig): readonly Camera[] {
  const all = cameras
    .slice(0, links.length + 1)
    .flatMap((own, on) => own.map((follows, n) => ({ on, port: n + 1, follows })));
  return all.map((one, n) => ({ ...one, name: `cam-${n + 1}`, identity: `02-00-00-FF-FE-00-01-${10 + n}` }));
}

function planOf(rig: Rig): object {
  const clock = (identity: string) => ({ domain: 127, clockIdentity: identity });
  const lead = { priority1: 10, clockClass: 6, clockAccuracy: 33 };
  const at = (on: number, port: number) => [{ name: 'red', vlan: 'clocks', port: `sw-${on}/${port}` }];
  return {
    rig: 'Heron',
    networks: [{ name: 'red', role: 'media', leg: 1 }],
    vlans: [
      { name: 'clocks', id: 10, network: 'red' },
      { name: 'other', id: 20, network: 'red' },
    ],
    switches: Array.from({ length: rig.links.length + 1 }, (_, n) => ({
      name: `sw-${n}`,
      ports: [
        { name: '1-9', access: 'clocks' },
        ...rig.links.flatMap(({ carries }, i) =>
          i + 1 === n || upOf(rig, i + 1) === n
            ? [{ name: 50 + i, trunk: carries ? ['other', 'clocks'] : ['other'] }]
            : [],
        ),
      ],
    })),
    links: rig.links.map((_, i) => ({
      name: `L${i}`,
      ends: [`sw-${upOf(rig, i + 1)}/${50 + i}`, `sw-${i + 1}/${50 + i}`],
    })),
    timing: { domains: [{ number: 127, grandmasters: ['gm-1', 'gm-2'] }] },
    devices: [
      { name: 'gm-1', ptp: { ...clock('02-00-00-FF-FE-00-00-01'), ...lead, priority2: 1 }, interfaces: at(0, 8) },
      { name: 'gm-2', ptp: { ...clock('02-00-00-FF-FE-00-00-02'), ...lead, priority2: 2 }, interfaces: at(0, 9) },
      ...camerasOf(rig).map(({ name, on, port, identity, follows }) => ({
        name,
        ptp: { ...clock(identity), ...(follows ? { slaveOnly: true } : {}) },
        interfaces: at(on, port),
      })),
    ],
  };
}

describe('clocks that no grandmaster reaches', () => {
  it('are a finding each part that may lead itself, and nothing where all only follow or are reached', () => {
    let cut = 0;
    fc.assert(
      fc.property(RIG, (rig) => {
        const model = modelOf(planOf(rig));
        const parts = groupBy(camerasOf(rig), ({ on }) => partOf(rig, on));
        const away = [...parts].flatMap(([on, own]) => (on === 0 ? [] : [own]));
        const expected = away
          .filter((own) => own.some(({ follows }) => !follows))
          .map((own) => `${own.find(({ follows }) => !follows)?.name} in domain 127 in rig Heron`);
        const { findings } = lintPlan(model.plan, RULES, { today: TODAY, model });
        const of = (rule: string) => findings.filter((one) => one.rule === rule);
        expect(
          of(RULE)
            .map(({ subject }) => subject)
            .sort(),
        ).toEqual(expected.sort());
        // Parts that only follow are the other rule's, and no part is in both.
        const silent = away.filter((own) => own.every(({ follows }) => follows));
        expect(of('timing/no-grandmaster')).toHaveLength(silent.length);
        // Whoever leads others without being meant to stands in a finding.
        const named = new Set(of(RULE).flatMap(({ parties }) => parties));
        for (const { leaders } of model.timing.groups.flatMap(({ islands }) => islands))
          for (const { clock, followers } of leaders)
            if (followers > 0 && !clock.meantToLead) expect(named).toContain(clock.name);
        cut += expected.length;
      }),
      { numRuns: 300 },
    );
    // Else nothing was tried.
    expect(cut).toBeGreaterThan(100);
  });

  it('are cured by what each finding says', () => {
    let cured = 0;
    fc.assert(
      fc.property(RIG, (rig) => {
        const inputs = [{ name: 'plan.json', text: JSON.stringify(planOf(rig)) }];
        for (const { failed, certainty } of carryOutEach(inputs, TODAY, ({ rule }) => rule === RULE)) {
          expect(failed).toBeUndefined();
          expect(certainty).toBe('likely');
          cured++;
        }
      }),
      { numRuns: 60 },
    );
    expect(cured).toBeGreaterThan(20);
  });
});
