import {
  byLabel,
  commonPractice,
  defineRule,
  formatAddress,
  groupBy,
  imageOf,
  inPrefix,
  inRig,
  isIPv4,
  kindThatWrites,
  legLabel,
  listNames,
  mark,
  ownerLabel,
  preimageOf,
  sourceMark,
  subnetFor,
  touchOf,
  touchOfKind,
  whyNoSource,
  type Address,
  type WordedDraft,
  type Kind,
  type Leg,
  type Model,
  type Plan,
  type Sender,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'sources/leg-map',
  summary: 'The second leg does not leave from the address the house derives from the first leg',
  severity: 'warning',
  sources: [commonPractice('the same host number on both sides, red and blue')],
  needs: ['houseLegMap', 'pairs', 'sources'],
  *check({ plan, model }) {
    const broken = plan.senders.filter((sender) => pairOf(sender) !== undefined);
    if (broken.length === 0) return;
    const kinds = wrongKinds(plan, broken);
    for (const [kind, senders] of kinds) if (!isStrayKind(kind, senders, model)) yield kindFinding(kind, senders);
    const ofKinds = new Set([...kinds.values()].flat());
    // One wrong interface address shows in every stream of the device.
    for (const [, list] of groupBy(
      broken.filter((sender) => !ofKinds.has(sender)),
      keyOf,
    )) {
      const senders = byLabel(list, ({ label }) => label);
      const [sender] = senders;
      const pair = sender === undefined ? undefined : pairOf(sender);
      if (sender === undefined || pair === undefined || [pair.one, pair.two].some((leg) => hasOwnFault(leg, model)))
        continue;
      yield pairFinding(sender, senders, pair, model);
    }
  },
});

function pairFinding(sender: Sender, senders: readonly Sender[], pair: Pair, model: Model): WordedDraft {
  const first = formatAddress(pair.first);
  const second = formatAddress(pair.second);
  const names = senders.map(({ label }) => label);
  const whose = pair.wantedFirst === undefined ? '' : ` (${second} belongs to ${formatAddress(pair.wantedFirst)})`;
  const atFirst = sourceMark(pair.one, `${legLabel(pair.one)}: leaves from ${first}`);
  const atSecond = sourceMark(pair.two, `${legLabel(pair.two)}: leaves from ${second}`);
  return {
    subject: `${first} ${second}`,
    parties: names,
    what: `${listNames(names)} ${senders.length === 1 ? 'leaves' : 'leave'} from ${first} and ${second}, but ${
      pair.wanted === undefined
        ? `${first} is in none of the house's blocks for first legs${whose}`
        : `the house wants ${formatAddress(pair.wanted)} beside ${first}`
    }`,
    at: pair.wanted === undefined ? atFirst : atSecond,
    others: [pair.wanted === undefined ? atSecond : atFirst],
    onAir:
      'nothing while all is well; whoever works out the second address from the first in a hurry takes another one, and the second path stays dark',
    fix:
      pair.wanted === undefined
        ? give('first', pair.wantedFirst ?? "an address of the house's blocks", model)
        : `${give('second', pair.wanted, model)}, or change the house's \`legMap\``,
    touch: touchOf(sender),
  };
}

/** An address somebody else has is no advice. */
function give(leg: string, address: Address | string, model: Model): string {
  if (typeof address === 'string') return `give the ${leg} leg ${address}`;
  const [owner] = byLabel(model.owners.byAddress.get(address) ?? [], ownerLabel);
  return owner === undefined
    ? `give the ${leg} leg ${formatAddress(address)}`
    : `give both legs addresses that fit the map, for ${formatAddress(address)} is ${ownerLabel(owner)}'s`;
}

function kindFinding(kind: Kind, senders: readonly Sender[]): WordedDraft {
  const sorted = byLabel(senders, ({ label }) => label);
  const streams = byLabel([...new Map(sorted.map((sender) => [sender.name, sender])).values()], ({ name }) => name);
  const devices = [...new Set(sorted.map(({ device, label }) => device?.name ?? label))];
  const legs = streams.flatMap((sender) => sender.legs.slice(0, 2).reverse());
  const [at, ...others] = legs.map((leg) =>
    mark(
      leg,
      `kind ${kind.name}: ${leg.sender.name} leg ${leg.index + 1} on interface ${leg.interface?.name ?? ''}`,
      'interface',
    ),
  );
  const [example] = sorted;
  const pair = example === undefined ? undefined : pairOf(example);
  if (at === undefined || example === undefined || pair === undefined)
    throw new Error('a kind has a stream and its legs');
  return {
    subject: `kind ${kind.name}${inRig(kind.rig)}`,
    parties: sorted.map(({ label }) => label),
    what: `kind ${kind.name} sends ${listNames(
      streams.map(
        ({ name, legs: [one, two] }) =>
          `${name} from interfaces ${one?.interface?.name ?? ''} and ${two?.interface?.name ?? ''}`,
      ),
      3,
    )}, so ${listNames(devices, 4)} leave from addresses the house does not pair: ${example.label} from ${formatAddress(pair.first)} and ${formatAddress(pair.second)}`,
    at,
    others,
    onAir: 'the two legs leave on networks that are no pair, or both on one: when that one fails, both are lost',
    fix: 'correct the `interface` of the legs, once in the kind: the first leg on the network of first legs, the second on the other',
    touch: touchOfKind(kind),
  };
}

