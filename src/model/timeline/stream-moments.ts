/** When legs of streams go and come again. */
import { append, groupBy } from '../../collections/group-by.js';
import { kept } from '../../collections/kept.js';
import type { Network as PlanNetwork } from '../../plan/types.js';
import type { Span } from '../../values/span.js';
import {
  protocolOf,
  type Fates,
  type ForwardingSegment,
  type LegFate,
  type QuerierChange,
  type ReceptionFate,
  type ReceptionLeg,
  reportedAmong,
  responseAmong,
  type Removal,
  type TreeTurn,
  TREE_SPANS,
} from '../network/index.js';
import type { Hit, Moment, When } from './moments.js';
import { AT_ONCE, known, lastOf } from './when.js';

/** What else the loss does to the network. */
export interface Around {
  readonly turns: readonly TreeTurn[];
  readonly queriers: readonly QuerierChange[];
}

/** One leg at one moment. */
interface LegEvent {
  readonly fate: ReceptionFate;
  readonly leg: ReceptionLeg;
  readonly when: When;
}

interface OffEvent extends LegEvent {
  readonly back: boolean;
  readonly why: 'loss' | 'ageing';
}

interface OnEvent extends LegEvent {
  readonly by: 'tree' | 'report' | 'routing';
  readonly first: boolean;
}

export function streamMoments({ changed }: Fates, removal: Removal, around: Around): readonly Moment[] {
  const own = changed.filter(({ reception }) => isOwn(reception, removal));
  const off: OffEvent[] = [];
  const on: OnEvent[] = [];
  const spread: Hit[] = [];
  for (const fate of changed) {
    if (isOwn(fate.reception, removal)) continue;
    for (const { pair, fate: what } of fate.legs) {
      const leg = { fate, leg: pair };
      switch (what.kind) {
        case 'stays':
          break;
        case 'shifts':
          spread.push({ reception: fate.reception, legs: [pair] });
          break;
        case 'ends':
          off.push({ ...leg, when: AT_ONCE, back: false, why: 'loss' });
          break;
        case 'fades':
          if (what.grounds.length > 0) {
            off.push({ ...leg, when: AT_ONCE, back: true, why: 'loss' });
            on.push({ ...leg, when: treeWhen(what.grounds, around), by: 'tree', first: false });
          }
          off.push({ ...leg, when: known(what.ageing), back: false, why: 'ageing' });
          break;
        case 'turns':
          off.push({ ...leg, when: AT_ONCE, back: true, why: 'loss' });
          on.push({ ...leg, ...onAgain(pair, what, around), first: false });
          break;
        case 'reroutes':
          off.push({ ...leg, when: AT_ONCE, back: true, why: 'loss' });
          on.push({ ...leg, when: { kind: 'not known', lacks: 'routing' }, by: 'routing', first: false });
          break;
        case 'opens':
          on.push({ ...leg, ...opened(pair, what, around), first: true });
      }
    }
  }
  return [
    ...(own.length === 0
      ? []
      : [
          {
            when: AT_ONCE,
            what: { kind: 'own inputs' as const, receivers: [...new Set(own.map((one) => one.reception.receiver))] },
          },
        ]),
    ...offMoments(off),
    ...onMoments(on),
    ...(spread.length === 0 ? [] : [{ when: AT_ONCE, what: { kind: 'spread anew' as const, hits: spread } }]),
  ];
}

function isOwn({ receiver }: ReceptionFate['reception'], { boxes }: Removal): boolean {
  return boxes.has(receiver.device);
}

type Turned = Extract<LegFate, { readonly kind: 'turns' }>;
type Opened = Extract<LegFate, { readonly kind: 'opens' }>;

function onAgain(pair: ReceptionLeg, { grounds, joins }: Turned, around: Around): Pick<OnEvent, 'when' | 'by'> {
  return joins
    ? { when: reportWhen(pair, grounds, around), by: 'report' }
    : { when: treeWhen(grounds, around), by: 'tree' };
}

function opened(pair: ReceptionLeg, { grounds }: Opened, around: Around): Pick<OnEvent, 'when' | 'by'> {
  const isJoined = pair.leg.group !== undefined;
  return isJoined
    ? { when: reportWhen(pair, grounds, around), by: 'report' }
    : { when: treeWhen(grounds, around), by: 'tree' };
}

/** Until the trees of segments have settled. */
function treeWhen(grounds: readonly ForwardingSegment[], { turns }: Around): When {
  const own = turns.filter((turn) => grounds.some((one) => turn.grounds.includes(one)));
  // A way that turns though no tree does goes where switches run none: nothing tells how.
  if (own.length === 0) return { kind: 'known', ...TREE_SPANS.open, assumed: true };
  return {
    kind: 'known',
    fromS: Math.max(...own.map(({ span }) => span.fromS)),
    toS: Math.max(...own.map(({ span }) => span.toS)),
    assumed: own.some(({ pace }) => pace === 'open' || pace === 'mixed'),
  };
}

