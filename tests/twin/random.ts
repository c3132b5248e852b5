/**
 * Random small rigs on either plane, and something to take away from each: up to four switches in a tree or, on Open vSwitch, in rings, up to three
 * VLANs of either family, three to eight hosts.
 */
import fc from 'fast-check';
import { lossesOf, type Loss } from './loss.js';
import type { Plane, ShortHost, ShortLink, ShortReceiver, ShortRig, ShortVlan } from './rigs.js';

/**
 * Few, so that several hosts send one group. Three share a multicast MAC, which a switch that keys by group tells
 * apart; one shares its multicast MAC with 224.0.0.9, one is of 224.0.0.0/24 itself.
 */
const GROUPS_4 = ['239.1.1.1', '239.1.1.2', '239.129.1.1', '232.1.1.1', '239.128.0.9', '224.0.0.200'] as const;
/** Two share a multicast MAC; ff02::1 is the only one that is always flooded (RFC 4541 §3). */
const GROUPS_6 = ['ff15::1:1', 'ff35::8000:1', 'ff15:0:1::1:1', 'ff02::101', 'ff02::1'] as const;
const BINDABLE = new Set<string>([...GROUPS_4.slice(0, -1), ...GROUPS_6.slice(0, -2)]);
const VLAN_NAMES = ['red', 'blue', 'green'] as const;

export interface RandomRig {
  readonly rig: ShortRig;
  /** Absent where nothing can be taken away. */
  readonly loss: Loss | undefined;
}

export function randomRigs(count: number, seed: number, plane: Plane): readonly RandomRig[] {
  return fc.sample(rigOn(plane), { numRuns: count, seed });
}

/** The last `weight` times as often as the first. */
function mostly<T>(rare: T, usual: T, weight: number): fc.Arbitrary<T> {
  return fc.constantFrom(rare, ...Array.from({ length: weight }, () => usual));
}

const VLAN = fc.record({
  snooping: mostly(false, true, 6),
  version: fc.constantFrom(3 as const, 3 as const, 2 as const),
  mldVersion: fc.constantFrom(2 as const, 2 as const, 1 as const),
  has6: mostly(false, true, 2),
  asks6: mostly(false, true, 3),
  queriers: fc.array(fc.nat(99), { maxLength: 2 }),
  hostQueries: mostly(true, false, 3),
  hostRoutes: mostly(true, false, 3),
  speaker: fc.nat(99),
});

const HOST = fc.record({
  at: fc.nat(99),
  vlan: fc.nat(99),
  old: mostly(true, false, 6),
  routerPort: mostly(true, false, 9),
  bound: fc.constantFrom(false, false, false, false, true),
  sends: fc.uniqueArray(fc.nat(99), { maxLength: 2, selector: (number) => number % 11 }),
  receives: fc.array(
    fc.record({
      of: fc.nat(99),
      group: fc.nat(99),
      how: fc.constantFrom('takes', 'takes any', 'takes stated', 'group', 'group and source'),
    }),
    { maxLength: 2 },
  ),
});

/** Of 100G, 10G and 1G (IEEE 802.1D-2004 table 17-3). */
const COST = fc.constantFrom(200, 2000, 20000);

const DRAFT = fc.record({
  parents: fc.array(fc.nat(99), { maxLength: 3 }),
  vlans: fc.array(VLAN, { minLength: 1, maxLength: 3 }),
  /** By link: carries the first VLAN only, which leaves the others in two parts. */
  cut: fc.array(mostly(true, false, 3), { minLength: 5, maxLength: 5 }),
  /** Further links, which make rings: only where a tree breaks them. */
  rings: fc.array(fc.record({ from: fc.nat(99), to: fc.nat(99) }), { maxLength: 2 }),
  priorities: fc.shuffledSubarray([4096, 8192, 12288, 16384], { minLength: 4 }),
  costs: fc.array(fc.tuple(COST, COST), { minLength: 5, maxLength: 5 }),
  native: fc.array(fc.nat(5), { minLength: 5, maxLength: 5 }),
  floods: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
  blind: fc.nat(20),
  hosts: fc.array(HOST, { minLength: 3, maxLength: 8 }),
  loss: fc.nat(99),
});
type Draft = typeof DRAFT extends fc.Arbitrary<infer T> ? T : never;
type VlanDraft = Draft['vlans'][number];

const pick = <T>(list: readonly T[], number: number): T => list[number % list.length] as T;

function rigOn(plane: Plane): fc.Arbitrary<RandomRig> {
  return DRAFT.map((draft) => {
    const rig = rigOf(draft, plane);
    const losses = lossesOf(rig);
    return { rig, loss: losses.length === 0 ? undefined : pick(losses, draft.loss) };
  });
}