/** Streams that every device of a kind sends from the wrong interfaces because the kind says so. */
function wrongKinds(plan: Plan, broken: readonly Sender[]): ReadonlyMap<Kind, readonly Sender[]> {
  const inherited = broken.filter(({ device, legs }) =>
    legs.slice(0, 2).every((leg) => kindThatWrites(leg, device, 'interface') !== undefined),
  );
  if (inherited.length === 0) return new Map();
  const tallies = new Map<Kind, Map<string, Sender[]>>();
  for (const sender of inherited) {
    const kind = sender.device?.kind;
    if (kind === undefined) continue;
    const byName = tallies.get(kind) ?? new Map<string, Sender[]>();
    tallies.set(kind, byName);
    const list = byName.get(sender.name);
    if (list === undefined) byName.set(sender.name, [sender]);
    else list.push(sender);
  }
  for (const sender of plan.senders) {
    const byName = sender.device?.kind === undefined ? undefined : tallies.get(sender.device.kind);
    if (byName?.has(sender.name) === true && isPaired(sender)) byName.delete(sender.name);
  }
  return new Map(
    [...tallies].flatMap(([kind, byName]) => {
      const senders = [...byName.values()].filter((list) => list.length > 1).flat();
      return senders.length === 0 ? [] : [[kind, senders] as const];
    }),
  );
}

function isPaired(sender: Sender): boolean {
  const [one, two] = sender.legs;
  return one?.source !== undefined && two?.source !== undefined && pairOf(sender) === undefined;
}

/** `groups/outside-house` reports a kind whose legs are on the wrong network by their groups. */
function isStrayKind(kind: Kind, senders: readonly Sender[], { strays }: Model): boolean {
  return (
    strays.kinds.some((stray) => stray.kind === kind) && senders.some(({ legs }) => legs.some((leg) => strays.has(leg)))
  );
}

interface Pair {
  readonly one: Leg;
  readonly two: Leg;
  readonly first: Address;
  readonly second: Address;
  /** What the house derives from the first address. */
  readonly wanted: Address | undefined;
  /** What the second address is derived from. */
  readonly wantedFirst: Address | undefined;
}

/** The sources of the two legs, where they break the house's map. */
function pairOf(sender: Sender): Pair | undefined {
  const map = sender.rig.house.sourceMap;
  if (map.length === 0) return undefined;
  const [one, two] = sender.legs;
  const first = one?.source;
  const second = two?.source;
  if (one === undefined || two === undefined || first === undefined || second === undefined) return undefined;
  const wanted = imageOf(first, map);
  if (wanted === second) return undefined;
  const wantedFirst = preimageOf(second, map);
  return wanted === undefined && wantedFirst === undefined
    ? undefined
    : { one, two, first, second, wanted, wantedFirst };
}

/**
 * Held twice, outside its subnet, no address of a host, or not that of the interface: `hosts/duplicate-address`,
 * `hosts/outside-subnet`, `hosts/network-or-broadcast`, `sources/not-unicast` or `sources/not-the-sender` says so.
 */
function hasOwnFault(leg: Leg, { owners }: Model): boolean {
  const { interface: via, source, sourceStated, vlan } = leg;
  if (source === undefined) return false;
  if (whyNoSource(source, vlan) !== undefined || (owners.byAddress.get(source)?.length ?? 0) > 1) return true;
  const subnet = vlan === undefined ? undefined : subnetFor(vlan, source);
  if (subnet !== undefined && !inPrefix(source, subnet)) return true;
  const own = via === undefined ? undefined : isIPv4(source) ? via.address : via.address6;
  return sourceStated && own !== undefined && own !== source;
}

function keyOf(sender: Sender): string {
  return `${String(sender.legs[0]?.source)} ${String(sender.legs[1]?.source)}`;
}
