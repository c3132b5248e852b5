/** Single failures by what they do to streams, and the streams that could not be judged. */
import type { Interface, Link, Plan, Receiver, ReceiverLeg, Sender, Switch, Device, Vlan } from '../../plan/types.js';
import type { Model } from '../model.js';
import { linkLabel } from '../vlans/index.js';
import {
  type Element,
  type ElementKind,
  type Failure,
  type Network,
  type PlaceFact,
  placeGap,
  planeOf,
  type Reception,
  rerouted,
  wayOf,
} from '../network/index.js';
import { append } from '../../collections/group-by.js';
import { once } from '../../collections/once.js';

/** The parts of the model the table asks. */
export type FailureModel = Pick<Model, 'plan' | 'network' | 'failures' | 'load' | 'rates' | 'unrated' | 'rateless'>;

/** A stream and those of its receivers that a failure touches. */
export interface StreamHit {
  readonly sender: Sender;
  readonly receivers: readonly Receiver[];
}

export interface FailureRow {
  readonly element: Element;
  /** Streams that no receiver still standing gets any more. */
  readonly lostEverywhere: readonly StreamHit[];
  /** Streams that some receivers still standing lose and others keep. */
  readonly lostInPart: readonly StreamHit[];
  /** Streams whose receivers fail themselves: a device's own inputs. They take nothing from anybody else. */
  readonly withIt: readonly StreamHit[];
  /** Streams that some receivers keep by one leg less; one lost elsewhere may be among them. */
  readonly fewerLegs: readonly StreamHit[];
  /** Streams that some receivers lose later, when memberships end, and have by no other leg. Listed when first read. */
  readonly lostLater: readonly StreamHit[];
  /** How many they are: far from a querier every switch has long lists, and few are read. */
  readonly lostLaterCount: number;
  /** Streams that some receivers keep by one leg less from then on. Listed when first read. */
  readonly fewerLater: readonly StreamHit[];
  /** Seconds until then, the longest; 0 where there are none. */
  readonly laterS: number;
  /** VLANs nobody queries any more, with the seconds until memberships have ended (RFC 3376 §8.4). */
  readonly queriersLost: readonly { readonly vlan: Vlan; readonly withinS: number }[];
  /** Links that then carry more than their rate, and did not before. Known for the loss of links. */
  readonly overloads: readonly Overload[];
}

export interface Overload {
  /** One link, or every member of an aggregate. */
  readonly links: readonly Link[];
  readonly loadBps: number;
  /** Streams of unknown rate may be among it. */
  readonly atLeast: boolean;
  readonly rateBps: number;
}

export interface FailureTable {
  /** Worst first: streams lost everywhere, in part, later, VLANs without querier, links overloaded, streams with a leg less. */
  readonly rows: readonly FailureRow[];
  /** Streams of which at least one receiver could be judged, and those receivers counted by stream. */
  readonly streams: number;
  readonly receptions: number;
  /** Streams no receiver of the plan takes: nothing can take them from anybody. */
  readonly untaken: readonly Sender[];
  readonly unjudged: readonly Unjudged[];
  /** What keeps an overload from being seen: streams without a known rate, counted, and links without one. */
  readonly uncounted: { readonly streams: number; readonly links: readonly Link[] };
}

/** Why failures do not count a leg of a stream, or the stream at all. */
export type UnjudgedWhy =
  | { readonly side: 'sender' | 'receiver'; readonly lacks: PlaceFact }
  /** Both places are known and nothing joins them: off air already, or links are missing from the plan. */
  | { readonly side: undefined; readonly lacks: 'way' }
  /** Switches snoop there and no query comes: off air already, as nobody keeps the membership. */
  | { readonly side: undefined; readonly lacks: 'query' }
  /** The receiver names a group and not the stream it takes. */
  | { readonly side: 'receiver'; readonly lacks: 'stream' };

export interface Unjudged {
  readonly why: UnjudgedWhy;
  /** Streams of which nothing could be judged, and those judged by other legs or receivers only. */
  readonly whole: readonly Sender[];
  readonly inPart: readonly Sender[];
  /** Receivers concerned. */
  readonly receivers: readonly Receiver[];
}

