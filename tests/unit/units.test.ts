/** Times, rates and lengths take units everywhere; a number without one is refused with what it may mean. */
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { parseRate } from '../../src/values/quantity.js';

function problemsOf(plan: object): readonly string[] {
  const { problems } = loadPlan([{ name: 'plan.json', text: JSON.stringify(plan) }]);
  return problems.map(({ what, instead }) => `${what} | ${instead}`);
}

function igmpOf(igmp: object): object | undefined {
  const { plan } = loadPlan([{ name: 'plan.json', text: JSON.stringify({ vlans: [{ name: 'red-video', igmp }] }) }]);
  return plan.vlans[0]?.igmp;
}

describe('intervals of IGMP and MLD (RFC 3376 §8 counts them in seconds)', () => {
  it.each<[number | string, number]>([
    [125, 125],
    ['125 s', 125],
    ['125s', 125],
    ['100 ms', 0.1],
    ['2.5 s', 2.5],
  ])('%j', (queryInterval, queryIntervalS) => {
    expect(igmpOf({ queryInterval })).toMatchObject({ queryIntervalS });
    expect(igmpOf({ queryResponseInterval: queryInterval })).toMatchObject({ queryResponseIntervalS: queryIntervalS });
    expect(igmpOf({ lastMemberQueryInterval: queryInterval })).toMatchObject({
      lastMemberQueryIntervalS: queryIntervalS,
    });
  });

  it.each([0, -1, '0 s', '0.0ms', '125', '2 min', 'often'])('%j is refused, with how to write one', (queryInterval) => {
    const found = problemsOf({ vlans: [{ name: 'red-video', igmp: { queryInterval } }] });
    expect(found).toHaveLength(1);
    expect(found[0]).toContain('write it so: A duration with its unit (ns, us, ms, s): `125 s`, `100 ms`.');
  });
});

describe('a quantity without its unit', () => {
  const LINK = { ends: ['a/1', 'b/1'] };
  it.each<[string, object, string]>([
    [
      'a rate',
      { links: [{ ...LINK, rate: 25 }] },
      '`rate` is `25`, a rate without its unit | write `25M` for 25 Mbit/s, or `25G` for 25 Gbit/s',
    ],
    [
      'a rate in quotes',
      { links: [{ ...LINK, rate: '25' }] },
      '`rate` is `25`, a rate without its unit | write `25M` for 25 Mbit/s, or `25G` for 25 Gbit/s',
    ],
    [
      'a time',
      { links: [{ ...LINK, delay: 4 }] },
      '`delay` is `4`, a time without its unit | write `4 ms`, `4 us` for microseconds, or `4 s`',
    ],
    [
      'a length',
      { links: [{ ...LINK, length: 300 }] },
      '`length` is `300`, a length without its unit | write `300 m` or `300 km`',
    ],
  ])('%s', (_, plan, said) => {
    expect(problemsOf(plan)).toEqual([said]);
  });

  it.each(['25M', '25G', '25 Mbit/s', '25 Gb/s', '300 bit/s', '300 bps', '2.5k'])('%s is a rate', (rate) => {
    expect(problemsOf({ links: [{ ...LINK, rate }] })).toEqual([]);
    expect(parseRate(rate)).toBeGreaterThan(0);
  });
});
