/** Clocks of a plan: what they take from where, what hears what, what each loss changes, what they serve. */
import { describe, expect, it } from 'vitest';
import { loadPlan } from '../../src/plan/load.js';
import { placeOf } from '../../src/plan/place.js';
import { formatClockIdentity } from '../../src/values/clock-identity.js';
import { referrerLabel } from '../../src/words/referrers.js';
import { modelOf } from '../tools/network-plans.js';
import { tree, timingOf, GM, CAM, aroundSwitch } from '../tools/clock-plans.js';

describe('communication paths', () => {
  it('a switch that says nothing of PTP joins the ports of a VLAN and no others', () => {
    expect(tree(timingOf(aroundSwitch('')))).toEqual({ clock: 'leads', cam: 'clock', desk: 'waits' });
  });

  it('a switch that takes no part is the same', () => {
    expect(tree(timingOf(aroundSwitch('ptp: {mode: none}')))).toEqual({ clock: 'leads', cam: 'clock', desk: 'waits' });
    expect(tree(timingOf(aroundSwitch('ptp: {mode: e2e-transparent}')))).toEqual({
      clock: 'leads',
      cam: 'clock',
      desk: 'waits',
    });
  });

  it('a boundary clock ends the path at every port and serves every VLAN', () => {
    expect(tree(timingOf(aroundSwitch('ptp: {mode: boundary}')))).toEqual({
      clock: 'leads',
      leaf: 'clock',
      cam: 'leaf',
      desk: 'leaf',
    });
  });

  it('ports on which a boundary clock takes no part are plain ones', () => {
    expect(tree(timingOf(aroundSwitch('ptp: {mode: boundary, interfaces: [5-8]}')))).toEqual({
      clock: 'leads',
      cam: 'clock',
      leaf: 'leads',
      desk: 'leaf',
    });
  });

  it('a boundary clock of another domain lets no PTP through', () => {
    expect(tree(timingOf(aroundSwitch('ptp: {mode: boundary, domain: 5}')))).toEqual({
      clock: 'alone',
      cam: 'waits',
      desk: 'waits',
      leaf: 'alone',
    });
  });

  it('a port that only leads follows nobody', () => {
    expect(tree(timingOf(aroundSwitch('ptp: {mode: boundary, masterOnly: [1]}')))).toEqual({
      clock: 'alone',
      leaf: 'leads',
      cam: 'leaf',
      desk: 'leaf',
    });
  });

  it('other transports and other domains are other elections', () => {
    const other = timingOf(
      aroundSwitch(
        '',
        `  - {name: box, ptp: {${CAM}, transport: udp-ipv6}, interfaces: [{name: e1, port: leaf/3, mac: '02:00:00:00:00:04'}]}
  - {name: far, ptp: {${CAM}, domain: 9}, interfaces: [{name: e1, port: leaf/4, mac: '02:00:00:00:00:05'}]}`,
      ),
    );
    expect(tree(other)).toMatchObject({ cam: 'clock', box: 'waits', far: 'waits' });
    expect(other.groups.map((group) => [group.domain, group.transport])).toEqual([
      [0, 'udp-ipv4'],
      [0, 'udp-ipv6'],
      [9, 'udp-ipv4'],
    ]);
  });

  const TWO = (left: string, right: string, link: string): string => `
networks: [{name: red}, {name: control}]
vlans: [{name: video, id: 10, network: red}, {name: audio, id: 20, network: red}, {name: admin, id: 30, network: control}]
switches:
  - {name: left, ports: [{name: 1-4, access: video}, {name: 5, access: audio}, {name: 9, trunk: [video, audio, admin]}, {name: 10, trunk: [video, audio, admin]}], ptp: {${left}}}
  - {name: right, ports: [{name: 1-4, access: video}, {name: 5, access: audio}, {name: 9, trunk: [video, audio, admin]}, {name: 10, trunk: [video, audio, admin]}], ptp: {${right}}}
links: ${link}
devices:
  - {name: clock, ptp: {${GM}, clockIdentity: 00-00-00-FF-FE-00-00-01}, interfaces: [{name: e1, port: left/1}]}
  - {name: cam, ptp: {${CAM}, clockIdentity: 00-00-00-FF-FE-00-00-02}, interfaces: [{name: e1, port: right/2}]}
  - {name: desk, ptp: {${CAM}, clockIdentity: 00-00-00-FF-FE-00-00-03}, interfaces: [{name: e1, port: right/5}]}
`;
  const ONE_LINK = '[{name: L1, ends: [left/9, right/9]}]';
  const BOTH_LINKS = '[{name: L1, ends: [left/9, right/9]}, {name: L2, ends: [left/10, right/10]}]';

  it('two boundary clocks share one path, whatever VLANs join them', () => {
    const timing = timingOf(TWO('mode: boundary', 'mode: boundary', ONE_LINK));
    expect(tree(timing)).toEqual({ clock: 'leads', cam: 'right', desk: 'right', left: 'clock', right: 'left' });
    expect(timing.clocks.find((one) => one.name === 'left')?.ports).toHaveLength(2);
  });

  it('a boundary clock serves each VLAN of a plain switch behind it', () => {
    const timing = timingOf(TWO('mode: boundary', 'mode: none', ONE_LINK));
    expect(tree(timing)).toEqual({ clock: 'leads', cam: 'left', desk: 'left', left: 'clock' });
  });

  it('without a boundary clock each VLAN is a path of its own', () => {
    expect(tree(timingOf(TWO('mode: none', 'mode: none', ONE_LINK)))).toEqual({
      clock: 'leads',
      cam: 'clock',
      desk: 'waits',
    });
  });

  it('holds while one of two parallel links stands', () => {
    const both = timingOf(TWO('mode: boundary', 'mode: boundary', BOTH_LINKS));
    expect(both.failover.filter((one) => one.lost.kind === 'link')).toEqual([]);
    const one = timingOf(TWO('mode: boundary', 'mode: boundary', ONE_LINK));
    const lost = one.failover.find((loss) => loss.lost.kind === 'link');
    expect(lost?.lost.name).toBe('L1');
    expect(
      lost?.handovers.map(({ from, to, followers }) => [from.name, to.name, followers.map((clock) => clock.name)]),
    ).toEqual([['clock', 'right', ['cam', 'desk', 'right']]]);
  });

  it('a domain that states its networks stays off the others', () => {
    const domains = 'timing: {domains: [{number: 0, networks: [control]}]}';
    const timing = timingOf(`${TWO('mode: boundary', 'mode: boundary', ONE_LINK)}${domains}`);
    expect(tree(timing)).toEqual({ clock: 'off', cam: 'off', desk: 'off', left: 'leads', right: 'left' });
  });
});