export function buildFailureTable(model: FailureModel): FailureTable {
  const { ranked, receptions } = model.failures;
  const taken = new Map<Sender, number>();
  for (const { sender } of receptions) taken.set(sender, (taken.get(sender) ?? 0) + 1);
  const withinS = new Map(
    model.network.forwardings.flatMap(({ segment, igmp }) =>
      segment.domain.vlans.map((vlan) => [vlan, igmp.conduct.ageing.toS] as const),
    ),
  );
  const overloads = overloadsIn(model);
  const ranks = new Set(ranked.map(({ element }) => element.thing));
  // The loss of a link in a loop takes nothing away, and may still overload the way that is left.
  const onlyOverload = [...overloads.keys()]
    .filter((link) => !ranks.has(link))
    .map((link): Failure => ({
      element: { kind: 'link', name: linkLabel(link), thing: link },
      lost: [],
      weakened: [],
      fading: [],
      queriersLost: [],
    }));
  const rows = [...ranked, ...onlyOverload].map((failure) => rowOf(failure, taken, withinS, overloads));
  rows.sort(
    (a, b) =>
      b.lostEverywhere.length - a.lostEverywhere.length ||
      b.lostInPart.length - a.lostInPart.length ||
      b.lostLaterCount - a.lostLaterCount ||
      b.queriersLost.length - a.queriersLost.length ||
      b.overloads.length - a.overloads.length ||
      b.fewerLegs.length - a.fewerLegs.length ||
      NUMERIC.compare(`${a.element.kind} ${a.element.name}`, `${b.element.kind} ${b.element.name}`),
  );
  return {
    rows,
    streams: taken.size,
    receptions: receptions.length,
    untaken: untakenIn(model.plan),
    unjudged: unjudgedIn(model, taken),
    uncounted: { streams: model.load.unrated, links: model.rateless.links },
  };
}

/** `cam-2` before `cam-10`. */
const NUMERIC = new Intl.Collator('en', { numeric: true });

/** Whether a failure takes anything off air, and does not only weaken. */
export function takesOffAir(row: FailureRow): boolean {
  return (
    row.lostEverywhere.length +
      row.lostInPart.length +
      row.lostLaterCount +
      row.queriersLost.length +
      row.overloads.length >
    0
  );
}

/** Every element of a plan that can fail, whether it takes anything or not. */
export function elementsOf(plan: Plan): readonly Pick<Element, 'kind' | 'name'>[] {
  const named = (kind: ElementKind, names: Iterable<string>): readonly Pick<Element, 'kind' | 'name'>[] =>
    [...names].map((name) => ({ kind, name }));
  return [
    ...named(
      'switch',
      plan.switches.map((one: Switch) => one.name),
    ),
    ...named(
      'link',
      plan.links.map((one: Link) => linkLabel(one)),
    ),
    ...named(
      'device',
      plan.devices.map((one: Device) => one.name),
    ),
    ...named(
      'interface',
      plan.interfaces.map((one: Interface) => `${one.device.name} ${one.name}`),
    ),
    ...named('risk', new Set(plan.links.flatMap((link) => link.risks))),
    ...named('power feed', new Set([...plan.switches, ...plan.devices].flatMap((one) => one.power))),
  ];
}

function rowOf(
  failure: Failure,
  taken: ReadonlyMap<Sender, number>,
  withinS: ReadonlyMap<Vlan, number>,
  overloads: ReadonlyMap<Element['thing'], readonly Overload[]>,
): FailureRow {
  const { element } = failure;
  const withIt = hitsOf(failure.lost.filter(({ receiver }) => failsWith(receiver.device, element)));
  const gone = new Map(withIt.map((hit) => [hit.sender, hit.receivers.length]));
  const lost = hitsOf(failure.lost.filter(({ receiver }) => !failsWith(receiver.device, element)));
  const lostLater = once(() => laterHits(failure, true));
  const fewerLater = once(() => laterHits(failure, false));
  const everywhere = ({ sender, receivers }: StreamHit): boolean =>
    receivers.length + (gone.get(sender) ?? 0) === taken.get(sender);
  return {
    element,
    lostEverywhere: lost.filter(everywhere),
    lostInPart: lost.filter((hit) => !everywhere(hit)),
    withIt,
    fewerLegs: hitsOf(failure.weakened),
    get lostLater() {
      return lostLater();
    },
    lostLaterCount: new Set(failure.fading.flatMap(({ whole, reception }) => (whole ? reception.sender : []))).size,
    get fewerLater() {
      return fewerLater();
    },
    laterS: failure.fading.reduce((most, { withinS }) => Math.max(most, withinS), 0),
    queriersLost: failure.queriersLost.map((vlan) => ({ vlan, withinS: withinS.get(vlan) ?? 0 })),
    overloads: overloads.get(element.thing) ?? [],
  };
}