/**
 * Until a report has come along the new way: a switch that sees the tree turn may ask at once (RFC 4541 §2.1.1 (4)), the
 * querier asks within its interval, and hosts answer within theirs.
 */
function reportWhen(pair: ReceptionLeg, grounds: readonly ForwardingSegment[], around: Around): When {
  const tree = treeWhen(grounds, around);
  if (tree.kind !== 'known') return tree;
  const ends = grounds.map((forwarding): Span => {
    const protocol = protocolOf(pair.leg.group);
    const settings = forwarding.segment.domain.vlans.flatMap((vlan) => vlan[protocol] ?? []);
    const at = pair.receiverLeg.interface?.port?.switch;
    const change = around.queriers.find(
      (one) =>
        one.forwarding === forwarding && one.protocol === protocol && at !== undefined && one.switches.includes(at),
    );
    const next = change?.takesOver === undefined ? 0 : change.takesOver.toS + responseAmong(settings);
    return { fromS: 0, toS: Math.max(tree.toS + reportedAmong(settings).toS, next) };
  });
  return { ...tree, toS: Math.max(...ends.map(({ toS }) => toS)) };
}

/** Legs a reception has left from a moment on, as far as they go by the same moment or before. */
function offMoments(events: readonly OffEvent[]): readonly Moment[] {
  const byReception = groupBy(events, ({ fate }) => fate);
  const dark = new Map<string, { readonly event: OffEvent; readonly hits: Hit[] }>();
  const less = new Map<
    string,
    { readonly event: OffEvent; readonly kept: readonly PlanNetwork[]; readonly hits: Hit[] }
  >();
  for (const [fate, own] of byReception) {
    const gone = new Set<ReceptionLeg>();
    const opens = fate.legs.some((one) => one.fate.kind === 'opens');
    for (const why of ['loss', 'ageing'] as const) {
      const together = own.filter((one) => one.why === why);
      // What is off only for a while is on again before memberships end.
      for (const { leg } of together) gone.add(leg);
      const left = fate.reception.legs.filter((leg) => !gone.has(leg));
      const [event] = together;
      if (event === undefined) continue;
      const back = together.some((one) => one.back) || opens;
      const when = lastOf(event.when, ...together.map((one) => one.when));
      const hit: Hit = { reception: fate.reception, legs: together.map(({ leg }) => leg) };
      if (left.length === 0) {
        const key = `${event.why} ${String(back)} ${keyOfWhen(when)}`;
        kept(dark, key, () => ({ event: { ...event, when, back }, hits: [] })).hits.push(hit);
        continue;
      }
      const networks = [...new Set(left.flatMap(({ leg }) => leg.network ?? []))];
      for (const one of together) {
        const network = one.leg.leg.network;
        const key = [
          one.why,
          String(one.back),
          keyOfWhen(one.when),
          network?.name ?? '',
          ...networks.map(({ name }) => name).sort(),
        ].join('\n');
        kept(less, key, () => ({ event: one, kept: networks, hits: [] })).hits.push({
          reception: fate.reception,
          legs: [one.leg],
        });
      }
      for (const one of together) if (one.back) gone.delete(one.leg);
    }
  }
  return [
    ...[...dark.values()].map(({ event: { when, back, why }, hits }): Moment => ({
      when,
      what: { kind: 'dark', hits, back, why },
    })),
    ...[...less.values()].map(({ event, kept, hits }): Moment => ({
      when: event.when,
      what: { kind: 'legs off', network: event.leg.leg.network, hits, kept, back: event.back, why: event.why },
    })),
  ];
}

function onMoments(events: readonly OnEvent[]): readonly Moment[] {
  const groups = new Map<string, OnEvent[]>();
  for (const one of events) {
    const { when, by, first, leg, fate } = one;
    const key = [keyOfWhen(when), by, String(first), String(wasDark(fate)), leg.leg.network?.name ?? ''].join('\n');
    append(groups, key, one);
  }
  return [...groups.values()].flatMap((list): readonly Moment[] => {
    const [event] = list;
    if (event === undefined) return [];
    const hits = list.map(({ fate, leg }): Hit => ({ reception: fate.reception, legs: [leg] }));
    const { when, by, first, leg, fate } = event;
    return [{ when, what: { kind: 'legs on', network: leg.leg.network, hits, by, dark: wasDark(fate), first } }];
  });
}

/** Whether a reception has nothing while its legs wait. */
function wasDark({ legs }: ReceptionFate): boolean {
  return !legs.some(
    ({ fate }) =>
      fate.kind === 'stays' || fate.kind === 'shifts' || (fate.kind === 'fades' && fate.grounds.length === 0),
  );
}

function keyOfWhen(when: When): string {
  return when.kind === 'known' ? `${String(when.fromS)} ${String(when.toS)} ${String(when.assumed)}` : when.lacks;
}