describe('facts of a clock', () => {
  const text = `
practice: {ptpDomain: 10}
timing:
  domains:
    - {name: media, number: 10, profile: ST 2059-2, edition: '2015', logAnnounceInterval: 0, grandmasters: [sky]}
kinds:
  - {name: clock, ptp: {clockClass: 6, priority1: 5, clockIdentity: 02-00-00-FF-FE-00-00-99}}
devices:
  - {name: sky, kind: clock, ptp: {priority1: 1}, interfaces: [{name: a, mac: '02:00:00:00:00:0a'}, {name: b, mac: '02:00:00:00:00:05'}]}
  - {name: plain, ptp: {}, interfaces: [{name: a, mac: '02:00:00:00:00:0a'}, {name: b, mac: '02:00:00:00:00:05'}]}
  - {name: bare, ptp: {logSyncInterval: -4}, interfaces: [{name: a}]}
`;

  it('come from the clock, its kind, its domain, the profile, then IEEE 1588', () => {
    const facts = new Map(timingOf(text).facts.map((one) => [one.name, one]));
    const sky = facts.get('sky');
    expect(sky).toMatchObject({
      domain: 10,
      mode: 'ordinary',
      meantToLead: true,
      logAnnounceInterval: 0,
      logSyncInterval: -3,
      transport: 'udp-ipv4',
      quality: { priority1: 1, clockClass: 6, clockAccuracy: 0xfe, offsetScaledLogVariance: 0xffff, priority2: 128 },
    });
    expect(sky?.profile?.key).toBe('st2059-2:2015');
    expect(formatClockIdentity(sky?.quality.identity ?? 0n)).toBe('02-00-00-FF-FE-00-00-99');
    expect(sky?.assumed.has('priority1')).toBe(false);
    expect(sky?.assumed.has('priority2')).toBe(true);
    // The lowest MAC of its interfaces as EUI-64.
    expect(formatClockIdentity(facts.get('plain')?.quality.identity ?? 0n)).toBe('02-00-00-FF-FE-00-00-05');
    expect(facts.get('bare')?.assumed.has('identity')).toBe(true);
    expect(facts.get('bare')?.logSyncInterval).toBe(-4);
  });

  it('point to where they were written, the kind included', () => {
    const model = modelOf(text);
    const sky = model.plan.devices[0]?.ptp;
    if (sky === undefined) throw new Error('the clock has no settings');
    expect(placeOf(sky, 'clockClass').container).toEqual({
      clockClass: 6,
      priority1: 5,
      clockIdentity: '02-00-00-FF-FE-00-00-99',
    });
    expect(placeOf(sky, 'priority1').container).toEqual({ priority1: 1 });
  });

  it('clockClass 255 or slaveOnly make a clock that only follows', () => {
    const facts = timingOf(
      'devices: [{name: a, ptp: {clockClass: 255}}, {name: b, ptp: {slaveOnly: true, clockClass: 6}}, {name: c, ptp: {traceable: true}}]',
    ).facts;
    expect(facts.map((one) => [one.slaveOnly, one.quality.clockClass])).toEqual([
      [true, 255],
      [true, 255],
      [false, 6],
    ]);
  });

  it('names that lead nowhere are reported, and identities that can not be read', () => {
    const lost = loadPlan([
      {
        name: 'plan.yaml',
        text: `
switches: [{name: leaf, ports: [{name: 1-4}], ptp: {masterOnly: [2-3, 9]}}]
timing: {domains: [{number: 1, grandmasters: [gone], networks: [nowhere]}]}
devices: [{name: cam, ptp: {interfaces: [redd]}, interfaces: [{name: red}]}]`,
      },
    ]);
    expect(
      lost.plan.unresolved.map((one) => [referrerLabel(one.by), one.wanted.kind, one.wanted.of?.name, one.text]),
    ).toEqual([
      ['switch leaf', 'port', 'leaf', '9'],
      ['cam', 'interface', 'cam', 'redd'],
      ['PTP domain 1', 'device', undefined, 'gone'],
      ['PTP domain 1', 'network', undefined, 'nowhere'],
    ]);
    expect(lost.plan.switches[0]?.ptp?.masterOnly).toEqual(['2', '3']);
    const unread = loadPlan([{ name: 'plan.yaml', text: 'devices: [{name: cam, ptp: {clockIdentity: 02-00}}]' }]);
    expect(unread.problems.map((one) => one.what)).toEqual(['`02-00` is not a clock identity']);
  });
});