function laterHits({ fading }: Failure, whole: boolean): readonly StreamHit[] {
  return hitsOf(fading.filter((one) => one.whole === whole).map(({ reception }) => reception));
}

function failsWith(device: Device, { kind, name, thing }: Element): boolean {
  return (
    thing === device ||
    (kind === 'power feed' && device.power.length > 0 && device.power.every((feed) => feed === name))
  );
}

/** By the link whose loss overloads them. */
function overloadsIn({ plan, network, load, rates, unrated }: FailureModel): ReadonlyMap<Link, readonly Overload[]> {
  const found = new Map<Link, Overload[]>();
  for (const { use, after } of rerouted(
    plan,
    network,
    load,
    ({ leg }) => rates.onWire(leg),
    unrated,
    () => 100,
  )) {
    for (const { lost, loadBps, rateBps, atLeast } of after)
      append(found, lost, { links: use.links, loadBps, rateBps, atLeast });
  }
  return found;
}

function hitsOf(receptions: readonly Reception[]): readonly StreamHit[] {
  const found = new Map<Sender, Receiver[]>();
  for (const { sender, receiver } of receptions) append(found, sender, receiver);
  return [...found].map(([sender, receivers]) => ({ sender, receivers }));
}

function isUnqueried(leg: ReceiverLeg, network: Network): boolean {
  if (leg.group === undefined) return false;
  const forwarding = network.forwardingOf(leg);
  const node =
    leg.interface?.port === undefined ? undefined : forwarding?.segment.nodeOf.get(leg.interface.port.switch);
  return forwarding !== undefined && node !== undefined && planeOf(forwarding, leg.group).asking[node] === 'nobody';
}

function untakenIn(plan: Plan): readonly Sender[] {
  const taken = new Set(plan.receivers.map((receiver) => receiver.takes));
  return plan.senders.filter((sender) => !taken.has(sender));
}

function unjudgedIn({ plan, network }: FailureModel, judged: ReadonlyMap<Sender, number>): readonly Unjudged[] {
  const found = new Map<
    string,
    { readonly why: UnjudgedWhy; readonly senders: Set<Sender>; readonly receivers: Set<Receiver> }
  >();
  const note = (why: UnjudgedWhy, sender: Sender | undefined, receiver: Receiver): void => {
    const key = `${why.side ?? ''} ${why.lacks}`;
    let entry = found.get(key);
    if (entry === undefined) found.set(key, (entry = { why, senders: new Set(), receivers: new Set() }));
    if (sender !== undefined) entry.senders.add(sender);
    entry.receivers.add(receiver);
  };
  for (const receiverLeg of plan.receiverLegs) {
    const { takes: leg, receiver } = receiverLeg;
    if (leg === undefined) {
      if (receiver.takes === undefined && receiverLeg.group !== undefined)
        note({ side: 'receiver', lacks: 'stream' }, undefined, receiver);
      continue;
    }
    if (receiverLeg.group !== leg.group || wayOf({ leg, receiverLeg }, network) !== undefined) continue;
    const atSender = placeGap(leg, network);
    const atReceiver = placeGap(receiverLeg, network);
    if (atSender !== undefined) note({ side: 'sender', lacks: atSender }, leg.sender, receiver);
    else if (atReceiver !== undefined) note({ side: 'receiver', lacks: atReceiver }, leg.sender, receiver);
    else note({ side: undefined, lacks: isUnqueried(receiverLeg, network) ? 'query' : 'way' }, leg.sender, receiver);
  }
  for (const receiver of plan.receivers) {
    if (receiver.takes !== undefined && !receiver.legs.some((leg) => leg.takes !== undefined))
      note({ side: 'receiver', lacks: 'interface' }, receiver.takes, receiver);
  }
  return [...found.values()].map(({ why, senders, receivers }) => ({
    why,
    whole: [...senders].filter((sender) => !judged.has(sender)),
    inPart: [...senders].filter((sender) => judged.has(sender)),
    receivers: [...receivers],
  }));
}
