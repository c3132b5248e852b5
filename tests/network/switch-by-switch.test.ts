/**
 * Who gets a stream on a chain of four switches, a – b – c – d: measured on Linux 6.18 bridges and Open vSwitch 3.1.0
 * (RFC 4541 §2.1.1, §2.1.2), here as single values. Hosts: ha, ia at a; hb at b; hc at c; hd, id at d.
 */
import { describe, expect, it } from 'vitest';
import { modelled, resolve } from '../twin/twin.js';
import { LINUX_SWITCH, planOf, type ShortHost, type ShortVlan } from '../twin/rigs.js';
import { createModel } from '../../src/model/model.js';
import { buildTrace } from '../../src/model/explain/index.js';
import { buildLoad } from '../../src/model/network/load.js';

const GROUP = '239.1.1.1';
const PLACES = { ha: 'a', ia: 'a', hb: 'b', hc: 'c', hd: 'd', id: 'd' } as const;
type Name = keyof typeof PLACES;

interface Vector {
  readonly title: string;
  readonly sender: Name;
  readonly members: readonly Name[];
  readonly querier?: Name | 'b';
  readonly settings?: Partial<ShortVlan>;
  /** Of every switch, and of single ones. */
  readonly about?: object;
  readonly switches?: Readonly<Record<string, object>>;
  readonly gets: readonly Name[];
  readonly links: readonly string[];
}

/** Ports of the switches, as the rig numbers them: links first, then hosts. */
const PORTS = {
  ha: '2',
  ia: '3',
  hb: '3',
  hc: '3',
  hd: '2',
  id: '3',
  ab: '1',
  ba: '1',
  bc: '2',
  cb: '1',
  cd: '2',
  dc: '1',
};

function bound(...ways: (keyof typeof PORTS)[]): object {
  return { vlan: 'red', groups: [GROUP], ports: ways.map((way) => PORTS[way]) };
}

const FLOODS = { ...LINUX_SWITCH, unregistered: 'flood', noQuerier: 'prune' };
const DROPS = { ...LINUX_SWITCH, unregistered: 'drop', noQuerier: 'prune' };