function rigOf(draft: Draft, plane: Plane): ShortRig {
  const { parents, vlans, cut, native, floods, blind, hosts: drafts } = draft;
  const switches = ['sw-0', ...parents.map((_, index) => `sw-${index + 1}`)];
  const names = vlans.map((_, index): string => VLAN_NAMES[index] ?? '');
  const rings = plane === 'openvswitch' ? ringsOf(draft, switches) : [];
  const looped = rings.length > 0;
  const pairs = [
    ...parents.map((parent, index) => [switches[parent % (index + 1)] ?? '', switches[index + 1] ?? ''] as const),
    ...rings,
  ];
  const links = pairs.map((between, index): ShortLink => {
    const carried = cut[index] === true ? names.slice(0, 1) : names;
    const untagged = plane === 'openvswitch' ? carried[native[index] ?? 9] : undefined;
    const costs = looped ? draft.costs[index] : undefined;
    return {
      between,
      ...(cut[index] === true ? { vlans: carried } : {}),
      ...(untagged === undefined ? {} : { native: untagged }),
      ...(costs === undefined ? {} : { costs }),
    };
  });
  const spots = drafts.map(({ at, vlan }) => ({ at: pick(switches, at), vlan: pick(names, vlan) }));
  const settings = (name: string): VlanDraft => pick(vlans, names.indexOf(name));
  /** In each VLAN, the host that queries or routes where one does. */
  const speakers = vlans.map(({ speaker }, index) => {
    const inside = spots.flatMap(({ vlan }, host) => (vlan === names[index] ? [host] : []));
    return inside.length === 0 ? undefined : pick(inside, speaker);
  });
  const routers = vlans.map((vlan, index) =>
    plane === 'bridges' && vlan.snooping && vlan.hostRoutes && !vlan.has6 ? speakers[index] : undefined,
  );
  // A router queries too; with the highest address it wins only where nobody is planned to query.
  const placed = drafts.map(({ sends, old, routerPort, bound, at, vlan }, host) => {
    const spot = spots[host] ?? { at: '', vlan: '' };
    const groups = settings(spot.vlan).has6 ? [...GROUPS_4, ...GROUPS_6] : GROUPS_4;
    // A bridge that does not snoop binds nothing, and 224.0.0.x is bound nowhere.
    const binds = bound && plane === 'bridges' && settings(spot.vlan).snooping && switches[blind] !== spot.at;
    const some = binds ? [at, vlan].map((number) => pick(groups, number)) : [];
    const bindings = [...new Set(some)].filter((one) => BINDABLE.has(one));
    return {
      name: `host-${host}`,
      ...spot,
      sends: [...new Set(sends.map((number) => pick(groups, number)))],
      address: routers.includes(host) ? '10.0.255.200' : `10.0.0.${host + 10}`,
      ...(settings(spot.vlan).has6 ? { address6: `fd00::${host + 10}` } : {}),
      ...(old ? { igmpVersion: 2 as const, ...(settings(spot.vlan).has6 ? { mldVersion: 1 as const } : {}) } : {}),
      ...(bindings.length > 0 ? { bound: bindings } : {}),
      // Open vSwitch sends what any VLAN carries out of such a port.
      ...(routerPort && (plane === 'bridges' || vlans.length === 1) ? { routerPort } : {}),
    };
  });
  const sent = placed.flatMap((host) => host.sends.map((group) => ({ takes: `${host.name}/${group}` })));
  const queriers = vlans.map((vlan, index) => {
    const name = names[index] ?? '';
    if (plane === 'openvswitch')
      return onHosts(
        vlan,
        placed.filter((one) => one.vlan === name),
      );
    // A bridge that does not snoop does not query.
    return onBridges(vlan, name, { links, placed, speaker: placed[speakers[index] ?? -1] }).filter(
      ({ on }) => on !== switches[blind],
    );
  });
  // Open vSwitch registers no member behind a router port (a rig made by hand shows it).
  const silent = new Set(
    plane === 'openvswitch'
      ? [
          ...queriers.flat().map(({ on }) => on),
          ...placed.flatMap((one) => (one.routerPort === true ? [one.name] : [])),
        ]
      : [],
  );
  const hosts = placed.map((host, index): ShortHost => {
    const has6 = 'address6' in host;
    // Without IPv6 nobody can join a group of it.
    const offered = sent.filter(({ takes }) => has6 || !takes.includes(':'));
    const sources = placed.filter((one) => !has6 || 'address6' in one);
    return {
      ...host,
      receives: (silent.has(host.name) ? [] : (drafts[index]?.receives ?? [])).flatMap(({ of, group, how }) => {
        const joined = pick(has6 ? [...GROUPS_4, ...GROUPS_6] : GROUPS_4, group);
        const from = pick(sources, of);
        const source = joined.includes(':') ? (from.address6 ?? '') : from.address;
        return receiverOf(how, joined, offered.length === 0 ? undefined : pick(offered, of).takes, source);
      }),
    };
  });
  const snoops = plane === 'bridges' ? vlans.map(({ snooping }) => snooping) : vlans.map(() => vlans[0]?.snooping);
  const each = Object.fromEntries(
    switches.flatMap((name, index) => {
      // One switch in some rigs does not snoop.
      const off = blind === index ? { snooping: false } : {};
      const unregistered = plane === 'openvswitch' && floods[index] === true ? { unregistered: 'drop' } : {};
      const tree = looped ? { spanningTree: { mode: 'rstp', priority: draft.priorities[index] } } : {};
      const about = { ...off, ...unregistered, ...tree };
      return Object.keys(about).length === 0 ? [] : [[name, about]];
    }),
  );
  return {
    plane,
    switches,
    links,
    hosts,
    each,
    vlans: Object.fromEntries(
      vlans.map((vlan, index): [string, ShortVlan] => {
        const name = names[index] ?? '';
        const address6 = vlan.has6 ? { mld: { version: vlan.mldVersion } } : {};
        if (snoops[index] !== true) return [name, { snooping: false, ...address6 }];
        const own = queriers[index] ?? [];
        const router = placed[routers[index] ?? -1];
        // A router port of Open vSwitch is one for both families, so both have the same queriers there.
        const queriers6 = vlan.asks6 || plane === 'openvswitch' ? own.map(in6) : [];
        return [
          name,
          {
            version: vlan.version,
            queriers: own.map(({ on, address }) => ({ on, address })),
            ...(vlan.has6 ? { mld: { version: vlan.mldVersion, queriers: queriers6 } } : {}),
            ...(router === undefined ? {} : { routers: [router.name] }),
          },
        ];
      }),
    ),
  };
}

