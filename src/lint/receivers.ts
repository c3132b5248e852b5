/** What became of every receiver leg, and which finding says why one is not delivered. */
import { append } from '../collections/group-by.js';
import { byCodeUnit } from '../collections/order.js';
import type { Model } from '../model/model.js';
import { type Denial, type Lack, LACKS, type Taker, type UnreachedWhy, whyUnreached } from '../model/verdicts/index.js';
import type { Leg, Plan, ReceiverLeg, Switch } from '../plan/types.js';
import { legLabel, receiverLegLabel } from '../words/labels.js';
import { linkLabel, portLabel } from '../model/vlans/index.js';
import type { Finding, FindingKey } from './finding.js';
import type { Rule } from './rule.js';

export interface ReceiverVerdicts {
  /** Legs of receivers; a receiver of which not even a leg is known counts as one. */
  readonly legs: number;
  readonly delivered: number;
  readonly notDelivered: readonly NotDelivered[];
  /** One entry a missing fact, the one that most legs wait for first. */
  readonly notFollowed: readonly NotFollowed[];
  /** Sender legs whose rate the plan does not give: every load is at least that much too small. */
  readonly unrated: number;
  /** Legs to one address that are not followed to their end: loads beyond are too small by them. */
  readonly openEnded: number;
}

export interface NotDelivered {
  readonly receiverLeg: ReceiverLeg;
  readonly denial: Denial;
  readonly why: UnreachedWhy;
  /** The finding that explains it; undefined where none does. */
  readonly finding: FindingKey | undefined;
}

export interface NotFollowed {
  readonly lacks: Lack;
  readonly takers: readonly Taker[];
}

/** `findings`: all there are, accepted ones too. */
export function verdictsOf(model: Model, rules: readonly Rule[], findings: readonly Finding[]): ReceiverVerdicts {
  const { legs, delivered, notDelivered, notFollowed, unrated, openEnded } = model.verdicts;
  let known: ReadonlyMap<Switch, readonly string[]> | undefined;
  const linksAt = (): ReadonlyMap<Switch, readonly string[]> => (known ??= linksBySwitch(model.plan));
  const explain = notDelivered.length === 0 ? () => undefined : explainer(rules, findings);
  return {
    legs,
    delivered,
    notDelivered: notDelivered.map(({ receiverLeg, leg, fate, denial }) => ({
      receiverLeg,
      denial,
      why: whyUnreached(fate, leg, receiverLeg, model),
      finding: explain(denial, [
        ...namesAround(leg, receiverLeg),
        ...(denial === 'no link' || denial === 'blocked link' ? linkNames(leg, receiverLeg, linksAt()) : []),
      ]),
    })),
    notFollowed: [...notFollowed]
      .map(([lacks, takers]) => ({ lacks, takers }))
      .sort((a, b) => b.takers.length - a.takers.length || LACKS.indexOf(a.lacks) - LACKS.indexOf(b.lacks)),
    unrated,
    openEnded,
  };
}

/** Finds the finding of a rule that explains such a denial and names somebody concerned, the nearest first. */
function explainer(
  rules: readonly Rule[],
  findings: readonly Finding[],
): (denial: Denial, names: readonly string[]) => FindingKey | undefined {
  const denialsOf = new Map(rules.flatMap(({ id, explains }) => (explains === undefined ? [] : [[id, explains]])));
  const byName = new Map<Denial, Map<string, FindingKey>>();
  const sorted = findings
    .filter(({ rule }) => denialsOf.has(rule))
    .toSorted((a, b) => byCodeUnit(a.rule, b.rule) || byCodeUnit(a.subject, b.subject));
  for (const { rule, subject, parties, touch } of sorted) {
    for (const denial of denialsOf.get(rule) ?? []) {
      const own = byName.get(denial) ?? new Map<string, FindingKey>();
      byName.set(denial, own);
      for (const name of [...parties, touch.name]) if (!own.has(name)) own.set(name, { rule, subject });
    }
  }
  return (denial, names) => {
    const own = byName.get(denial);
    for (const name of own === undefined ? [] : names) {
      const found = own?.get(name);
      if (found !== undefined) return found;
    }
    return undefined;
  };
}

/** Links and their ports at each switch: where a VLAN does not get on, they may be why. */
function linksBySwitch({ links }: Plan): ReadonlyMap<Switch, readonly string[]> {
  const found = new Map<Switch, string[]>();
  for (const link of links) {
    const names = [linkLabel(link), ...link.ends.flatMap(({ port }) => (port === undefined ? [] : [portLabel(port)]))];
    for (const end of link.ends)
      if (end.switch !== undefined) for (const name of names) append(found, end.switch, name);
  }
  return found;
}

function linkNames(
  leg: Leg | undefined,
  receiverLeg: ReceiverLeg,
  linksAt: ReadonlyMap<Switch, readonly string[]>,
): readonly string[] {
  return [receiverLeg, leg].flatMap((one) => {
    const at = one?.interface?.port?.switch;
    return at === undefined ? [] : (linksAt.get(at) ?? []);
  });
}

/** Whatever a finding may name of a leg and its receiver, the receiver's own first. */
function namesAround(leg: Leg | undefined, receiverLeg: ReceiverLeg): readonly string[] {
  const { receiver } = receiverLeg;
  return [
    receiverLegLabel(receiverLeg),
    receiver.label,
    ...(leg === undefined ? [] : [legLabel(leg), leg.sender.label]),
    ...[receiverLeg, leg].flatMap((one) => {
      const via = one?.interface;
      return via === undefined
        ? []
        : [`${via.device.name} ${via.name}`, ...(via.port === undefined ? [] : [portLabel(via.port)])];
    }),
    ...[receiverLeg, leg].flatMap((one) => one?.vlan?.name ?? []),
    ...[receiver.device, leg?.sender.device].flatMap((one) => one?.name ?? []),
  ];
}