const VECTORS: readonly Vector[] = [
  {
    title: 'V20 joined, over the querier',
    sender: 'hd',
    members: ['ha'],
    querier: 'b',
    gets: ['ha'],
    links: ['d>c', 'c>b', 'b>a'],
  },
  {
    title: 'V21 joined by nobody: to the querier, for nobody',
    sender: 'hd',
    members: [],
    querier: 'b',
    gets: [],
    links: ['d>c', 'c>b'],
  },
  { title: 'V22 the querier has no router port', sender: 'ha', members: [], querier: 'b', gets: [], links: ['a>b'] },
  {
    title: 'V23 joined at the own switch: to the querier too',
    sender: 'hd',
    members: ['id'],
    querier: 'b',
    gets: ['id'],
    links: ['d>c', 'c>b'],
  },
  {
    title: 'V24 a router port set by hand at the own switch',
    sender: 'hd',
    members: [],
    querier: 'b',
    switches: { d: { routerPorts: [{ vlan: 'red', ports: [PORTS.id] }] } },
    gets: ['id'],
    links: ['d>c', 'c>b'],
  },
  {
    title: 'V25 the same: a stream from elsewhere does not come there, as b and c do not know of it',
    sender: 'ha',
    members: [],
    querier: 'b',
    switches: { d: { routerPorts: [{ vlan: 'red', ports: [PORTS.id] }] } },
    gets: [],
    links: ['a>b'],
  },
  {
    title: 'V25 the same from hc',
    sender: 'hc',
    members: [],
    querier: 'b',
    switches: { d: { routerPorts: [{ vlan: 'red', ports: [PORTS.id] }] } },
    gets: [],
    links: ['c>b'],
  },
  {
    title: 'V26 a host that sends PIM hellos is a router to every switch on the way',
    sender: 'ha',
    members: [],
    querier: 'b',
    settings: { routers: ['id'] },
    gets: ['id'],
    links: ['a>b', 'b>c', 'c>d'],
  },
  {
    title: 'V27 no querier, switches flood then',
    sender: 'hd',
    members: ['ha'],
    gets: ['ha', 'hb', 'hc', 'ia', 'id'],
    links: ['d>c', 'c>b', 'b>a'],
  },
  {
    title: 'V27b one switch does not snoop: its hosts get it',
    sender: 'hd',
    members: ['ha'],
    querier: 'b',
    switches: { c: { snooping: false } },
    gets: ['ha', 'hc'],
    links: ['d>c', 'c>b', 'b>a'],
  },
  {
    title: 'V27c the same: what the querier keeps does not come there',
    sender: 'hb',
    members: [],
    querier: 'b',
    switches: { c: { snooping: false } },
    gets: [],
    links: [],
  },
  {
    title: 'V32 unregistered groups are flooded: switches that never saw the report flood a joined one',
    sender: 'hc',
    members: ['ha'],
    querier: 'ia',
    about: FLOODS,
    gets: ['ha', 'hb', 'hd', 'ia', 'id'],
    links: ['b>a', 'c>b', 'c>d'],
  },
  {
    title: 'V33 unregistered groups are dropped',
    sender: 'hc',
    members: ['ha'],
    querier: 'ia',
    about: DROPS,
    gets: ['ha', 'ia'],
    links: ['b>a', 'c>b'],
  },
  {
    title: 'V34 the report passed every switch on the way to the querier: flooded nowhere on it',
    sender: 'ha',
    members: ['hd'],
    querier: 'ia',
    about: FLOODS,
    gets: ['hd', 'ia'],
    links: ['a>b', 'b>c', 'c>d'],
  },
  {
    title: 'V31 joined by nobody, dropped',
    sender: 'hb',
    members: [],
    querier: 'ia',
    about: DROPS,
    gets: ['ia'],
    links: ['b>a'],
  },
  {
    title: 'V31 joined by nobody, flooded',
    sender: 'hb',
    members: [],
    querier: 'ia',
    about: FLOODS,
    gets: ['ha', 'hc', 'hd', 'ia', 'id'],
    links: ['b>a', 'b>c', 'c>d'],
  },
  {
    // RFC 4541 §2.1.1 (1): no query, no router port; memberships end after 260 s (RFC 3376 §8.4).
    title: 'no querier, switches prune: nobody gets it, and it stays on its switch',
    sender: 'hd',
    members: ['ha', 'id'],
    about: DROPS,
    gets: [],
    links: [],
  },
  {
    // By its definition in the plan: no source.
    title: 'programmed by a controller: to whoever takes it, without any querier',
    sender: 'hd',
    members: ['ha'],
    settings: { controlled: true },
    about: FLOODS,
    gets: ['ha'],
    links: ['d>c', 'c>b', 'b>a'],
  },
  {
    // What follows on tables of bound groups: by their definition in the plan, no source.
    title: 'bound to the ports of the way and of a host that did not ask, without any querier',
    sender: 'hd',
    members: ['ha'],
    settings: { forwarding: 'static' },
    about: DROPS,
    switches: {
      d: { bindings: [bound('dc')] },
      c: { bindings: [bound('cb', 'hc')] },
      b: { bindings: [bound('ba')] },
      a: { bindings: [bound('ha')] },
    },
    gets: ['ha', 'hc'],
    links: ['d>c', 'c>b', 'b>a'],
  },
  {
    title: 'bound everywhere but at one switch of the way: it ends there',
    sender: 'hd',
    members: ['ha'],
    querier: 'b',
    settings: { forwarding: 'static' },
    about: DROPS,
    switches: { d: { bindings: [bound('dc')] }, c: { bindings: [bound('hc')] }, a: { bindings: [bound('ha')] } },
    gets: ['hc'],
    links: ['d>c'],
  },
  {
    title: 'bound nowhere, and switches flood what is not bound',
    sender: 'hb',
    members: ['hd'],
    settings: { forwarding: 'static' },
    about: FLOODS,
    switches: { a: { bindings: [bound('ba')] } },
    gets: ['hc', 'hd', 'id'],
    links: ['b>a', 'b>c', 'c>d'],
  },
  {
    title: 'one switch of bound groups among snooping ones answers for itself alone',
    sender: 'hd',
    members: ['ha'],
    querier: 'b',
    about: DROPS,
    switches: { c: { forwarding: 'static', bindings: [bound('hc', 'cb')] } },
    gets: ['ha', 'hc'],
    links: ['d>c', 'c>b', 'b>a'],
  },
  {
    title: 'the same, and it does not bind the group: nothing passes it',
    sender: 'hd',
    members: ['ha'],
    querier: 'b',
    about: DROPS,
    switches: { c: { forwarding: 'static' } },
    gets: [],
    links: ['d>c'],
  },
  {
    title: 'a controller at one switch of the way, IGMP at the others',
    sender: 'hd',
    members: ['ha'],
    querier: 'b',
    about: DROPS,
    switches: { c: { forwarding: 'controlled' } },
    gets: ['ha'],
    links: ['d>c', 'c>b', 'b>a'],
  },
  {
    // The bridge that measured V27d makes a router port of it; RFC 4541 §2.1.1 (1)b says not to.
    title: 'a querier of address 0.0.0.0 makes no router ports',
    sender: 'hd',
    members: ['ha'],
    settings: { queriers: [{ on: 'b', address: '0.0.0.0' }] },
    about: DROPS,
    gets: [],
    links: [],
  },
];