/** Pairs of switches that no link joins yet. */
function ringsOf({ parents, rings }: Draft, switches: readonly string[]): readonly (readonly [string, string])[] {
  const joined = new Set(parents.map((parent, index) => `${parent % (index + 1)} ${index + 1}`));
  return rings.flatMap(({ from, to }) => {
    const [a, b] = [from % switches.length, to % switches.length].sort((x, y) => x - y);
    if (a === undefined || b === undefined || a === b || joined.has(`${a} ${b}`)) return [];
    joined.add(`${a} ${b}`);
    return [[switches[a] ?? '', switches[b] ?? ''] as const];
  });
}

interface DraftQuerier {
  readonly on: string;
  readonly address: string;
  readonly address6: string;
}

function in6({ on, address6 }: DraftQuerier): { readonly on: string; readonly address: string } {
  return { on, address: address6 };
}

interface PlacedHost {
  readonly name: string;
  readonly at: string;
  readonly vlan: string;
  readonly address: string;
  readonly address6?: string;
}

function queryingHost({ name, address, address6 = '' }: PlacedHost): DraftQuerier {
  return { on: name, address, address6: address6.replace('fd00', 'fe80') };
}

function onHosts({ queriers }: VlanDraft, inside: readonly PlacedHost[]): readonly DraftQuerier[] {
  if (inside.length === 0) return [];
  // No querier at all is the rarer rig.
  const chosen = queriers.length === 0 ? [] : [...queriers, 0].map((number) => pick(inside, number));
  return [...new Set(chosen)].map(queryingHost);
}

function onBridges(
  { queriers, hostQueries }: VlanDraft,
  vlan: string,
  {
    links,
    placed,
    speaker,
  }: {
    readonly links: readonly ShortLink[];
    readonly placed: readonly PlacedHost[];
    readonly speaker: PlacedHost | undefined;
  },
): readonly DraftQuerier[] {
  const rising = (queriers[0] ?? 0) % 2 === 0;
  const there = new Set([
    ...placed.filter((one) => one.vlan === vlan).map(({ at }) => at),
    ...links.filter((link) => link.vlans?.includes(vlan) !== false).flatMap(({ between }) => between),
  ]);
  const on = [...new Set(there.size === 0 ? [] : queriers.map((number) => pick([...there], number)))].map(
    (name, order) => ({
      on: name,
      address: `10.0.${rising ? 250 + order : 254 - order}.1`,
      address6: `fe80::${rising ? `fa${order}` : `fe${9 - order}`}`,
    }),
  );
  return [...on, ...(hostQueries && speaker !== undefined ? [queryingHost(speaker)] : [])];
}

function receiverOf(how: string, group: string, takes: string | undefined, source: string): readonly ShortReceiver[] {
  if (how === 'group') return [{ group }];
  if (how === 'group and source') return [{ group, source }];
  if (takes === undefined) return [];
  return [how === 'takes' ? { takes } : { takes, join: how === 'takes any' ? 'any' : 'stated' }];
}
