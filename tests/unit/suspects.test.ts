import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatAddress, type Address } from '../../src/values/address.js';
import { readYaml } from '../../src/read/yaml.js';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import { groupFitness } from '../../src/model/groups/group-fitness.js';
import { alikeSuspects, lookOf, spellingOf } from '../../src/model/written/look-alike.js';
import { createModel, type Model } from '../../src/model/model.js';
import {
  aliasedClockGroup,
  ethernetAddress,
  floodedEthernetAddress,
} from '../../src/model/groups/multicast-space/index.js';

/** The quick first look that rules take must pass by nothing that the full look finds; the oracle here is the full look. */

describe('names that may be taken for one another', () => {
  const sign = fc.constantFrom(...Array.from('cCm01oOlLiI|- _.\u2013\u0441\u00ad'), '10', '\uff11');
  const name = fc.array(sign, { minLength: 1, maxLength: 7 }).map((signs) => signs.join(''));

  it('are exactly those with a repeated look or spelling', () => {
    fc.assert(
      fc.property(fc.array(name, { minLength: 9, maxLength: 30 }), (names) => {
        const named = names.map((one) => ({ name: one }));
        const shares = (keyOf: (text: string) => string, text: string): boolean =>
          names.filter((other) => keyOf(other) === keyOf(text)).length > 1;
        const expected = named.filter((one) => shares(lookOf, one.name) || shares(spellingOf, one.name));
        expect(alikeSuspects(named)).toEqual(expected);
      }),
      { numRuns: 500 },
    );
  });

  it('are found in short lists too, where all or none are suspects', () => {
    fc.assert(
      fc.property(fc.array(name, { maxLength: 8 }), (names) => {
        const repeats = [lookOf, spellingOf].some((keyOf) => new Set(names.map(keyOf)).size < names.length);
        expect(alikeSuspects(names.map((one) => ({ name: one }))).length).toBe(repeats ? names.length : 0);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('groups', () => {
  const first = fc.constantFrom(224, 232, 233, 234, 238, 239);
  const number = fc.constantFrom(0, 1, 2, 107, 128, 129, 192, 195, 252, 255);
  const group4 = fc.tuple(first, number, number, number).map((numbers) => numbers.join('.'));
  const group6 = fc.constantFrom(
    'ff02::1',
    'ff05::101',
    'ff35::8000:1',
    'ff3e::4000:1',
    'ff3e::8000:1',
    'ff15::1',
    'ff18::1',
  );
  const practice = fc.constantFrom('rfc2365', 'rfc4607', 'either');

  it('that are plain have no fault, no flooding and no clock at their multicast MAC', () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(group4, group6), { minLength: 1, maxLength: 12 }), practice, (groups, follows) => {
        const model = modelOf(groups, follows);
        const unusual = new Set(model.unusualLegs.groups);
        for (const leg of model.plan.legs) {
          if (leg.group === undefined || unusual.has(leg)) continue;
          const { conventions, practice: own } = leg.sender.rig;
          expect(groupFitness(leg.group, conventions, own), formatAddress(leg.group)).toBe('usable');
          expect(floodedEthernetAddress(leg.group)).toBe(false);
          expect(typeof leg.group === 'number' ? aliasedClockGroup(leg.group) : 'IPv6').toBeUndefined();
          expect(formatAddress(leg.group)).not.toMatch(/^(239\.255|232\.0\.0)\./);
        }
      }),
    );
  });

  it('are shared, or share a multicast MAC, exactly where a count of all of them says so', () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(group4, group6), { minLength: 1, maxLength: 30 }), (groups) => {
        const model = modelOf(groups, 'either');
        const values = model.plan.legs.flatMap(({ group }) => group ?? []);
        const distinct = new Set(values);
        const { sharedEthernet, mayRepeat } = model.groupRepeats;
        expect(sharedEthernet).toEqual(new Set(repeats([...distinct].map(ethernetAddress))));
        const repeated = new Set(repeats(values));
        for (const group of repeated) expect(mayRepeat(group)).toBe(true);
        expect(new Set(model.groups.shared.map(({ group }) => group))).toEqual(repeated);
        for (const group of distinct) {
          const count = values.filter((one) => one === group).length;
          expect(model.groups.usesOf(group).flatMap(({ legs }) => legs)).toHaveLength(count);
        }
      }),
    );
  });

  it('the plain ones are among those of 239/8', () => {
    expect(modelOf(['239.20.1.1', '239.20.1.1'], 'either').unusualLegs.groups).toEqual([]);
  });
});

describe('addresses and MACs held more than once', () => {
  it('are exactly those that two owners have', () => {
    const address = fc.constantFrom('10.1.0.1', '10.1.0.2', '10.1.0.3', '192.168.1.1', '192.168.1.2');
    const address6 = fc.constantFrom('fd00::1', 'fd00::2', 'fd00::3');
    const mac = fc.constantFrom('02:00:00:00:00:01', '02:00:00:00:00:02', 'fe:ff:ff:ff:ff:01');
    fc.assert(
      fc.property(fc.array(fc.tuple(address, address6, mac), { minLength: 1, maxLength: 6 }), (interfaces) => {
        const list = interfaces.map(
          ([four, six, own], index) => `{name: i${index}, address: ${four}, address6: '${six}', mac: '${own}'}`,
        );
        const { owners } = planModel(`devices: [{name: cam-1, interfaces: [${list.join(', ')}]}]`);
        const several = <K>(map: ReadonlyMap<K, readonly unknown[]>): ReadonlySet<K> =>
          new Set([...map].flatMap(([key, all]) => (all.length > 1 ? [key] : [])));
        expect(owners.repeatedAddresses).toEqual(several(owners.byAddress));
        expect(owners.repeatedMacs).toEqual(several(owners.byMac));
      }),
    );
  });
});

function modelOf(groups: readonly string[], follows: string): Model {
  const senders = groups.map((group, index) => `{name: s${index}, legs: [{group: '${group}'}]}`);
  return planModel(`practice: {follows: ${follows}}\ndevices: [{name: cam-1, senders: [${senders.join(', ')}]}]`);
}

function planModel(text: string): Model {
  const { document } = readYaml('plan.yaml', text);
  if (document === undefined) throw new Error('the plan of this test cannot be read');
  return createModel(resolvePlan([document]).plan);
}

function repeats<T extends Address>(values: readonly T[]): readonly T[] {
  return values.filter((value, index) => values.indexOf(value) < index);
}