function planFor({ sender, members, querier, settings, about, switches }: Vector): ReturnType<typeof resolve> {
  const names = Object.keys(PLACES) as Name[];
  const hosts = names.map((name, index): ShortHost => ({
    name,
    at: PLACES[name],
    address: `10.0.0.${index + 1}`,
    ...(name === sender ? { sends: [GROUP] } : {}),
    ...(members.includes(name) ? { receives: [{ takes: `${sender}/${GROUP}` }] } : {}),
  }));
  const address =
    querier === undefined ? undefined : querier === 'b' ? '10.0.250.1' : `10.0.0.${names.indexOf(querier) + 1}`;
  const queriers = querier === undefined || address === undefined ? {} : { queriers: [{ on: querier, address }] };
  const rig = {
    vlans: { red: { ...queriers, ...settings } },
    switches: ['a', 'b', 'c', 'd'],
    links: [{ between: ['a', 'b'] as const }, { between: ['b', 'c'] as const }, { between: ['c', 'd'] as const }],
    hosts,
  };
  const raw = planOf(rig, about ?? LINUX_SWITCH) as { switches: { name: string }[] };
  return resolve(rig, about ?? LINUX_SWITCH, {
    ...raw,
    switches: raw.switches.map((one) => ({ ...one, ...switches?.[one.name] })),
  });
}

describe.each(VECTORS)('$title', (vector) => {
  const plan = planFor(vector);

  it('is carried so', () => {
    const said = modelled(plan)[`${vector.sender}/${GROUP}`];
    expect(said?.hosts).toEqual([...vector.gets].sort());
    expect(said?.links).toEqual([...vector.links].sort());
  });

  it('is loaded so', () => {
    const model = createModel(plan);
    const load = buildLoad(plan, model.network, () => ({ onLink: 1, onPort: 1 }));
    const gets = plan.interfaces.filter((one) => one.port !== undefined && (load.ports.get(one.port)?.toHost ?? 0) > 0);
    expect(gets.map(({ device }) => device.name).sort()).toEqual([...vector.gets].sort());
    for (const one of gets) expect(one.port === undefined ? 0 : load.ports.get(one.port)?.toHost).toBe(1);
  });

  it('is traced so: delivered to whoever asked and gets it', () => {
    const model = createModel(plan);
    for (const sender of plan.senders) {
      const [leg] = buildTrace(model, sender).legs;
      const reached = (leg?.stages ?? []).flatMap((stage) => stage.reached.map((one) => one.receiver.device.name));
      expect(reached.sort()).toEqual(vector.members.filter((name) => vector.gets.includes(name)).sort());
      const missed = (leg?.unreached ?? []).map((one) => one.receiver.device.name);
      expect(missed.sort()).toEqual(vector.members.filter((name) => !vector.gets.includes(name)).sort());
    }
  });
});
